"""What a test asks of a whole plan: every part that no build can do without, and all that a reader can choose."""

import numpy as np
import pytest
from hypothesis import strategies as st

from gardenframe.strength.stiffness import respond

READ = (
    *("fittings", "pieces", "cutting", "coverings", "bill", "cost", "cautions", "steps", "warnings", "working"),
    *("loads", "checks", "anchors"),
)


def any_value(field):
    """Return a strategy over all that a field's control can reach."""
    if field.kind == "choice":
        return st.sampled_from([key for key, _ in field.choices])
    if field.kind == "flag":
        return st.booleans()
    if field.kind == "count":
        return st.integers(int(field.low), int(field.high))
    return st.floats(field.low, field.high)


def assert_in_balance(plan):
    """First order, what the supports give is what the loads ask, in every combination, to a millionth."""
    standing = plan.standing
    response = respond(standing.model, standing.loads.cases, standing.loads.combinations)
    given = response.support_forces[:, :, :3].sum(axis=1)
    sums = {row["case"]: np.array([row["x_n"], row["y_n"], row["z_n"]]) for row in standing.loads.rows}
    for number, combination in enumerate(standing.loads.combinations):
        asked = sum(f * sums[case] for case, f in combination.factors.items())
        assert given[number] == pytest.approx(-asked, rel=1e-6, abs=1e-6 * np.abs(asked).max() + 1e-6)


def assert_cut_from_sticks(plan):
    """What is cut is what the pieces ask for, and each stick has room for its pieces and a kerf between them."""
    wanted = {}
    for _, row in plan.pieces.iterrows():
        key = (row["member"], plan.shop.on_the_tape(row["cut_mm"]))
        wanted[key] = wanted.get(key, 0) + row["count"]
    cut = {}
    for member, cutting in plan.cutting.items():
        for stick, content, times in cutting.patterns:
            number = sum(content.values())
            assert sum(length * n for length, n in content.items()) + (number - 1) * plan.shop.kerf_marks <= stick
            for length, n in content.items():
                cut[member, length] = cut.get((member, length), 0) + n * times
    assert cut == wanted
