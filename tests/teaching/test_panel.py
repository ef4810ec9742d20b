"""The panel without a browser: every control moved, nonsense typed, units switched, and no stale number."""

import asyncio
import dataclasses
import threading
import time

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import gardenframe
from gardenframe import units
from gardenframe.builds import ALL, Trellis, fields
from gardenframe.materials.shop import Shop
from gardenframe.materials.site import Site
from gardenframe.teaching import controls, results, start
from gardenframe.teaching.controls import sweep
from gardenframe.teaching.controls.fold import Fold
from gardenframe.teaching.pace import Rest
from gardenframe.teaching.values import name_of

LIVE = ("drawing", "pieces", "fittings", "cutting", "bill", "working", "steps", "cautions")


@pytest.fixture
def panel():
    """Return the trellis's panel with the headings that are open at first."""
    return controls.panel(Trellis)


@pytest.mark.parametrize("kind", ALL.values(), ids=lambda kind: kind.key)
def test_every_control_moves_to_both_ends(kind):
    """Each of a build's fields is swept with every live heading open; each move gives a plan or a sentence."""
    swept = controls.panel(kind, opened=LIVE).sweep()
    assert swept.controls == len(kind.fields())
    assert 2 * swept.controls <= swept.moves
    assert swept.refused < swept.moves / 3


def test_a_refused_move_is_counted(panel):
    """Bays at their end do not fit 1830 mm: 12 bays would be 152 mm wide, and 250 mm is the least."""
    panel.control("bays").slider.value = 12
    assert panel.error == "Bays: got 12, needs at most 7 in that width. A bay is at least 250 mm."
    assert panel.plan is None
    panel.control("bays").slider.value = 7
    assert panel.error == ""


def test_nonsense_in_every_box(panel):
    """Every numeric box refuses what it cannot read, leaves it there, and comes back."""
    assert panel.nonsense() == sum(field.kind not in ("choice", "flag") for field in Trellis.fields())


def test_an_error_blanks_every_result_and_stands_by_its_control(panel):
    """The sentence is in the control's own note; key numbers, pages and lines beside headings are empty."""
    panel.open(*LIVE)
    panel.type("width_m", "rubbish")
    shown = panel.shown
    assert panel.error.startswith("Width: got 'rubbish', needs a length")
    assert "role='alert'" in panel.control("width_m").note.value
    assert "rubbish" not in panel.control("height_m").note.value
    assert shown.numbers.value == ""
    assert all(shown.pages[key].value == "" for key in LIVE)
    assert [fold.head.description for fold in shown.folds.values()] == [f.heading for f in shown.folds.values()]
    assert panel.control("width_m").main.value == "rubbish"
    panel.type("width_m", "1.83 m")
    assert panel.error == ""
    assert "$" in shown.numbers.value


def test_the_page_says_what_the_package_says(panel):
    """Numbers on the page are those of `plan`, in both unit systems."""
    panel.set("width_m", 2.5)
    panel.set("bays", 3)
    plan = gardenframe.plan(Trellis(width_m=2.5, bays=3))
    assert f"<strong id='gf-cost'>${plan.cost.usual:,.2f}</strong>" in panel.shown.numbers.value
    longest = plan.pieces["cut_mm"].max()
    assert f"<strong id='gf-longest'>{longest:.0f} mm</strong>" in panel.shown.numbers.value
    panel.use("us")
    us = gardenframe.plan(Trellis(width_m=2.5, bays=3), shop=Shop(tape="1/16 in"))
    written = units.write(us.pieces["cut_mm"].max() / 1000, "length", "us")
    assert f"<strong id='gf-longest'>{written}</strong>" in panel.shown.numbers.value


MOVES = st.one_of(
    st.tuples(st.just("use"), st.sampled_from(["metric", "us"])),
    st.tuples(st.just("open"), st.sampled_from(LIVE)),
    st.tuples(st.just("echo"), st.sampled_from(["width_m", "height_m", "bed_depth_m", "tie_spacing_m"])),
)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.floats(0.5, 6.0), st.floats(0.5, 3.0), st.lists(MOVES, max_size=6))
def test_looking_never_changes_what_was_chosen(width, height, moves):
    """Units switched, headings opened, a browser echoing where a slider stands: all exact."""
    panel = controls.panel(Trellis, opened=())
    panel.set("width_m", width)
    panel.set("height_m", height)
    before = dict(panel.values.kept)
    panel.rest.held = True  # proofs change no value, and take most of the time
    for what, which in moves:
        if what == "use":
            panel.use(which)
        elif what == "open":
            panel.open(which)
        else:
            slider = panel.control(which).slider
            slider.notify_change({"name": "value", "old": 0, "new": slider.value, "owner": slider, "type": "change"})
    assert panel.values.kept == before
    panel.use("metric")
    panel.rest.held = False
    panel.open("fittings")
    assert panel.values.kept == before


def test_sliders_stand_on_whole_steps(panel):
    """A place that is no whole number comes back from a browser with other last digits, and late."""
    for system in ("us", "metric"):
        panel.use(system)
        for control in panel.inputs[0].controls.values():
            assert control.slider is None or isinstance(control.slider.value, int)
    panel.control("height_m").slider.value = 186
    assert panel.values.kept["height_m"] == 1.86


def test_typed_lengths_are_taken_in_either_system(panel):
    """6 ft 2 1/2 in is 1.8923 m wherever it is typed, and the slider follows to its nearest step."""
    panel.type("width_m", "6 ft 2 1/2 in")
    assert panel.values.kept["width_m"] == pytest.approx(1.8923, abs=1e-12)
    assert panel.control("width_m").slider.value == 189
    assert panel.control("width_m").main.value == "1892 mm"
    panel.use("us")
    assert panel.control("width_m").main.value == "6 ft 2 1/2 in"
    panel.type("width_m", "6'")
    assert panel.values.kept["width_m"] == pytest.approx(1.8288, abs=1e-12)


def test_fields_that_do_not_matter_are_not_seen(panel):
    """A slope belongs to a sloped trellis; a heading with nothing to choose goes too."""
    assert panel.control("slope_deg").box.layout.display == "none"
    panel.set("form", "sloped")
    assert panel.control("slope_deg").box.layout.display is None
    assert panel.control("stays").box.layout.display == "none"


def test_fields_that_matter_first_stand_open_and_the_rest_are_folded(panel):
    """A beginner meets the first fields alone; the others stand under their own headings, closed."""
    inputs = panel.inputs[0]
    folded = {key for keys in inputs.groups.values() for key in keys}
    assert folded == {field.key for field in Trellis.fields() if not field.first}
    assert not any(fold.is_open for fold in inputs.folds.values())
    panel.type("tie_spacing_m", "9 m")
    assert inputs.folds["Covering"].is_open


def test_starting_from_an_example(panel):
    """An example's values come in whole, the list says which it is, and another value makes it the reader's own."""
    name = "Melons on a slope (plot 2, invented)"
    panel.start_from(name)
    assert panel.plan.build == Trellis(**Trellis.examples[name])
    panel.set("bays", 3)
    assert panel.begin.value == "your own"
    panel.set("bays", 2)
    assert panel.begin.value == name


def test_closed_headings_cost_nothing(panel):
    """The bill's page is not written until it is opened, and then at every step."""
    assert panel.shown.pages["bill"].value == ""
    panel.open("bill")
    assert "Together" in panel.shown.pages["bill"].value
    before = panel.shown.pages["bill"].value
    panel.set("width_m", 3.0)
    assert panel.shown.pages["bill"].value != before


def test_an_unexpected_fault_is_said_and_leaves_no_number(panel, monkeypatch):
    """A fault in the package is one sentence on the page, and the sweep does not pass over it."""
    monkeypatch.setattr(Trellis, "frame", lambda self, shop: 1 / 0)
    panel.set("width_m", 2.0)
    assert panel.error.startswith("This could not be worked out (ZeroDivisionError")
    assert panel.shown.numbers.value == ""
    with pytest.raises(AssertionError, match="not expected: ZeroDivisionError"):
        sweep.true_to_page(panel)


def test_the_sweep_sees_a_stale_number(panel):
    """A number left on a blank page stops the sweep: the check can fail."""
    panel.type("width_m", "rubbish")
    panel.shown.numbers.value = "$230.10"
    with pytest.raises(AssertionError, match="a number is left on the page"):
        sweep.true_to_page(panel)


def test_more_controls_change_the_shop():
    """A further set of fields stands under its heading and changes what is bought."""
    kerf = fields.Field(
        key="trim_mm", label="Trim", kind="number", default=0.0, low=0.0, high=500.0, step=10.0, help="Off each stick."
    )

    def trimmed(values, site, shop):
        return site, Shop(trim_mm=values["trim_mm"], tape=shop.tape)

    panel = controls.panel(
        Trellis, extra=[controls.Extra(heading="Shop", fields=(kerf,), apply=trimmed)], opened=("cutting",)
    )
    sticks = panel.plan.cutting["emt-1"].sticks
    panel.set("trim_mm", 400.0)
    assert panel.plan.cutting["emt-1"].sticks > sticks
    panel.set("trim_mm", 0.0)
    assert panel.sweep().controls == len(Trellis.fields()) + 1


def test_what_is_saved_beside_a_panel_is_one_sentence_and_a_picture(panel):
    """Without a kernel the page says how to start; the text is the same in every run."""
    data, _ = panel._repr_mimebundle_()
    assert data["text/plain"] == start.SENTENCE
    assert start.SENTENCE in data["text/html"]
    assert "alt='In the menu at the top, open Run and choose Run All Cells." in data["text/html"]
    assert "application/vnd.jupyter.widget-view+json" in data


def test_labels_are_on_the_boxes(panel):
    """Every box, list and slider carries its field's name, with what a size is measured to."""
    for key, control in panel.inputs[0].controls.items():
        name = name_of(Trellis.field(key))
        assert control.main.description == name
        assert control.slider is None or control.slider.description == name


def test_a_heading_opens_beside_another():
    """Opening one leaves the other open."""
    one, two = Fold("One", []), Fold("Two", [])
    one.open()
    two.open()
    assert one.is_open
    assert two.is_open
    assert one.head.icon == "chevron-down"


def test_slow_work_waits_and_the_last_wish_wins():
    """In a running loop, five wishes in a row are one piece of work; without a loop it is done at once."""
    done = []
    rest = Rest(lambda: done.append(1), wait_s=0.01)

    async def wishes():
        for _ in range(5):
            rest.ask()
        assert rest.waits
        assert done == []
        await asyncio.sleep(0.05)

    asyncio.run(wishes())
    assert done == [1]
    rest.ask()
    assert done == [1, 1]
    rest.held = True
    rest.ask()
    assert done == [1, 1]


def test_what_takes_seconds_is_worked_out_once(panel, monkeypatch):
    """Opening another heading, or coming back to a plan's page, leaves a page that came at rest as it is."""
    written = []
    slow = dataclasses.replace(panel.shown.sections["limits"], page=lambda plan, reader: written.append(plan) or "done")
    monkeypatch.setitem(panel.shown.sections, "limits", slow)
    panel.open("limits")
    assert (panel.shown.pages["limits"].value, len(written)) == ("done", 1)
    worked_out = panel.plan
    panel.rest.held = True
    panel.open("bill", "steps")
    assert panel.shown.pages["limits"].value == "done"
    assert panel.plan is worked_out
    panel.set("width_m", 2.0)
    assert "Being worked out" in panel.shown.pages["limits"].value
    panel.refine()
    assert (panel.shown.pages["limits"].value, len(written)) == ("done", 2)


def test_strength_is_worked_out_while_sliding_only_where_it_is_shown():
    """With its headings closed a step of a slider costs no solution of the frame; at rest the number is there."""
    page = controls.panel(Trellis, site=Site(), shop=Shop())
    page.rest.held = True
    page.set("height_m", 1.7)
    assert "standing" not in vars(page.plan)
    assert page.number("ratio") == "\u2026"
    page.refine()
    made = gardenframe.plan(Trellis(height_m=1.7))
    hardest = max(made.checks["ratio"].max(), made.anchors["ratio"].max())
    assert page.number("ratio") == f"{hardest:.2f}"
    page.open("ratios")
    page.set("height_m", 1.6)
    assert page.number("ratio") != "\u2026"


@pytest.mark.parametrize("after_s", [0.0, 0.15])
def test_what_rests_never_writes_over_a_sentence(monkeypatch, after_s):
    """Controls speak in threads of their own: nonsense typed while a plan is proved leaves no number on the page."""
    page = controls.panel(Trellis, site=Site(), shop=Shop())
    page.rest.held = True
    quick = results.key_numbers

    def slow(plan, *rest):
        numbers = quick(plan, *rest)
        if not plan.live:
            time.sleep(0.3)
        return numbers

    monkeypatch.setattr(results, "key_numbers", slow)
    page.set("height_m", 1.7)
    proving = threading.Thread(target=page.refine)
    proving.start()
    time.sleep(after_s)
    page.type("width_m", "very wide")
    proving.join()
    assert "very wide" in page.error
    assert page.plan is None
    assert page.shown.numbers.value == ""
