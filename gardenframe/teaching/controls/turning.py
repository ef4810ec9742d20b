"""The frame that a reader turns round, with its charts: the page draws again, whole, whatever was sent last.

Plotly's own live figure comes with its whole script, which a slow machine takes longer to read than the two seconds
that a page allows a widget; it is then drawn once and hears of no change, so that a reader moves a slider and goes on
seeing the old frame. Here the widget is small and ready at once, and fetches plotly's script before it first draws.
"""

from collections.abc import Mapping
from typing import Any

import anywidget
import traitlets

DRAWS = """
const fetched = script => globalThis.gardenframePlotly ??= new Promise((done, failed) => {
  const before = window.Plotly, tag = document.createElement('script');
  tag.src = URL.createObjectURL(new Blob([script], { type: 'text/javascript' }));
  tag.onload = () => { done(window.Plotly); if (before) window.Plotly = before; };
  tag.onerror = failed;
  document.head.append(tag);
});
export default {
  render({ model, el }) {
    const box = document.createElement('div');
    el.append(box);
    let plotly = null, waits = false, gone = false, before = fetched(model.get('script')).then(it => { plotly = it; });
    const draw = () => {
      if (waits) return;
      waits = true;
      before = before.catch(error => console.error(error)).then(() => {
        waits = false;
        if (gone) return undefined;
        const { data, layout } = structuredClone(model.get('figure'));
        return plotly.react(box, data, layout, { displaylogo: false });
      });
    };
    model.on('change:figure', draw);
    draw();
    return () => { gone = true; model.off('change:figure', draw); plotly?.purge(box); };
  }
};
"""


def turning(script: str, figure: Mapping[str, Any]) -> Any:
    """Return the live figure, drawn by plotly's script; its `figure` is what is seen, `data` and `layout`."""
    return _Turning(script=script, figure=dict(figure))


class _Turning(anywidget.AnyWidget):
    _esm = DRAWS
    script = traitlets.Unicode().tag(sync=True)
    figure = traitlets.Dict().tag(sync=True)
