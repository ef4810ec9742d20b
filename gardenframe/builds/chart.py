"""A chart that a build offers: lines over one axis, its message as title. Numbers only; `output.charts` draws it."""

from dataclasses import dataclass

Points = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartLine:
    """One line: its name is written at its end. `dashed` tells it apart without colour; `places` show its points."""

    name: str
    points: Points
    dashed: bool = False
    places: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """A chart.

    Parameters
    ----------
    title : str
        What it says, in a sentence.
    across, up : str
        What the axes measure, with the unit, which is already the reader's.
    lines : tuple of ChartLine
        All over the same axis.
    names : tuple of str
        Words in place of numbers along the axis, for x = 0, 1, 2, ...
    here : float, optional
        Where the reader's own value stands along the axis.
    """

    title: str
    across: str
    up: str
    lines: tuple[ChartLine, ...]
    names: tuple[str, ...] = ()
    here: float | None = None
