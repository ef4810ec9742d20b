"""What is bought for feet is long enough for the depth to which they are driven."""

import re

import pytest

import gardenframe
from gardenframe.builds import Trellis


@pytest.mark.parametrize("base", ["stakes", "sleeves"])
@pytest.mark.parametrize("deep_m", [0.3, 0.45, 0.5, 0.55, 0.6, 0.65, 0.8, 0.85, 0.9])
def test_bars_and_sleeves_reach_as_deep_as_they_are_driven_and_stand_out(base, deep_m):
    """A tube needs 300 mm of a bar inside it and a sleeve 100 mm above the ground (common practice, no source)."""
    bill = gardenframe.plan(Trellis(base=base, buried_m=deep_m)).bill
    out_m = {"stakes": 0.3, "sleeves": 0.1}[base]
    word = {"stakes": "rebar stake", "sleeves": "ground sleeve"}[base]
    bought = [label for label in bill["label"] if label.startswith(word)]
    assert len(bought) == 1
    long_mm = int(re.findall(r"(\d+) mm", bought[0])[-1 if base == "stakes" else 0])
    assert deep_m + out_m <= long_mm / 1000 + 1e-9 < deep_m + out_m + 0.6
