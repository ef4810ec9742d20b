"""What only the browser knows or can do: names for screen readers, how wide the results stand, whether a kernel lives.

A widget without a face. Its script reads the labels on the page and writes them where ipywidgets gives none (slider
handles, help by its box, headings that open), and tells the width of the results, so that a drawing fits it. Where
the kernel has ended it says so on the panel and stills its controls, since nobody else can: no kernel is left to ask.
"""

import json

import anywidget
import traitlets

from gardenframe.teaching.start import CUT_OFF, STOPPED

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
  for (const card of root.querySelectorAll('.gf-asked')) {
    const title = card.querySelector('.gf-title, .gf-ask p');
    if (title) { card.setAttribute('role', 'group'); card.setAttribute('aria-label', title.textContent); }
    card.querySelector('.gf-said')?.setAttribute('aria-live', 'polite');
  }
  const bar = root.querySelector('.gf-units .widget-label'), group = root.querySelector('.gf-units');
  if (bar && group) { group.setAttribute('role', 'group'); group.setAttribute('aria-label', bar.textContent); }
}
const ENDED = ['dead', 'restarting', 'autorestarting', 'terminating'];
function watch(kernel, root) {
  let ended = false;
  const say = sentence => {
    root.querySelector(':scope > .gf-ended')?.remove();
    const columns = root.querySelector('.gf-columns, .gf-questions');
    root.classList.toggle('gf-stopped', Boolean(sentence));
    if (columns) columns.inert = Boolean(sentence);
    if (!sentence) return;
    const line = document.createElement('div');
    line.className = 'gf-ended gf-error';
    line.setAttribute('role', 'alert');
    line.textContent = '\\u2717 ' + sentence;
    root.prepend(line);
  };
  const look = () => {
    ended = ended || ENDED.includes(kernel.status);
    if (ended) say(STOPPED);
    else if (kernel.connectionStatus === 'connected') say('');
    else if (kernel.status === 'unknown') say(CUT_OFF);
  };
  const end = () => { ended = true; say(STOPPED); };
  kernel.statusChanged?.connect(look);
  kernel.connectionStatusChanged?.connect(look);
  kernel.disposed?.connect(end);
  return () => { kernel.statusChanged?.disconnect(look); kernel.connectionStatusChanged?.disconnect(look);
    kernel.disposed?.disconnect(end); };
}
export default {
  render({ model, el }) {
    let waiting = 0, later = 0, watcher = null, sizer = null, unwatch = null;
    const start = () => {
      const root = el.closest('.gf-panel, .gf-practice');
      if (!root) { waiting = requestAnimationFrame(start); return; }
      const soon = () => { cancelAnimationFrame(waiting); waiting = requestAnimationFrame(() => name(root)); };
      watcher = new MutationObserver(soon);
      for (const part of root.querySelectorAll('.gf-controls, .gf-questions'))
        watcher.observe(part, { childList: true, subtree: true });
      for (const head of root.querySelectorAll('button.gf-head'))
        watcher.observe(head, { attributes: true, attributeFilter: ['class'] });
      name(root);
      const kernel = model.widget_manager?.kernel;
      if (kernel) unwatch = watch(kernel, root);
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
      if (unwatch) unwatch(); if (watcher) watcher.disconnect(); if (sizer) sizer.disconnect(); };
  }
};
""".replace("STOPPED", json.dumps(STOPPED)).replace("CUT_OFF", json.dumps(CUT_OFF))


class Names(anywidget.AnyWidget):
    """Names what is in its panel, says there when the kernel has ended; `width_px` is that of the results."""

    _esm = SCRIPT
    width_px = traitlets.Int(820).tag(sync=True)
