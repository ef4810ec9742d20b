"""The workbook of later seasons: what its pages say against recomputed lives, a plan's own cost, and by hand."""

import pytest

import gardenframe
from gardenframe import builds
from gardenframe.materials.lives import load_lives
from gardenframe.output.offered import FOLDER
from gardenframe.output.saved import save
from gardenframe.teaching import controls, season_results

SHIPPED = {"site": gardenframe.Site(), "shop": gardenframe.Shop()}


@pytest.mark.parametrize(
    ("place", "coating", "said"),
    [("C3", "20", "16 to 57"), ("C3", "10", "6.8 to 26"), ("C4", "10", "2.9 to 6.8"), ("C1", "20", "over 100")],
)
def test_the_life_of_zinc_on_the_page(place, coating, said):
    """Recomputed apart from ISO 9224: 10 um last 26.2, 6.8 and 2.9 years at 0.7, 2.1 and 4.2; 20 um 56.9 and 16.0."""
    care = controls.looking_after(**SHIPPED)
    care.inputs.controls["place"].main.value = place
    care.type("coating_um", coating)
    assert (care.number("zinc"), care.error) == (said, "")


def test_what_is_spent_is_the_bill_with_its_covering_bought_again():
    """Net that lasts two seasons is bought at the start of seasons 1, 3, 5, 7 and 9; all else once in ten."""
    plan = gardenframe.plan(builds.Trellis())
    net = plan.bill.set_index("item").loc["roll-trellis-net-150-5ftx30ft", "cost"]
    assert load_lives()["emt"].usual_seasons >= 10
    care = controls.looking_after(**SHIPPED)
    assert care.number("spent") == f"${plan.cost.usual + 4 * net:.2f}"
    assert care.number("season") == f"${(plan.cost.usual + 4 * net) / 10:.2f}"


def test_the_loss_by_hand_has_its_units_and_powers():
    """What a reader copies to a pocket calculator: 2.1 times 16 to the power 0.813 is 20 µm; years are called years."""
    care = controls.looking_after(**SHIPPED)
    assert "t = 16 years" in care.page.value
    assert "2.1 × 16⁰·⁸¹³" in care.page.value
    care.type("coating_um", "30")
    assert "t = 26.2 years" in care.page.value
    assert "t₀ = 20 years" in care.page.value
    assert "^" not in care.page.value


def test_the_year_in_which_a_family_is_back_is_shown():
    """Three years away from four beds: in the fourth year each crop stands where it stood this year."""
    crops = controls.next_crops(**SHIPPED)
    rows = {row.split("</td>")[0]: row.split("</td>", 1)[1] for row in crops.page.value.split("<tr><td>")[1:]}
    assert rows["This year"].split("</tr>")[0] == rows["In 4 years"].split("</tr>")[0]
    assert rows["This year"].split("</tr>")[0] != rows["In 3 years"].split("</tr>")[0]
    crops.type("gap", "4")
    assert (crops.error, "In 4 years" in crops.page.value) == ("", False)


def test_crops_that_move_are_counted_and_a_short_bed_keeps_its_frame():
    """Three families and a rest: three move; the frame of a bed of 3 m cannot follow to one of 1.8 m."""
    crops = controls.next_crops(**SHIPPED)
    assert crops.number("moved") == "3"
    for number in (1, 2, 3, 4):
        crops.type(f"wide_{number}_m", "3 m" if number == 1 else "1.8 m")
    assert "The frame of bed 1, 3000 mm long" in crops.page.value
    assert "it is too long" in crops.page.value


def test_saved_builds_and_every_example_can_be_looked_after(tmp_path):
    """A list offers the reader's own first, also an own frame, then every example; the plan is of the one chosen."""
    examples = sum(len(kind.examples) for kind in builds.ALL.values())
    assert len(season_results.builds_to_choose()) == examples
    save(builds.Trellis(width_m=1.7), "Beans by the wall", tmp_path / FOLDER)
    save(builds.KINDS["own_frame"](), "Screen", tmp_path / FOLDER)
    care = controls.looking_after(**SHIPPED, folder=tmp_path)
    assert len(care.offered) == examples + 2
    first = {one.label for one in list(care.offered.values())[:2]}
    assert first == {"Yours: Trellis: Beans by the wall", "Yours: Own frame: Screen"}
    at = next(key for key, one in care.offered.items() if "Beans" in one.label)
    care.inputs.controls["build"].main.value = at
    plan = gardenframe.plan(builds.Trellis(width_m=1.7))
    assert care.number("spent") != ""
    assert (care.plan_of(at).build, care.plan_of(at).cost.usual) == (plan.build, plan.cost.usual)
    old = controls.out_of_old(**SHIPPED, folder=tmp_path)
    old.inputs.controls["old"].main.value = at
    assert (old.error, old.number("saved") != "") == ("", True)
