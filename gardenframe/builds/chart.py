"""A chart that a build offers: lines over one axis, or a map of numbers. Its message is its title.

Numbers only: `output.charts` draws lines, `output.heat` maps.
"""

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
    every_name : bool
        Whether the words follow no order that a reader knows: then as many as can be are written, in rows.
    here : float, optional
        Where the reader's own value stands along the axis.
    """

    title: str
    across: str
    up: str
    lines: tuple[ChartLine, ...]
    names: tuple[str, ...] = ()
    here: float | None = None
    every_name: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class HeatMap:
    """A map: a number for each cell of a grid, shown as a shade and as a figure.

    Parameters
    ----------
    title, across, up : str
        What it says, in a sentence; what its axes measure.
    columns, rows : tuple of str
        What stands along the axes at the middle of each cell, from the left and from the bottom.
    values : tuple of rows
        From the bottom; None where there is nothing to show, which `nothing` names.
    unit : str
        Of the numbers, already the reader's.
    low, high : float
        Numbers of the darkest and the lightest shade.
    digits : int
        Decimals shown.
    tall : float, optional
        Height of a cell as a share of its width, to draw a place in proportion; else rows are as high as text.
    """

    title: str
    across: str
    up: str
    columns: tuple[str, ...]
    rows: tuple[str, ...]
    values: tuple[tuple[float | None, ...], ...]
    unit: str
    low: float
    high: float
    digits: int = 0
    tall: float | None = None
    nothing: str = ""
