"""What a reader cannot see decides nothing: a field that the others hide leaves the plan as it is."""

import pytest

import gardenframe
from gardenframe.builds import KINDS

EXAMPLES = [(kind, name) for kind in KINDS.values() for name in kind.examples]


def another(field, value):
    """Return a value of a field other than the one that it has; None where none is tried."""
    if field.kind == "choice":
        return next(key for key, _ in field.choices if key != value)
    if field.kind in ("flag", "choices"):
        return not value if field.kind == "flag" else tuple(key for key, _ in field.choices if key not in value)
    return None if field.kind in ("text", "table") else field.low if value != field.low else field.high


def told(build):
    """Return what a plan says of a build: tubes, feet, coverings, what is bought and done, what to beware of."""
    plan = gardenframe.plan(build, live=True)
    return (
        dict(plan.frame.runs), plan.frame.supports, plan.frame.panels, list(plan.goods()), list(build.steps(plan)),
        plan.cautions,
    )  # fmt: skip


@pytest.mark.parametrize(("kind", "name"), EXAMPLES, ids=[f"{kind.key}-{name[:20]}" for kind, name in EXAMPLES])
def test_a_hidden_field_changes_nothing(kind, name):
    """Every field that does not matter in an example is set otherwise: tubes, goods, steps and cautions stay."""
    build = kind(**kind.examples[name])
    hidden = {field.key: another(field, getattr(build, field.key)) for field in kind.fields() if not build.used(field)}
    usual = told(build)
    for key, value in hidden.items():
        if value is not None:
            assert told(build.changed(**{key: value})) == usual, key
