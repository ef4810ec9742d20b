"""Several of a list to tick: boxes and value say the same, a panel follows, an empty list is one sentence."""

from hypothesis import given
from hypothesis import strategies as st

import gardenframe
from gardenframe.builds import ALL
from gardenframe.builds.fields import ticked
from gardenframe.output import saved
from gardenframe.teaching import controls
from gardenframe.teaching.controls.ticked import Ticked

LIST = [("one", 1), ("two", 2), ("three", 3)]


@given(st.lists(st.sampled_from([1, 2, 3]), unique=True))
def test_boxes_show_the_value_and_the_value_the_boxes(keys):
    """Set from either side, in the order of the list, told once for each change."""
    told = []
    control = Ticked(LIST, "Some")
    control.observe(lambda change: told.append(change["new"]), "value")
    control.value = tuple(keys)
    assert [box.value for box in control.boxes] == [key in keys for _, key in LIST]
    control.boxes[1].value = not control.boxes[1].value
    wanted = {*keys} ^ {2}
    assert control.value == tuple(key for _, key in LIST if key in wanted)
    assert told[-1] == control.value
    assert len(told) <= 2


def test_a_field_for_several():
    """Its default is a tuple, its kind is that of several."""
    made = ticked(["a"], [("a", "A"), ("b", "B")], "Letters", "Which.").metadata["field"]
    assert (made["kind"], made["default"], made["choices"]) == ("choices", ("a",), (("a", "A"), ("b", "B")))


def test_a_panel_follows_its_boxes():
    """Ticking deer changes the build; unticking all is one sentence beside the boxes, and ticking again mends it."""
    panel = controls.panel(ALL["enclosure"], site=gardenframe.Site(), shop=gardenframe.Shop(), opened=())
    control = panel.control("animals").main
    names = [key for key, _ in ALL["enclosure"].field("animals").choices]
    control.boxes[names.index("deer")].value = True
    assert panel.values.kept["animals"] == ("rabbit", "deer", "bird")
    assert not panel.error
    for box in control.boxes:
        box.value = False
    assert "needs at least one animal ticked" in panel.control("animals").note.value
    control.boxes[names.index("vole")].value = True
    assert not panel.error
    assert panel.values.kept["animals"] == ("vole",)


def test_several_come_back_from_a_file(tmp_path):
    """What was ticked is kept in a saved build and read again."""
    build = ALL["enclosure"](animals=("deer", "rabbit"), gate_walls=("left", "front"))
    kept = saved.save(build, "Pen", tmp_path)
    assert saved.load(kept.place).build == build
