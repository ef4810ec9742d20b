"""What a test asks of a whole plan: every part that no build can do without, and all that a reader can choose."""

from hypothesis import strategies as st

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
