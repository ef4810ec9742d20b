"""Words in lines that fit a width, and places moved apart so that their texts do not touch."""

from collections.abc import Sequence

from gardenframe.output.svg import text_width


def wrapped(words: str, width: float, bold: bool = False) -> list[str]:
    """Return a text in lines no wider than a width, parted between words but not at hard spaces. [px]

    >>> wrapped("mark every line from one end", 90.0)
    ['mark every', 'line from one', 'end']
    """
    rows: list[str] = []
    for word in words.split(" "):
        longer = f"{rows[-1]} {word}" if rows else word
        if rows and text_width(longer, bold) <= width:
            rows[-1] = longer
        else:
            rows.append(word)
    return rows


def spread(places: Sequence[float], apart: float, low: float, high: float) -> list[float]:
    """Return places in order, moved as little as can be so that neighbours stand apart, within limits where they fit.

    >>> spread([10.0, 12.0, 50.0], 10.0, 0.0, 100.0)
    [6.0, 16.0, 50.0]
    """
    apart = min(apart, (high - low) / max(len(places) - 1, 1))
    groups: list[list[float]] = []  # [sum of wished first places, how many]
    for i, place in enumerate(places):
        groups.append([place - i * apart, 1.0])
        while len(groups) > 1 and groups[-2][0] / groups[-2][1] > groups[-1][0] / groups[-1][1]:
            total, count = groups.pop()
            groups[-1] = [groups[-1][0] + total, groups[-1][1] + count]
    moved = [total / count for total, count in groups for _ in range(int(count))]
    most = high - (len(places) - 1) * apart
    return [min(max(base, low), most) + i * apart for i, base in enumerate(moved)]
