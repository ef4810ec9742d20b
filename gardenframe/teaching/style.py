"""The look of a panel: one style sheet. Two columns to 1,180 px, one on a narrow page; contrast 4.5 to 1 or more.

Colours are of the Okabe-Ito palette, darkened where they carry text; none carries a meaning alone.
"""

INK, QUIET, LINE, BLUE, RED, PAPER, WASH = "#1b1b1b", "#555555", "#d5d9dd", "#00598c", "#a33b00", "#ffffff", "#f5f7f9"

CSS = f"""<style>
.gf-panel {{ max-width: 1180px; container-type: inline-size; background: {PAPER}; color: {INK}; color-scheme: light;
  padding: 12px 16px 16px; box-sizing: border-box; border: 1px solid {LINE}; border-radius: 6px;
  font: 14px/1.45 system-ui, -apple-system, "Segoe UI", Roboto, "Helvetica Neue", Arial, sans-serif;
  font-variant-numeric: tabular-nums;
  --jp-widgets-font-size: 14px; --jp-widgets-inline-height: 30px; --jp-widgets-inline-width: auto;
  --jp-widgets-inline-label-width: auto; --jp-widgets-margin: 0px; --jp-widgets-color: {INK};
  --jp-widgets-label-color: {INK}; --jp-widgets-readout-color: {INK}; --jp-widgets-input-color: {INK};
  --jp-widgets-input-background-color: {PAPER}; --jp-widgets-input-border-color: #767676;
  --jp-widgets-input-focus-border-color: {BLUE}; --jp-widgets-slider-handle-background-color: {BLUE};
  --jp-widgets-slider-active-handle-color: {INK}; --jp-widgets-slider-handle-border-color: {BLUE};
  --jp-widgets-slider-track-thickness: 4px; --jp-widgets-slider-handle-size: 18px; --jp-brand-color1: {BLUE};
  --jp-ui-font-color0: {INK}; --jp-ui-font-color1: {INK}; --jp-layout-color1: {PAPER}; --jp-layout-color2: {WASH};
  --jp-border-color1: #767676; --jp-ui-font-size1: 14px; }}
.gf-panel .widget-box {{ overflow: visible; }}
.gf-panel .widget-html, .gf-panel .widget-htmlmath {{ width: auto; height: auto; margin: 0; align-items: stretch; }}
.gf-panel .widget-html-content {{ line-height: 1.45; white-space: normal; flex: 1 1 auto; min-width: 0;
  overflow: visible; }}
.gf-panel .widget-html > .widget-label, .gf-panel .widget-htmlmath > .widget-label {{ display: none; }}
.gf-style {{ display: none !important; }}
.gf-names {{ display: none !important; }}
.gf-panel :focus-visible {{ outline: 3px solid #e69f00; outline-offset: 1px; }}
.gf-panel input::placeholder {{ color: {QUIET}; }}

.gf-bar {{ display: flex; flex-flow: row wrap; gap: 8px 24px; align-items: center; padding-bottom: 12px;
  margin-bottom: 16px; border-bottom: 1px solid {LINE}; }}
.gf-bar > * {{ flex: 0 1 auto; height: auto; }}
.gf-bar .widget-label {{ font-weight: 600; padding-right: 8px; }}
.gf-panel .gf-bar .widget-dropdown {{ flex: 1 1 300px; min-width: 0; max-width: min(480px, 100%); height: 30px;
  align-items: center; }}
.gf-bar .widget-dropdown select {{ font: inherit; height: 30px; border-radius: 3px; flex: 1 1 0; width: 0; min-width: 0;
  text-overflow: ellipsis; }}
.gf-panel .gf-bar .gf-units {{ display: flex; flex-flow: row nowrap; align-items: center; width: auto; }}
.gf-bar .widget-toggle-button {{ width: auto; padding: 0 12px; }}
.gf-bar .widget-toggle-button.mod-active {{ background: {BLUE}; color: #fff; box-shadow: none; font-weight: 600; }}
.gf-panel .gf-status {{ margin-left: auto; min-width: 88px; color: {QUIET}; }}

.gf-columns {{ display: flex; flex-flow: row wrap; gap: 24px; align-items: flex-start; }}
.gf-controls {{ flex: 1 1 300px; min-width: 0; gap: 14px; }}
.gf-results {{ flex: 999 1 460px; min-width: 0; }}
.gf-panel > *, .gf-panel .gf-controls > *, .gf-panel .gf-inputs > *, .gf-panel .gf-results > * {{ flex: 0 0 auto; }}
.gf-fields {{ display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 270px), 1fr));
  gap: 14px 24px; align-items: start; }}
@container (min-width: 800px) {{
  .gf-panel .gf-controls {{ flex: 0 0 320px; position: sticky; top: 4px; max-height: calc(100vh - 110px);
    overflow-y: auto; padding: 2px 10px 2px 2px; margin: -2px -10px 0 -2px; scrollbar-width: thin; }} }}
.gf-panel .gf-above .gf-controls {{ flex: 1 1 100%; position: static; max-height: none; overflow: visible; padding: 0;
  margin: 0; }}
.gf-above .gf-fields {{ grid-template-columns: repeat(auto-fill, minmax(min(100%, 220px), 1fr)); }}
.gf-above .gf-field .widget-text {{ flex-flow: column nowrap; height: auto; align-items: stretch; gap: 3px; }}
.gf-panel .gf-above .gf-field .widget-text input {{ flex: 0 0 30px; width: 100%; text-align: left; }}
.jp-Cell-outputWrapper:has(.gf-panel), .jp-Cell-outputArea:has(.gf-panel), .jp-OutputArea-child:has(.gf-panel),
.jp-OutputArea-output:has(.gf-panel), .jp-OutputArea-output:has(.gf-panel) > .lm-Panel {{
  overflow: visible !important; }}

.gf-field {{ min-width: 0; }}
.gf-field .widget-text {{ height: auto; min-height: 30px; align-items: center; }}
.gf-field .widget-text .widget-label, .gf-field .widget-dropdown .widget-label {{ flex: 1 1 auto; font-weight: 600;
  text-align: left; white-space: normal; line-height: 1.25; padding: 0 8px 0 0; height: auto; width: auto; }}
.gf-field .widget-text input {{ flex: 0 0 132px; width: 132px; text-align: right; font: inherit; height: 30px;
  border-radius: 3px; font-variant-numeric: tabular-nums; }}
.gf-field .widget-dropdown {{ height: auto; flex-flow: column nowrap; align-items: stretch; gap: 3px; }}
.gf-field .widget-dropdown select {{ font: inherit; height: 30px; border-radius: 3px; min-width: 0; flex: 0 0 30px; }}
.gf-field .gf-ticked {{ overflow: visible; }}
.gf-field .gf-ticks-name {{ font-weight: 600; line-height: 1.25; }}
.gf-panel .gf-field .gf-ticks {{ display: grid; grid-template-columns: repeat(auto-fill, minmax(134px, 1fr));
  gap: 1px 8px; overflow: visible; }}
.gf-field .gf-ticks .widget-checkbox {{ height: auto; min-height: 25px; align-items: flex-start; }}
.gf-field .gf-ticks .widget-checkbox .widget-label-basic {{ display: flex; gap: 4px; font-weight: 400;
  line-height: 1.25; white-space: normal; height: auto; align-items: flex-start; }}
.gf-field .widget-checkbox {{ width: auto; height: 26px; }}
.gf-field .widget-checkbox .widget-label {{ display: none; }}
.gf-field .widget-checkbox .widget-label-basic {{ font-weight: 600; gap: 8px; width: auto; }}
.gf-field .widget-slider {{ height: 22px; margin: 3px 0 1px; }}
.gf-field .widget-slider .widget-label {{ position: absolute; width: 1px; height: 1px; overflow: hidden;
  clip-path: inset(50%); white-space: nowrap; }}
.gf-field .widget-slider .slider-container {{ margin: 0 9px; overflow: visible; }}
.gf-field .gf-help {{ color: {QUIET}; font-size: 12.5px; line-height: 1.35; }}
.gf-field.gf-wrong .widget-text input {{ border: 2px solid {RED}; background: #fff6f2; }}
.gf-error {{ color: {RED}; border-left: 4px solid {RED}; background: #fff6f2; padding: 6px 10px; margin: 6px 0;
  font-weight: 600; }}

.gf-panel .gf-keep {{ display: flex; flex-flow: row wrap; gap: 8px 12px; align-items: center; margin: 0 0 10px; }}
.gf-panel .gf-keep .widget-text {{ flex: 1 1 260px; max-width: 420px; height: 34px; align-items: center; }}
.gf-panel .gf-keep .widget-text .widget-label {{ font-weight: 600; padding-right: 8px; }}
.gf-panel .gf-keep .widget-text input {{ height: 32px; font: inherit; border-radius: 3px; }}
.gf-panel .gf-keep button {{ width: auto; height: 34px; padding: 0 14px; font: inherit; background: {WASH};
  color: {INK}; border: 1px solid #767676; border-radius: 4px; box-shadow: none; }}
.gf-panel .gf-keep button.mod-primary {{ background: {BLUE}; color: #fff; border-color: {BLUE}; font-weight: 600; }}
.gf-panel .gf-opener a {{ color: {BLUE}; text-decoration: underline; font-weight: 600; }}
.gf-panel .gf-offers {{ margin-top: 10px; }}

.gf-stopped .gf-columns, .gf-stopped .gf-questions, .gf-stopped .gf-bar, .gf-stopped .gf-saving {{ opacity: 0.35;
  pointer-events: none; }}

.gf-panel .noUi-target .noUi-connect {{ background: {BLUE}; }}
.gf-panel .noUi-target .noUi-handle {{ background: {BLUE}; border: 2px solid #fff; box-shadow: 0 0 0 1px {BLUE};
  cursor: grab; }}
.gf-panel .noUi-target {{ background: #c9d1d8; border: 0; box-shadow: none; }}
.gf-inputs {{ gap: 14px; }}
.gf-groups {{ gap: 6px; }}

.gf-fold {{ min-width: 0; }}
.gf-panel button.gf-head {{ width: 100%; height: auto; min-height: 34px; text-align: left; padding: 5px 10px; margin: 0;
  background: {WASH}; border: 1px solid {LINE}; border-radius: 4px; color: {INK}; font: inherit; font-weight: 600;
  line-height: 1.3; box-shadow: none; white-space: normal; }}
.gf-panel button.gf-head.mod-active {{ background: #e8eef3; border-color: #b9c6d0; }}
.gf-panel button.gf-head:hover {{ background: #e0e8ee; box-shadow: none; }}
.gf-panel button.gf-head i {{ width: 16px; color: {BLUE}; }}
.gf-body {{ padding: 12px 2px 4px; }}
.gf-controls .gf-body {{ padding: 12px 0 4px; }}

.gf-sections {{ display: grid; grid-template-columns: repeat(2, minmax(0, 1fr)); gap: 10px; align-items: start; }}
.gf-sections > .gf-wide {{ grid-column: 1 / -1; }}
.gf-results {{ container-type: inline-size; gap: 10px; }}
@container (max-width: 640px) {{ .gf-sections > .gf-fold {{ grid-column: 1 / -1; }} }}

.gf-cards {{ display: grid; grid-template-columns: repeat(6, minmax(0, 1fr)); gap: 8px; }}
@container (max-width: 790px) {{ .gf-cards {{ grid-template-columns: repeat(3, minmax(0, 1fr)); }} }}
@container (max-width: 460px) {{ .gf-cards {{ grid-template-columns: repeat(2, minmax(0, 1fr)); }} }}
.gf-card {{ border: 1px solid {LINE}; border-radius: 4px; padding: 7px 10px 8px; min-width: 0; }}
.gf-card strong {{ display: block; font-size: 19px; line-height: 1.35; white-space: nowrap; }}
@container (max-width: 540px) {{ .gf-card strong {{ font-size: 16px; }} }}
.gf-quiet {{ color: {QUIET}; font-size: 12.5px; line-height: 1.3; }}

.gf-scroll {{ overflow-x: auto; }}
.gf-panel table.gf-table {{ border-collapse: collapse; width: 100%; margin: 0; font: inherit; border: 0;
  table-layout: auto; }}
.gf-panel .gf-table caption {{ position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }}
.gf-panel .gf-table th {{ font-weight: 600; text-align: left; vertical-align: bottom; padding: 3px 8px;
  border-bottom: 2px solid #8b949b; background: none; line-height: 1.25; }}
.gf-panel .gf-table td {{ text-align: left; vertical-align: top; padding: 4px 8px; border-bottom: 1px solid #e7eaec;
  background: none; white-space: normal; max-width: none; }}
.gf-panel .gf-table .gf-n {{ text-align: right; white-space: nowrap; }}
.gf-panel .gf-table th.gf-n {{ white-space: normal; }}
.gf-panel .gf-table tr > :first-child {{ padding-left: 2px; }}
.gf-panel .gf-table tr > :last-child {{ padding-right: 2px; }}
.gf-panel .gf-table tbody tr {{ background: none; }}
.gf-panel .gf-table tfoot td {{ font-weight: 600; border-top: 2px solid #8b949b; border-bottom: 0; }}
.gf-panel .gf-unit {{ color: {QUIET}; font-weight: 400; white-space: nowrap; }}
.gf-panel h4 {{ font: inherit; font-weight: 600; margin: 10px 0 4px; }}
.gf-panel h4:first-child {{ margin-top: 0; }}
.gf-list {{ margin: 0; padding-left: 20px; columns: 2 300px; column-gap: 32px; }}
.gf-list li {{ margin: 0 0 6px; break-inside: avoid; }}
.gf-lead {{ font-size: 17px; font-weight: 600; margin: 2px 0 10px; }}
.gf-note {{ color: {QUIET}; font-size: 12.5px; margin: 6px 0 0; max-width: 90ch; }}
.gf-warning {{ border-left: 4px solid #e69f00; background: #fff8e8; padding: 6px 10px; margin: 0 0 6px; }}
.gf-paged {{ gap: 10px; }}
.gf-note + .gf-scroll, .gf-note + svg {{ margin-top: 10px; }}
.gf-drawing svg {{ width: 100%; height: auto; max-width: 100%; display: block; }}
.gf-math mjx-container {{ margin: 2px 0 6px !important; text-align: left !important; font-size: 100% !important; }}
.gf-math .widget-html-content, .gf-math .widget-htmlmath-content {{ overflow-x: auto; box-sizing: border-box;
  max-width: 100%; min-width: 0; margin: 0; }}
.gf-blank {{ border: 1px dashed #767676; border-radius: 4px; padding: 28px 16px; text-align: center; color: {QUIET}; }}
@container (max-width: 600px) {{
  .gf-panel .gf-stack thead {{ display: none; }}
  .gf-panel table.gf-stack, .gf-panel .gf-stack tbody, .gf-panel .gf-stack tr {{ display: block; }}
  .gf-panel .gf-stack tr {{ padding: 5px 0; border-bottom: 1px solid #e7eaec; }}
  .gf-panel .gf-stack td, .gf-panel .gf-stack td.gf-n {{ display: inline; padding: 0; border: 0; white-space: normal;
    overflow-wrap: anywhere; }}
  .gf-panel .gf-stack td:first-child {{ display: block; font-weight: 600; }}
  .gf-panel .gf-stack td:empty {{ display: none; }}
  .gf-panel .gf-stack td:not(:first-child)::before {{ content: attr(data-label) ": "; color: {QUIET}; }}
  .gf-panel .gf-stack td:not(:first-child)::after {{ content: " " attr(data-unit) " \\b7  "; color: {QUIET}; }}
  .gf-panel .gf-stack td:last-child::after {{ content: " " attr(data-unit); }}
}}
@container (max-width: 480px) {{
  .gf-panel table.gf-table {{ font-size: 12px; }}
  .gf-panel .gf-table th, .gf-panel .gf-table td {{ padding: 3px; }}
  .gf-panel .gf-table td.gf-n {{ white-space: normal; }}
  .gf-panel .gf-math {{ font-size: 12px; }}
}}
@media (prefers-reduced-motion: reduce) {{ .gf-panel * {{ transition: none !important; }} }}
@media print {{ .gf-controls, .gf-bar {{ display: none !important; }} .gf-panel {{ border: 0; }} }}
</style>"""
