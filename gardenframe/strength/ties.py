"""Pull on each tie of a covering, from the wind on its panel."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from gardenframe.geometry.coverings import Covered
from gardenframe.materials import constants
from gardenframe.materials.fixings import Fixing
from gardenframe.strength.rows import CheckRow
from gardenframe.working import formula


@formula(
    result="T",
    symbols={"force_n": "F", "tie_count": "n", "belly_ratio": "s", "square_ratio": "a"},
    source="net-belly",
    example={"force_n": 600.0, "tie_count": 40, "belly_ratio": 0.1},
)
def tie_pull_n(force_n: float, tie_count: int, belly_ratio: float) -> float:
    """Pull of one tie of a panel: its share of the force, slantwise as the covering bellies. [N]

    A strip of covering hangs like a cable under even load: its ends pull 1/(4 s) times as hard along the panel as
    across it, where s is belly over span.

    >>> round(tie_pull_n(600.0, 40, 0.1), 1)
    40.4
    """
    square_ratio = 1 + 1 / (4 * belly_ratio) ** 2
    pull_n: float = force_n / tie_count * square_ratio**0.5
    return pull_n


@dataclass(frozen=True, slots=True)
class Ties:
    """Rows of ties, and what could not be checked."""

    rows: tuple[CheckRow, ...]
    unchecked: tuple[str, ...]


def ties(
    covered: Sequence[Covered],
    force_n: Mapping[str, Mapping[str, float]],
    fixings: Mapping[str, Fixing],
    factors: Mapping[str, Mapping[str, float]] | None = None,
    belly_ratio: float | None = None,
) -> Ties:
    """Return the pull on ties, the worst combination of each panel.

    Parameters
    ----------
    covered : sequence of Covered
        Panels as they are covered, with the number of fixings.
    force_n : mapping
        Force on each panel by case, square to it, either way. [N]
    fixings : mapping
        Fixings by key.
    factors : mapping, optional
        Factors on cases of each combination; without, each case stands by itself.
    belly_ratio : float, optional
        How far the covering bellies, of its span; a tenth if not given.
    """
    belly = constants.value("tie_belly_ratio") if belly_ratio is None else belly_ratio
    rows, unchecked = [], []
    for cover in covered:
        cases: dict[str, float] = {}
        for panel in cover.panels or (cover.panel,):
            for key, force in force_n.get(panel, {}).items():
                cases[key] = cases.get(key, 0.0) + force
        if not cases or not cover.fixings:
            continue
        fixing = fixings[cover.fixing]
        if fixing.holds_n is None:
            unchecked.append(f"{cover.panel}: no figure for what a {fixing.label} holds; pull one with a scale.")
            continue
        sums = {
            key: sum(f * cases.get(case, 0.0) for case, f in parts.items()) for key, parts in (factors or {}).items()
        }
        case, force = max((sums or cases).items(), key=lambda item: abs(item[1]))
        rows.append(
            CheckRow(
                check="ties: pull of one", case=case, where=f"{cover.fixings} of {fixing.label} on {cover.panel}",
                demand=tie_pull_n(abs(force), cover.fixings, belly), capacity=fixing.holds_n, unit="N",
                source=fixing.source, kind="tie",
                forces={"force_n": force, "ties": float(cover.fixings), "belly_ratio": belly},
            )
        )  # fmt: skip
    return Ties(tuple(rows), tuple(dict.fromkeys(unchecked)))
