"""What only the browser knows or can do: names for screen readers, and how wide the results stand.

A widget without a face. Its script reads the labels on the page and writes them where ipywidgets gives none (slider
handles, help by its box, headings that open), and tells the width of the results, so that a drawing fits it.
"""

import anywidget
import traitlets

SCRIPT = """
function name(root) {
  let n = 0;
  for (const field of root.querySelectorAll('.gf-field')) {
    const label = field.querySelector('.widget-label'), help = field.querySelector('.gf-help');
    const entry = field.querySelector('input, select');
    const error = field.querySelector('.gf-error');
    if (!label || !entry) continue;
    if (help && !help.id) help.id = 'gf-help-' + Math.random().toString(36).slice(2);
    if (help) entry.setAttribute('aria-describedby', help.id);
    if (error) entry.setAttribute('aria-invalid', 'true'); else entry.removeAttribute('aria-invalid');
    const handle = field.querySelector('.noUi-handle');
    if (handle) {
      handle.setAttribute('aria-label', label.textContent);
      handle.setAttribute('aria-valuetext', entry.value);
    }
  }
  for (const head of root.querySelectorAll('button.gf-head')) {
    head.setAttribute('aria-expanded', head.classList.contains('mod-active') ? 'true' : 'false');
    head.removeAttribute('aria-pressed');
  }
  const bar = root.querySelector('.gf-units .widget-label'), group = root.querySelector('.gf-units');
  if (bar && group) { group.setAttribute('role', 'group'); group.setAttribute('aria-label', bar.textContent); }
}
export default {
  render({ model, el }) {
    let waiting = 0, later = 0, watcher = null, sizer = null;
    const start = () => {
      const root = el.closest('.gf-panel');
      if (!root) { waiting = requestAnimationFrame(start); return; }
      const soon = () => { cancelAnimationFrame(waiting); waiting = requestAnimationFrame(() => name(root)); };
      watcher = new MutationObserver(soon);
      for (const part of root.querySelectorAll('.gf-controls'))
        watcher.observe(part, { childList: true, subtree: true });
      for (const head of root.querySelectorAll('button.gf-head'))
        watcher.observe(head, { attributes: true, attributeFilter: ['class'] });
      name(root);
      const results = root.querySelector('.gf-results');
      if (!results) return;
      sizer = new ResizeObserver(() => {
        clearTimeout(later);
        later = setTimeout(() => {
          const width = 10 * Math.floor(results.clientWidth / 10);
          if (width > 0 && width !== model.get('width_px')) { model.set('width_px', width); model.save_changes(); }
        }, 150);
      });
      sizer.observe(results);
    };
    waiting = requestAnimationFrame(start);
    return () => { cancelAnimationFrame(waiting); clearTimeout(later);
      if (watcher) watcher.disconnect(); if (sizer) sizer.disconnect(); };
  }
};
"""


class Names(anywidget.AnyWidget):
    """Writes the names that screen readers say into the panel it stands in; `width_px` is that of its results."""

    _esm = SCRIPT
    width_px = traitlets.Int(820).tag(sync=True)
