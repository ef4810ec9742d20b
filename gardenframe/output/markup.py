"""HTML of printed pages: headings, tables whose heads are repeated, boxes to tick. Text in, text out, all escaped."""

import html
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

BOX = "<span class='tick'></span>"
MOST_BOXES, A_LINE = 12, 6  # of one row; more are ticked as one


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its heading, the unit that stands in the heading, whether it holds numbers (right-aligned)."""

    heading: str
    unit: str = ""
    number: bool = False


def escape(text: object) -> str:
    """Return text with what HTML would read as its own made harmless; control characters are left out.

    >>> escape('<b>6"</b>')
    '&lt;b&gt;6&quot;&lt;/b&gt;'
    """
    plain = re.sub(
        r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]", "\N{REPLACEMENT CHARACTER}", str(text)
    )
    return html.escape(plain, quote=True)


def boxes(number: int) -> str:
    """Return boxes to tick, one for each of a few, one for all of many."""
    if not 0 < number <= MOST_BOXES:
        return BOX
    return "<br/>".join(BOX * min(A_LINE, number - start) for start in range(0, number, A_LINE))


def table(
    caption: str,
    heads: Sequence[Column],
    rows: Iterable[Sequence[object]],
    total: Sequence[object] = (),
    tick: Sequence[int] | bool = False,
    kind: str = "",
) -> str:
    """Return a table under its caption. Its head is repeated on every page that it runs over.

    Parameters
    ----------
    total : sequence
        A last line that sums it up; it is no foot, which browsers repeat on every page.
    tick : bool or sequence of int
        Whether each row starts with a box to tick, or with how many.
    kind : str
        Name of its look: "close" for one of many words.
    """
    rows = list(rows)
    ticks = list(tick) if not isinstance(tick, bool) else [1] * len(rows)
    ticked = bool(tick)
    first = "<th class='ticks'>Done</th>" if ticked else ""
    head = first + "".join(_cell("th", h, _heading(h)) for h in heads)
    body = "".join(
        f"<tr>{_ticks(n) if ticked else ''}{_cells(heads, row)}</tr>" for n, row in zip(ticks, rows, strict=True)
    )
    if total:
        body += f"<tr class='total'>{'<td></td>' if ticked else ''}{_cells(heads, total)}</tr>"
    top = f"<table class='{kind or 'plain'}'><caption>{escape(caption)}</caption>"
    return f"{top}<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def _heading(head: Column) -> str:
    return (
        f"{escape(head.heading)} <span class='unit'>{escape(head.unit)}</span>" if head.unit else escape(head.heading)
    )


def _cells(heads: Sequence[Column], row: Sequence[object]) -> str:
    return "".join(_cell("td", head, escape(value)) for head, value in zip(heads, row, strict=True))


def _cell(tag: str, head: Column, content: str) -> str:
    return f"<{tag} class='n'>{content}</{tag}>" if head.number else f"<{tag}>{content}</{tag}>"


def _ticks(number: int) -> str:
    return f"<td class='ticks'>{boxes(number)}</td>"


def facts(pairs: Iterable[tuple[str, str]]) -> str:
    """Return names and what they are, in two columns."""
    inner = "".join(f"<div><dt>{escape(name)}</dt><dd>{escape(value)}</dd></div>" for name, value in pairs)
    return f"<dl class='facts'>{inner}</dl>"


def section(key: str, heading: str, *parts: str, fresh: bool = False) -> str:
    """Return a part of the sheet under its heading; `fresh` starts it on a new page. Empty where nothing is in it."""
    body = "".join(parts)
    kind = " class='fresh'" if fresh else ""
    return f"<section id='{key}'{kind}><h2>{escape(heading)}</h2>{body}</section>" if body else ""


def paragraph(text: str, kind: str = "") -> str:
    """Return a paragraph; nothing for an empty text."""
    return f"<p class='{kind or 'text'}'>{escape(text)}</p>" if text else ""


def listed(items: Iterable[str], kind: str = "") -> str:
    """Return sentences as a list; with `kind` "tick" each starts with a box."""
    box = BOX if kind == "tick" else ""
    inner = "".join(f"<li>{box}{escape(item)}</li>" for item in items)
    return f"<ul class='{kind or 'plain'}'>{inner}</ul>" if inner else ""


def figure(svg: str, kind: str = "whole") -> str:
    """Return a drawing that is not parted by the end of a page; of kind "half" two stand on one."""
    return f"<figure class='{kind}'>{svg}</figure>"


def in_css(text: str) -> str:
    r"""Return a text as a CSS string in which nothing ends the string or the style sheet.

    >>> in_css('6" </style>')
    '"6\\22 \\20 \\3c \\2f style\\3e "'
    """
    return '"' + "".join(c if c.isalnum() else f"\\{ord(c):x} " for c in text) + '"'
