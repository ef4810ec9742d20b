"""Later seasons of every build: what to look at, what comes off, what a new build takes out of an old one."""

import pytest
from printed import as_worked

import gardenframe
from gardenframe import builds
from gardenframe.builds import Trellis
from gardenframe.materials.looks import load_looks
from gardenframe.materials.shop import Shop
from gardenframe.materials.sources import load_sources
from gardenframe.studies.next_season import looks, reuse, straight_pieces, tags_of, take_down

DEFAULTS = sorted(builds.ALL)


@pytest.fixture(scope="module")
def plans():
    """Return the plan of the default of every build."""
    return {key: gardenframe.plan(kind(), live=True) for key, kind in builds.ALL.items()}


@pytest.mark.parametrize("key", DEFAULTS)
def test_what_is_looked_at_is_what_is_there(plans, key):
    """Joints, tubes and ends always; nothing of a part that the build has not got."""
    made = plans[key]
    found = {look.key for look in looks(made)}
    assert {"joints", "tubes", "caps"} <= found
    assert ("bend" in found) == any(piece.bends for piece in made.cut)
    assert ("hinge" in found) == any(part.motion == "hinged" for part in made.frame.parts)
    assert ("stake" in found) <= any("stake" in s.base or s.base == "rod" for s in made.frame.supports)
    assert ("strap" in found) == any(support.base == "strap" for support in made.frame.supports)


def test_every_row_can_come_up():
    """Each row of the table goes with some example of some build, or with a choice that a test makes here."""
    seen = set()
    for kind in builds.ALL.values():
        for values in kind.examples.values():
            seen |= tags_of(gardenframe.plan(kind(**values), live=True))
    missing = [key for key, look in load_looks().items() if "always" not in look.applies and not seen & {*look.applies}]
    assert set(missing) <= {"pvc", "wire", "cloth", "fabric", "bolts", "soil", "sheet", "foot"}, missing
    assert all(look.source in load_sources() for look in load_looks().values())


@pytest.mark.parametrize("key", DEFAULTS)
def test_everything_comes_off_once_and_feet_last(plans, key):
    """The numbers of tubes add up to the pieces in the frame; coverings come first."""
    made, found = plans[key], take_down(plans[key])
    tubes = [off for off in found if off.label.split(",")[0] in {piece.mark for piece in made.cut}]
    assert sum(off.number for off in tubes) == sum(piece.count for piece in made.cut if not piece.loose)
    soil = [i for i, off in enumerate(found) if off.what == "soil"]
    assert soil == ([0] if key == "raised_bed" else [])  # walls that hold soil are not loosened before it is out
    covers = [i for i, off in enumerate(found) if off.how.startswith(("Roll it up", "Stack it"))]
    assert covers == list(range(len(soil), len(soil) + len(covers)))
    assert len(covers) == len({panel.sheet or panel.key for panel in made.frame.panels if panel.covering})
    roles = [off.what for off in tubes]
    if "post" in roles:
        assert roles[-1] in ("post", "leg", "sill") or roles.index("post") > 0


@pytest.mark.parametrize("key", DEFAULTS)
def test_only_what_stands_is_held_and_only_what_is_screwed_has_screws(plans, key):
    """Rails on the ground need no second person; free feet have no screws, and soil beside a leg is not taken off."""
    for off in take_down(plans[key]):
        if off.how.startswith("Two people"):
            assert off.what in ("post", "leg", "hoop")
        if "screws" in off.how:
            assert "screwed" in off.what or off.label in ("wall tie", "bed rail")
        assert off.label != "bed soil"
    told = [off.how.startswith("Two people") for off in take_down(plans[key])]
    assert any(told) == (key != "raised_bed")  # whose posts are short and rest in its rails


def test_soil_is_kept_and_a_cut_lining_is_not(plans):
    """A bed built again longer: its old soil goes back in and is topped up, its lining is bought anew."""
    old = plans["raised_bed"]
    new = gardenframe.plan(builds.ALL["raised_bed"](length_m=3.0), live=True)
    rows = {row.item: row for row in reuse(old, new).out_of_old.bill_rows}
    assert rows["roll-bed-fabric-4ftx50ft"].on_hand == 0
    soil = {need.item: need.number for need in old.goods() if need.group == "soil"}
    assert rows["topsoil-m3"].on_hand == pytest.approx(soil["topsoil-m3"], abs=0.001)


def test_the_same_again_buys_no_tube():
    """An old trellis gives a new one of the same size: no stick, and every old piece is used as it is."""
    old = gardenframe.plan(Trellis())
    found = reuse(old, gardenframe.plan(Trellis()))
    assert sum(sum(cutting.bought.values()) for cutting in found.out_of_old.cutting.values()) == 0
    assert found.used == straight_pieces(old)
    assert found.left == {}
    assert found.saved > 0


@pytest.mark.parametrize("tape", ["mm", "1/16 in"])
@pytest.mark.parametrize("key", ["cold_frame", "enclosure", "grow_stand", "trellis"])
def test_pieces_come_back_as_they_were_cut(key, tape):
    """A build without bends that is built again buys no stick, wherever its lengths lie between marks of the tape."""
    old = gardenframe.plan(builds.ALL[key](), shop=Shop(tape=tape), live=True)
    assert not any(row.bought for row in reuse(old, old).out_of_old.bill_rows if row.group == "sticks")


@pytest.mark.outside("studies.next_season", source="second-method")
def test_a_lower_trellis_out_of_a_higher_one_by_hand():
    """Three posts of 2073 mm are cut shorter, five rails serve as they are; net, ties and screws are bought.

    1830 mm wide and high on a bed of 280, tube of 29.5402, fittings that stop 22 mm short (invented): posts 1830 + 280
    less half a tube and 22, the top rail 1830 less a tube and 44, the others half the way between axes less 44.
    """
    old, new = gardenframe.plan(Trellis()), gardenframe.plan(Trellis(height_m=1.5))
    found = reuse(old, new)
    tube, used = 29.5402, found.used["emt-1"]
    by_hand = [1830 + 280 - tube / 2 - 22, 1830 - tube - 44, (1830 - tube) / 2 - 44]
    ours = sorted(used, reverse=True)
    assert ours == as_worked(by_hand, "mm", "tubes at hand, cut to a whole millimetre, added up", abs=0.5)
    numbers = [used[length] for length in ours]
    assert numbers == as_worked([3, 1, 4], "", "posts, top rail and other rails that serve again", abs=0)
    assert used == {2073: 3, 1756: 1, 856: 4}
    bought = found.out_of_old.bill.set_index("item")["bought"]
    assert "emt-1" not in bought or bought["emt-1"] == 0
    assert bought["strap-2-emt-1"] == 0
    assert bought["tie-200"] > 0
    assert bought["lag-1/4"] > 0


def test_what_is_left_and_what_is_used_make_up_the_old_one():
    """A wide A-frame out of a small trellis: counts of old pieces are kept, and sticks are bought."""
    old, new = gardenframe.plan(Trellis(width_m=1.2, height_m=1.2)), gardenframe.plan(Trellis(width_m=3.0, bays=3))
    found = reuse(old, new)
    for member, lengths in straight_pieces(old).items():
        used, left = sum(found.used[member].values()), sum(found.left.get(member, {}).values())
        assert used + left == sum(lengths.values())
    assert sum(sum(cutting.bought.values()) for cutting in found.out_of_old.cutting.values()) > 0
    assert found.out_of_old.cost.usual <= found.alone.cost.usual


def test_bent_pieces_are_not_cut_again():
    """A half hoop is no length at hand."""
    old = gardenframe.plan(builds.ALL["walkway_arch"]())
    bent = {piece.mark for piece in old.cut if piece.bends}
    assert bent
    straight = sum(sum(lengths.values()) for lengths in straight_pieces(old).values())
    assert straight == sum(piece.count for piece in old.cut if not piece.bends)
