"""A link that opens a page just written, made in the browser itself: it holds wherever the server keeps its files."""

import anywidget

SCRIPT = """
export default {
  render({ model, el }) {
    let address = '';
    const forget = () => { if (address) URL.revokeObjectURL(address); address = ''; el.replaceChildren(); };
    const show = message => {
      forget();
      if (!message.page) return;
      address = URL.createObjectURL(new Blob([message.page], { type: 'text/html' }));
      const link = document.createElement('a');
      link.href = address; link.target = '_blank'; link.rel = 'noopener'; link.textContent = message.label;
      el.append(link);
    };
    model.on('msg:custom', show);
    return () => { model.off('msg:custom', show); forget(); };
  }
};
"""


class Opener(anywidget.AnyWidget):
    """A place for one link. A page is sent to the browser and never kept in the workbook."""

    _esm = SCRIPT

    def offer(self, page: str, label: str) -> None:
        """Show a link that opens a page of HTML in a tab of its own."""
        self.send({"page": page, "label": label})

    def clear(self) -> None:
        """Take the link away."""
        self.send({"page": ""})
