"""The look of a build sheet on paper and on the screen: one style sheet, no colour that carries a meaning alone."""

from gardenframe.output.markup import in_css

PAGE_MM = "15mm 14mm 17mm"
FOOT = "font: 8pt system-ui, sans-serif; color: #444;"
TALLEST_MM = 228  # of a drawing: a Letter page less margins, heading and caption


def style(running: str) -> str:
    """Return the style sheet; `running` stands at the foot of every page beside its number."""
    return f"""
@page {{ margin: {PAGE_MM};
  @bottom-left {{ content: {in_css(running)}; {FOOT} }}
  @bottom-right {{ content: "Page " counter(page) " of " counter(pages); {FOOT} }} }}
* {{ box-sizing: border-box; }}
html {{ color: #1f2a33; background: #fff; -webkit-print-color-adjust: exact; print-color-adjust: exact; }}
body {{ margin: 0; font: 9.5pt/1.4 system-ui, -apple-system, "Segoe UI", Roboto, "Noto Sans", "Liberation Sans", Arial,
  sans-serif; font-variant-numeric: tabular-nums; }}
h1 {{ font-size: 20pt; line-height: 1.15; margin: 0; overflow-wrap: anywhere; }}
h2 {{ font-size: 13pt; line-height: 1.2; margin: 16pt 0 5pt; padding-top: 4pt; border-top: 1.5pt solid #1f2a33;
  break-after: avoid; }}
h2 + p {{ break-after: avoid; }}
h3 {{ font-size: 10pt; margin: 9pt 0 2pt; break-after: avoid; }}
p {{ margin: 0 0 5pt; break-inside: avoid; }}
.under {{ color: #444; margin: 2pt 0 8pt; }}
.lead {{ font-weight: 600; }}
.note {{ color: #444; font-size: 8.5pt; }}
.warning {{ border: 1.2pt solid #8a3000; padding: 3pt 7pt; font-weight: 600; break-inside: avoid; }}
.top {{ display: grid; grid-template-columns: 330px 1fr; gap: 14pt; align-items: center; margin-bottom: 6pt; }}
.top figure {{ margin: 0; }}
.top .facts {{ display: block; }}
.facts {{ margin: 0 0 6pt; display: grid; grid-template-columns: 1fr 1fr; column-gap: 16pt; }}
.facts div {{ display: flex; justify-content: space-between; gap: 10pt; border-bottom: 0.5pt solid #c3cad0;
  padding: 1.5pt 0; break-inside: avoid; }}
.facts dt {{ color: #444; }}
.facts dd {{ margin: 0; text-align: right; font-weight: 600; }}
ul {{ margin: 0 0 6pt; padding-left: 14pt; }}
ul.plain {{ columns: 2; column-gap: 16pt; }}
ul.tick {{ list-style: none; padding-left: 0; }}
ul.tick li {{ padding-left: 17pt; text-indent: -17pt; }}
li {{ margin: 0 0 3pt; break-inside: avoid; }}
.tick:not(ul) {{ display: inline-block; width: 8.5pt; height: 8.5pt; border: 0.8pt solid #1f2a33; margin: 0 4pt 1.5pt 0;
  vertical-align: middle; text-indent: 0; }}
ul.tick .tick {{ margin-right: 8.5pt; }}
figure {{ margin: 4pt 0 8pt; break-inside: avoid; }}
figure.half svg {{ max-height: 104mm; }}
figure svg {{ display: block; width: 100%; height: auto; max-height: {TALLEST_MM}mm; margin: 0 auto; }}
table {{ border-collapse: collapse; width: 100%; margin: 4pt 0 7pt; font-size: 9pt; line-height: 1.3; }}
caption {{ text-align: left; font-weight: 600; padding: 2pt 0; caption-side: top; break-after: avoid; }}
thead {{ display: table-header-group; }}
tr {{ break-inside: avoid; }}
table:not(:has(tbody tr:nth-child(19))), #before {{ break-inside: avoid; }}
section:has(tbody tr:nth-child(19)) {{ break-before: page; }}
section:has(tbody tr:nth-child(19)) > h2 {{ margin-top: 0; }}
table + .note {{ break-before: avoid; }}
th {{ text-align: left; vertical-align: bottom; font-weight: 600; border-bottom: 1pt solid #1f2a33; padding: 2pt 5pt; }}
td {{ vertical-align: top; border-bottom: 0.4pt solid #c3cad0; padding: 2pt 5pt; overflow-wrap: break-word; }}
th:first-child, td:first-child {{ padding-left: 0; }}
th:last-child, td:last-child {{ padding-right: 0; }}
.n {{ text-align: right; white-space: nowrap; }}
th.n {{ white-space: normal; }}
.unit {{ color: #444; font-weight: 400; white-space: nowrap; }}
.ticks {{ width: 1%; white-space: nowrap; line-height: 1.35; }}
table.close {{ font-size: 8.2pt; line-height: 1.22; }}
.ticks .tick {{ margin: 0 2.5pt 1pt 0; }}
.total {{ break-before: avoid; }}
.total td {{ font-weight: 600; border-top: 1pt solid #1f2a33; border-bottom: 0; }}
.write {{ break-inside: avoid; }}
.write td {{ height: 19pt; }}
.write th:first-child {{ width: 25%; }}
.step {{ break-inside: avoid; margin: 0 0 5pt; padding-left: 8pt; border-left: 1.5pt solid #c3cad0; }}
.step p {{ margin: 0; padding-left: 12pt; text-indent: -12pt; orphans: 1; widows: 1; overflow-wrap: break-word; }}
sub {{ font-size: 75%; line-height: 0; }}
@media print {{ .screen {{ display: none; }} .fresh {{ break-before: page; }} .fresh > h2 {{ margin-top: 0; }} }}
@media screen {{ main {{ max-width: 740px; margin: 0 auto; padding: 16px 16px 40px; }}
  .screen {{ background: #eef2f5; padding: 6pt 9pt; }} }}
@media (max-width: 560px) {{ .top, .facts {{ grid-template-columns: 1fr; }} ul.plain {{ columns: 1; }}
  table {{ display: block; overflow-x: auto; }} }}
"""
