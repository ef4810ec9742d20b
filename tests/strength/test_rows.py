"""The worst of many rows: the first of those that rounding alone sets apart."""

import numpy as np
import pytest

from gardenframe.strength.rows import CheckRow, hardest, peak, worst


def row(where, demand):
    """Return a row by its demand."""
    return CheckRow(
        check="post", case="D", where=where, demand=demand, capacity=1.0, unit="N", source="invented", kind="strength"
    )


@pytest.mark.parametrize(
    ("values", "place"),
    [([1.0, 2.0, 2.0 + 1e-12], 1), ([2.0 - 1e-12, 2.0], 0), ([1.0, 2.0, 2.1], 2), ([[0.0, 3.0], [3.0, 1.0]], 1),
     ([-1.0, -1.0 - 1e-12], 0), ([0.0, 0.0], 0), ([1.0, np.inf, np.inf], 1)],
)  # fmt: skip
def test_the_first_of_equal_peaks(values, place):
    """A mirror image differs in its last digits only; what is larger by more is larger."""
    assert peak(np.array(values)) == place


def test_mirror_rows_name_the_same_place():
    """Whichever side rounding favours."""
    for left, right in ((0.5, 0.5 + 1e-13), (0.5 + 1e-13, 0.5)):
        assert hardest([row("left post", left), row("right post", right)]).where == "left post"
    assert worst([]) is None
    assert worst([row("left post", 0.5), row("right post", 0.6)]).where == "right post"
