"""HTML for the page beside the controls: tables, cards, notes. Text in, text out; every text is escaped."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from gardenframe.output.markup import Column, escape

__all__ = [
    "Card", "Column", "alert", "cards", "count", "escape", "lead", "note", "sentences", "stacked", "table",
    "unbroken", "warning",
]  # fmt: skip


def table(
    caption: str, columns: Sequence[Column], rows: Iterable[Sequence[object]], total: Sequence[object] = ()
) -> str:
    """Return a table with its caption for screen readers, units in the headings, and a last line that sums it up."""
    heads = "".join(_cell("th scope='col'", column, _heading(column)) for column in columns)
    body = "".join(f"<tr>{_cells(columns, row)}</tr>" for row in rows)
    foot = f"<tfoot><tr>{_cells(columns, total)}</tr></tfoot>" if total else ""
    return (
        f"<div class='gf-scroll'><table class='gf-table'><caption>{escape(caption)}</caption>"
        f"<thead><tr>{heads}</tr></thead><tbody>{body}</tbody>{foot}</table></div>"
    )


def stacked(caption: str, columns: Sequence[Column], rows: Iterable[Sequence[object]]) -> str:
    """Return a table of many columns: where they have no room, each row stands as lines under its first cell."""
    heads = "".join(_cell("th scope='col'", column, _heading(column)) for column in columns)
    tags = [f"td data-label='{escape(column.heading)}' data-unit='{escape(column.unit)}'" for column in columns]
    body = "".join(
        f"<tr>{''.join(_cell(tag, c, escape(v)) for tag, c, v in zip(tags, columns, row, strict=True))}</tr>"
        for row in rows
    )
    return (
        f"<div class='gf-scroll'><table class='gf-table gf-stack'><caption>{escape(caption)}</caption>"
        f"<thead><tr>{heads}</tr></thead><tbody>{body}</tbody></table></div>"
    )


def _heading(column: Column) -> str:
    unit = f" <span class='gf-unit'>{escape(column.unit)}</span>" if column.unit else ""
    return f"{escape(column.heading)}{unit}"


def _cells(columns: Sequence[Column], row: Sequence[object]) -> str:
    return "".join(_cell("td", column, escape(value)) for column, value in zip(columns, row, strict=True))


def _cell(tag: str, column: Column, content: str) -> str:
    return f"<{tag}{' class=gf-n' if column.number else ''}>{content}</{tag.split()[0]}>"


@dataclass(frozen=True, slots=True)
class Card:
    """One key number: its id on the page, what it is, the number with its unit, and a word beneath."""

    key: str
    label: str
    number: str
    note: str = ""


def cards(found: Iterable[Card]) -> str:
    """Return key numbers side by side; each number has the id `gf-KEY`."""
    inner = "".join(
        f"<div class='gf-card' role='listitem'><div class='gf-quiet'>{escape(card.label)}</div>"
        f"<strong id='gf-{card.key}'>{escape(card.number)}</strong>"
        f"<div class='gf-quiet'>{escape(card.note)}</div></div>"
        for card in found
    )
    return f"<div class='gf-cards' role='list'>{inner}</div>"


def unbroken(text: str) -> str:
    """Return a text in which no line ends between a number and its unit.

    >>> unbroken("16 mm short, 6 ft 2 1/2 in wide, 5 % tax").replace(chr(160), "_")
    '16_mm short, 6_ft_2_1/2_in wide, 5_% tax'
    """
    return re.sub(r"(?<=\d) (?=[\d%]|mm|ft|in\b|m\b|N|lbf)|(?<=ft) (?=\d)", "\N{NO-BREAK SPACE}", text)


def sentences(items: Iterable[str], kind: str = "ul") -> str:
    """Return a list of sentences."""
    return f"<{kind} class='gf-list'>{''.join(f'<li>{escape(item)}</li>' for item in items)}</{kind}>"


def lead(text: str) -> str:
    """Return the one sentence that a page is about."""
    return f"<p class='gf-lead'>{escape(text)}</p>"


def note(text: str) -> str:
    """Return a small note beneath something."""
    return f"<p class='gf-note'>{escape(text)}</p>" if text else ""


def warning(items: Iterable[str]) -> str:
    """Return sentences that ask for a second look, with a sign that does not rest on colour; "" for none."""
    return "".join(f"<p class='gf-warning'><b>&#9888; Look again.</b> {escape(item)}</p>" for item in items)


def alert(text: str) -> str:
    """Return a sentence that a screen reader speaks at once; "" where there is none."""
    return f"<div role='alert' class='gf-error'><b>&#10007;</b> {escape(text)}</div>" if text else ""


def count(number: int, one: str, many: str = "") -> str:
    """Return a number with its word.

    >>> count(1, "piece"), count(3, "piece"), count(2, "box", "boxes")
    ('1 piece', '3 pieces', '2 boxes')
    """
    return f"{number} {one if number == 1 else many or one + 's'}"
