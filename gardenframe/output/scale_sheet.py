"""A scale model on paper: lists, bars to lay a straw on, and the three views true to scale, tiled where they must be.

A `ScaleModel` comes in, one HTML page goes out whose drawings are in real millimetres. Every sheet that is true to
scale carries a bar of 100 mm to measure after printing. Sheets fit A4 and Letter.
"""

from collections.abc import Iterable, Iterator
from datetime import date

from gardenframe import units
from gardenframe.geometry.scene import VIEWS
from gardenframe.output.markup import Column, escape, table
from gardenframe.output.projection import AXES, reach, shapes
from gardenframe.output.scale_model import ModelPiece, ScaleModel, sheet_count

WIDE_MM, TALL_MM = 187.0, 230.0  # of a drawing: what both A4 and Letter leave beside margins, heading and bar
BAR_MM = 100.0  # the check bar
INK, TINT, FAINT = "#1f2a33", "#d7dee4", "#8b949b"
TITLES = {"front": "Front", "side": "Side, from the right", "plan": "Plan, from above"}
STYLE = """
@page { margin: 12mm 11.5mm 13mm; @bottom-right { content: "Page " counter(page) " of " counter(pages);
  font: 8pt system-ui, sans-serif } }
* { box-sizing: border-box } body { margin: 0 auto; max-width: 187mm; color: #1f2a33; background: #fff;
  font: 9.5pt/1.4 system-ui, -apple-system, "Segoe UI", Roboto, "Noto Sans", "Liberation Sans", Arial, sans-serif;
  font-variant-numeric: tabular-nums }
h1 { font-size: 18pt; line-height: 1.15; margin: 0 0 4pt }
h2 { font-size: 12pt; margin: 12pt 0 3pt; break-after: avoid }
p { margin: 0 0 5pt } .note { color: #444; font-size: 8.5pt } svg { display: block; overflow: visible }
table { border-collapse: collapse; width: 100%; margin: 3pt 0 6pt } thead { display: table-header-group }
caption { text-align: left; font-weight: 600 } tr { break-inside: avoid } th { text-align: left; font-weight: 600;
  border-bottom: 1pt solid #1f2a33; padding: 1.5pt 5pt 1.5pt 0; vertical-align: bottom }
td { border-bottom: 0.4pt solid #c3cad0; padding: 1.5pt 5pt 1.5pt 0; vertical-align: top }
.n { text-align: right } .unit { font-weight: 400; color: #444 } .sheet { break-before: page; break-inside: avoid }
.sheet h2 { margin: 0 0 2mm } .bars > div { break-inside: avoid; margin: 0 0 2.2mm }
"""


def scale_sheet(model: ScaleModel, system: str = "metric", *, written_on: date | None = None) -> str:
    """Return the page of a model: print it at 100 %, measure the bar, lay straws on bars and drawing."""
    title = f"{model.plan.build.title}, one to {model.scale:g}"
    day = (written_on or date.today()).isoformat()
    parts = (_top(model, title, day, system), _pieces(model, system), _joints(model), _bars(model, system))
    return (
        f'<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"/><title>{escape(title)}</title>'
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\"/>"
        f"<style>{STYLE}</style></head><body>{''.join(parts)}{''.join(_views(model))}</body></html>\n"
    )


def in_hand(length_m: float, system: str) -> str:
    """Return a length of a model: to a tenth of a millimetre, so that a division by hand gives it, or 1/32 in.

    >>> in_hand(0.17833, "metric"), in_hand(0.17833, "us")
    ('178.3 mm', '7 1/32 in')
    """
    if system == "metric":
        return f"{round(length_m * 1000, 1):g} mm"
    whole, rest = divmod(round(length_m / units.INCH_M * 32), 32)
    under = 32
    while rest and not rest % 2:
        rest, under = rest // 2, under // 2
    part = f"{rest}/{under}" if rest else ""
    return f"{' '.join(filter(None, [str(whole) if whole or not part else '', part]))} in"


def _top(model: ScaleModel, title: str, day: str, system: str) -> str:
    stuff = model.material
    number = f"{model.number} {stuff.one if model.number == 1 else stuff.many}"
    thick = f"{in_hand(model.thick_to_scale_m, system)} thick would be true to scale."
    told = "".join(f"<p><b>Look again.</b> {escape(one)}</p>" for one in model.warnings)
    return (
        f"<h1>{escape(title)}</h1><p class='note'>{escape(day)}. {escape(stuff.label.capitalize())}, "
        f"{escape(in_hand(stuff.long_m, system))} long. {escape(thick)}</p>"
        "<p><b>Print at 100 %, without fitting to the page, and measure the bar before you cut.</b></p>"
        f"{_svg(BAR_MM + 30, 9, check_bar(0.5, 5))}"
        f"<p>You need {escape(number)} and something for {model.joints_made} joints: balls of clay, or hot glue. "
        "Lengths are those of the real pieces divided by the scale. Between two ends the room of a fitting stays free: "
        "fill it.</p><p class='note'>A model shows how it goes together, not whether it will stand: small things are "
        f"stiffer for their size than large ones. Nothing here is called safe.</p>{told}"
    )  # fmt: skip


def _pieces(model: ScaleModel, system: str) -> str:
    heads = (Column("Mark"), Column("Part"), Column("Real piece", number=True), Column("In the model", number=True),
             Column("Number", number=True), Column("How"))  # fmt: skip
    rows = [
        (p.mark, p.role, units.write(p.real_m, "length", system), in_hand(p.length_m, system), p.count,
         _how(p, model, system))
        for p in model.pieces
    ]  # fmt: skip
    return table("Pieces", heads, rows)


def _how(piece: ModelPiece, model: ScaleModel, system: str) -> str:
    """Return what else to know of a piece: that it is joined, that it is bent."""
    said = []
    if piece.parts > 1:
        said.append(f"{piece.parts} {model.material.many} of {in_hand(piece.part_m, system)} end to end")
    for radius, angle, start in piece.bends:
        said.append(f"bend {angle:.0f}° at radius {in_hand(radius, system)} from {in_hand(start, system)}")
    return "; ".join(said)


def _joints(model: ScaleModel) -> str:
    rows = [(kind.words, kind.count) for kind in model.joints]
    return table("Joints", (Column("What meets"), Column("Number", number=True)), rows)


# --- bars to lay a straw on


def _bars(model: ScaleModel, system: str) -> str:
    """Return a bar of its true length for every kind of piece; what is longer than the sheet goes on in a new row."""
    drawn = []
    for piece in model.pieces:
        words = f"{piece.mark}: {in_hand(piece.part_m, system)}, {piece.count * piece.parts} of them"
        drawn.append(f"<div>{escape(words)}{''.join(_rows(piece.part_m * 1000))}</div>")
    return (
        "<h2>Lay it on the bar and cut</h2><p class='note'>Each bar is as long as the piece. One that is longer than "
        f"the sheet goes on below: add the rows.</p><div class='bars'>{''.join(drawn)}</div>"
    )


def _rows(length_mm: float) -> Iterator[str]:
    left = length_mm
    while left > 1e-6:
        row = min(left, WIDE_MM)
        yield _svg(row, 4, f'<path d="M0 .4h{row:.3f}v3h-{row:.3f}z" fill="{TINT}" stroke="{INK}" stroke-width=".2"/>')
        left -= row


# --- views true to scale


def check_bar(x: float, y: float) -> str:
    """Return a bar of 100 mm with its words. [mm]"""
    return (
        f'<path class="check" d="M{x:g} {y:g}h{BAR_MM:g}" stroke="{INK}" stroke-width=".5"/>'
        f'<path d="M{x:g} {y - 2:g}v4M{x + BAR_MM / 2:g} {y - 1:g}v2M{x + BAR_MM:g} {y - 2:g}v4" stroke="{INK}" '
        f'stroke-width=".25"/><text x="{x + BAR_MM + 2:g}" y="{y + 1.2:g}" font-size="3.4" fill="{INK}">100 mm</text>'
    )


def _svg(wide: float, tall: float, inner: str, box: tuple[float, float] = (0.0, 0.0)) -> str:
    """Return a drawing whose units are real millimetres."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:.3f}mm" height="{tall:.3f}mm" '
        f'viewBox="{box[0]:.3f} {box[1]:.3f} {wide:.3f} {tall:.3f}" fill="none" font-family="sans-serif">{inner}</svg>'
    )


def view_svg(model: ScaleModel, view: str) -> tuple[str, float, float]:
    """Return one view true to scale, with its width and height: runs as wide as they are, marks beside them. [mm]"""
    drawn = shapes(model.plan.frame, model.plan.shop.members)
    low, high = reach(drawn)
    across, up, _, _ = AXES[view]
    per_m = 1000 / model.scale
    parts = []
    for shape in drawn:
        points = [((p[across] - low[across]) * per_m, (high[up] - p[up]) * per_m) for p in shape.points]
        line = "M" + "L".join(f"{x:.3f} {y:.3f}" for x, y in points)
        wide = max(shape.wide_m[view] * per_m, 0.3)
        parts.append(
            f'<path d="{line}" stroke="{INK}" stroke-width="{wide:.3f}"/>'
            f'<path d="{line}" stroke="{TINT}" stroke-width="{max(wide - 0.4, 0.1):.3f}"/>'
            f'<path class="axis" d="{line}" stroke="{FAINT}" stroke-width=".12"/>'
        )
    for mark, run, start, end in model.plan.marks:
        at = model.plan.frame.lines[run].point((start + end) / 2)
        x, y = (at[across] - low[across]) * per_m, (high[up] - at[up]) * per_m
        parts.append(
            f'<text x="{x:.2f}" y="{y:.2f}" font-size="3.2" fill="{INK}" stroke="#fff" stroke-width=".7" '
            f'paint-order="stroke" text-anchor="middle">{escape(mark)}</text>'
        )
    size = ((high[across] - low[across]) * per_m, (high[up] - low[up]) * per_m)
    return "".join(parts), size[0], size[1]


def sheets_of(model: ScaleModel) -> int:
    """Return how many sheets of paper the three views take, drawn true to scale."""
    low, high = reach(shapes(model.plan.frame, model.plan.shop.members))
    sizes = [(high[i] - low[i]) * 1000 / model.scale for i in range(3)]
    return sum(min(_sheets(sizes[across], sizes[up]), _sheets(sizes[up], sizes[across])) for across, up, *_ in
               (AXES[view] for view in VIEWS))  # fmt: skip


def _sheets(wide: float, tall: float) -> int:
    return sheet_count(wide, WIDE_MM) * sheet_count(tall, TALL_MM)


def _views(model: ScaleModel) -> Iterator[str]:
    """Yield every sheet of every view: turned where that takes fewer, in parts where it does not fit on one."""
    for view in VIEWS:
        inner, wide, tall = view_svg(model, view)
        if _sheets(tall, wide) < _sheets(wide, tall):
            inner, wide, tall = f'<g transform="translate({tall:.3f} 0) rotate(90)">{inner}</g>', tall, wide
        tiles = list(_tiles(wide, tall))
        for n, (x, y, w, h) in enumerate(tiles, 1):
            of = f", sheet {n} of {len(tiles)}: join them edge to edge at the corners" if len(tiles) > 1 else ""
            name = f"{TITLES[view]}, one to {model.scale:g}{of}"
            clip = f"c{view}{n}"
            frame = _corners(x, y, w, h) if len(tiles) > 1 else ""
            page = (
                f'<clipPath id="{clip}"><path d="M{x:.3f} {y:.3f}h{w:.3f}v{h:.3f}h-{w:.3f}z"/></clipPath>'
                f'<g clip-path="url(#{clip})">{inner}</g>{frame}'
            )
            yield (
                f"<section class='sheet'><h2>{escape(name)}</h2>{_svg(BAR_MM + 30, 9, check_bar(0.5, 5))}"
                f"{_svg(w, h, page, (x, y))}</section>"
            )


def _tiles(wide: float, tall: float) -> Iterable[tuple[float, float, float, float]]:
    """Yield left, top, width and height of each sheet's part of a view. [mm]"""
    columns, rows = sheet_count(wide, WIDE_MM), sheet_count(tall, TALL_MM)
    for row in range(rows):
        for column in range(columns):
            x, y = column * WIDE_MM, row * TALL_MM
            yield x, y, min(WIDE_MM, wide - x), min(TALL_MM, tall - y)


def _corners(x: float, y: float, w: float, h: float) -> str:
    """Return marks at the corners of a part, where the next one joins."""
    marks = "".join(f"M{cx - 2:.3f} {cy:.3f}h4M{cx:.3f} {cy - 2:.3f}v4" for cx in (x, x + w) for cy in (y, y + h))
    return f'<path d="{marks}" stroke="{FAINT}" stroke-width=".2"/>'
