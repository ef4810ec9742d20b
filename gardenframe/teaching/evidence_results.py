"""What the numbers rest on, as pages: how much there is, and the outside checks as dots and as rows. Text only."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from gardenframe.materials.checked import KINDS, OutsideCheck
from gardenframe.output.dots import DotRow, dots
from gardenframe.studies.evidence import Evidence, worst
from gardenframe.studies.parts import PARTS, parts_of
from gardenframe.teaching.page import Card, Column, cards, count, note, stacked
from gardenframe.teaching.reading import Reader
from gardenframe.working import render
from gardenframe.working.suffixes import POWERS

KNOWN = {
    "seen": "seen",
    "computed": "computed by a second method",
    "memory": "from memory",
    "common practice": "common practice, no source",
    "invented": "invented",
}
SHORT = {key: key if key != "memory" else "from memory" for key in KNOWN}  # in the rows of tables
KIND_ROWS = {
    "printed": "printed in a source that was seen",
    "remembered": "remembered of a source",
    "worked": "worked out by another method or library",
}
LEAST_PERCENT = 1e-4  # smaller differences are told as "under"
DECADES = (-4, 1)
NEARLY = 0.9  # of what a check allows
CLOSE = 0.01  # of the value


def percent(ratio: float | None) -> str:
    """Return a difference as per cent, without the sign; a dash where there is none to tell.

    >>> percent(0.00827), percent(3e-12), percent(0.0), percent(None), percent(1.234)
    ('0.83', 'under 0.0001', '0', '–', '123')
    """
    if ratio is None:
        return "–"
    share = 100 * ratio
    if share == 0:
        return "0"
    if share < LEAST_PERCENT:
        return f"under {LEAST_PERCENT:.4f}"
    return f"{share:.0f}" if share >= 100 else f"{share:.2g}"


def ratios(checks: Iterable[OutsideCheck]) -> list[float]:
    """Return the differences over the values, where a value is not nought."""
    return [ratio for check in checks if (ratio := check.off_ratio) is not None]


def _close(found: Sequence[float]) -> str:
    """Return the share of differences of at most one per cent, as per cent."""
    share = 100 * sum(ratio <= CLOSE for ratio in found) / len(found)
    return f"{min(share, 99.9) if share < 100 else share:.3g}"


def kinds(checks: Iterable[OutsideCheck]) -> str:
    """Return how many checks there are of each kind, in words."""
    found = Counter(check.kind for check in checks)
    return ", ".join(f"{found[kind]} {kind}" for kind in KINDS if found[kind]) or "none"


def key_numbers(chosen: Evidence, every: Evidence) -> str:
    """Return how much there is of what was chosen, and how near it comes."""
    found = ratios(chosen.checks)
    named = sum(bool(one.checks) for one in chosen.formulas)
    rows = sum(one.rows for one in chosen.tables)
    spoken = sum(bool(one.checks) for one in chosen.stages)
    seen = sum(one.source.how_known == "seen" for one in chosen.sources)

    def of(part: Sequence[object], whole: Sequence[object], told: str) -> str:
        return told if len(part) == len(whole) else f"of {len(whole)}; {told}"

    return cards(
        (
            Card(
                "checks",
                "Outside checks",
                str(len(chosen.checks)),
                of(chosen.checks, every.checks, kinds(chosen.checks)),
            ),
            Card("close", "Come within 1 %", f"{_close(found)} %" if found else "–", "of the other value"),
            Card(
                "formulas",
                "Formulas",
                str(len(chosen.formulas)),
                of(chosen.formulas, every.formulas, f"{named} with a check"),
            ),
            Card("tables", "Tables", str(len(chosen.tables)), of(chosen.tables, every.tables, count(rows, "row"))),
            Card(
                "stages", "Stages", str(len(chosen.stages)), of(chosen.stages, every.stages, f"{spoken} with a check")
            ),
            Card("sources", "Sources", str(len(chosen.sources)), of(chosen.sources, every.sources, f"{seen} seen")),
        )
    )


# --- what is held against what


def held_page(checks: Sequence[OutsideCheck], reader: Reader) -> str:
    """Return the checks as dots: their difference over the value, and over what each allows."""
    if not checks:
        return note("No outside check speaks of what is chosen.")
    found = ratios(checks)
    drawn = dots(
        [DotRow(name=said, values=tuple(100 * r for r in ratios(_of(kind, checks)))) for kind, said in _rows(checks)],
        reader.width_px,
        title=_near(checks, found), across="difference, % of the other value",
        decades=(DECADES[0], max(DECADES[1], *(len(f"{100 * r:.0f}") for r in found)) if found else DECADES[1]),
    )  # fmt: skip
    shares = {kind: [100 * _share(check) for check in _of(kind, checks)] for kind in KINDS}
    near_limit = sum(share > 100 * NEARLY for every in shares.values() for share in every)
    over = sum(share > 100 * (1 + 1e-5) for every in shares.values() for share in every)
    said = f"{count(over, 'check')} further off than allowed" if over else "None is further off than its check allows"
    told = dots(
        [DotRow(name=name, values=tuple(shares[kind])) for kind, name in _rows(checks)],
        reader.width_px,
        title=f"{said}; {near_limit} of {len(checks)} use more than nine tenths of it",
        across="difference, % of what the check allows",
    )
    noughts = len(checks) - len(found)
    left_out = f" {count(noughts, 'check')} against nought: no share of it can be told." if noughts else ""
    return (
        drawn
        + note(f"One dot for each check. Of several like numbers in one check the furthest off is shown.{left_out}")
        + told
        + note(
            "A printed value allows half a unit of its last digit, a remembered one a whole unit or 0.5 %. Such dots "
            "may stand anywhere: how a source rounds says nothing of how near ours comes. What another method works "
            "out allows what that method leaves open."
        )
    )


def _rows(checks: Iterable[OutsideCheck]) -> Iterator[tuple[str, str]]:
    kinds = {check.kind for check in checks}
    yield from ((kind, said) for kind, said in KIND_ROWS.items() if kind in kinds)


def _of(kind: str, checks: Iterable[OutsideCheck]) -> list[OutsideCheck]:
    return [check for check in checks if check.kind == kind]


def _share(check: OutsideCheck) -> float:
    return abs(check.off) / check.allowed if check.allowed else float(check.off != 0)


def _near(checks: Sequence[OutsideCheck], found: Sequence[float]) -> str:
    if not found:
        return f"{count(len(checks), 'check')} against nought"
    far = max(checks, key=lambda check: check.off_ratio or 0.0)
    return (
        f"{_close(found)} % of {count(len(found), 'check')} come within 1 % of the other value; the furthest is "
        f"{percent(max(found))} % off ({far.what})"
    )


# --- rows of checks

CHECK_COLUMNS = (
    Column("Compared"), Column("Part"), Column("Kind"), Column("Theirs", number=True), Column("Ours", number=True),
    Column("Unit"), Column("Off", "%", number=True), Column("Source"),
)  # fmt: skip
BARE_COLUMNS = tuple(column for column in CHECK_COLUMNS if column.heading != "Part")


def furthest_first(checks: Iterable[OutsideCheck]) -> list[OutsideCheck]:
    """Return checks, the furthest off first; those against nought last."""
    return sorted(checks, key=lambda check: (check.off_ratio is None, -(check.off_ratio or 0.0)))


def check_rows(checks: Iterable[OutsideCheck]) -> str:
    """Return checks as a table, with the part that each belongs to."""
    rows = [(_compared(c), ", ".join(parts_of(c.checks)), *_numbers(c)) for c in checks]
    return stacked("Outside checks", CHECK_COLUMNS, rows)


def own_check_rows(checks: Iterable[OutsideCheck]) -> str:
    """Return the checks of one thing as a table."""
    return stacked("Its outside checks", BARE_COLUMNS, [(_compared(check), *_numbers(check)) for check in checks])


def _compared(check: OutsideCheck) -> str:
    return f"{check.what} (furthest of {check.count})" if check.count > 1 else check.what


def _numbers(check: OutsideCheck) -> tuple[str, ...]:
    theirs = render.number(float(check.value)) if check.kind == "worked" else check.value
    ours, off = render.number(check.ours), percent(check.off_ratio)
    unit = re.sub(r"(?<=m|n|t|s)[2-6]\b", lambda power: power[0].translate(POWERS), check.unit or "")
    return (check.kind, theirs, ours, unit, off, check.source)


def parts_page(chosen: Evidence) -> str:
    """Return how many checks each part has, how many of them come close, and the furthest off."""
    columns = (
        Column("Part"), *(Column(kind.capitalize(), number=True) for kind in KINDS),
        Column("Come within 1 %", number=True), Column("Furthest off", "%", number=True),
    )  # fmt: skip
    rows = []
    by_part: dict[str, list[OutsideCheck]] = {part.title: [] for part in PARTS}
    for check in chosen.checks:
        for part in parts_of(check.checks):
            by_part[part].append(check)
    for part, found in by_part.items():
        if found:
            near = ratios(found)
            close = f"{_close(near)} %" if near else "–"
            rows.append((part, *(len(_of(kind, found)) for kind in KINDS), close, percent(worst(found))))
    told = note("A check that speaks of two parts counts in both.")
    return stacked("Checks by part", columns, rows) + told if len(rows) > 1 else ""
