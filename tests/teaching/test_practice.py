"""Check yourself and guess first: right answers worked by hand, every slip told, nonsense answered in one sentence."""

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import gardenframe
from gardenframe.builds import Trellis
from gardenframe.errors import InputError
from gardenframe.teaching import controls, practice
from gardenframe.teaching.practice import guesses, questions
from gardenframe.teaching.practice.questions import Drawn, PracticeError, Question, Slip
from gardenframe.teaching.settings import FILE

ALL = (*practice.TRELLIS, *practice.BENDING, *practice.STANDING)
SYSTEMS = ("metric", "us")
IN = 0.0254
TUBE = {"tube": "EMT 1 in", "outer_mm": 29.54, "stop_mm": 22.0}
TUBE_US = {"tube": "EMT 1 in", "outer_mm": 1.163 * 25.4, "stop_mm": 0.875 * 25.4}

# question, system, numbers, answer: each worked with pencil and paper, the sum beside it
BY_HAND = [
    # (1830 - 29.54) / 2 = 900.23; less 2 x 22 = 856.23
    (practice.RAIL, "metric", {"width_m": 1.83, "bays": 2, **TUBE}, "856 mm", 0.85623),
    # (72 - 1.163) / 2 = 35.4185; less 2 x 0.875 = 33.6685; nearest sixteenth 33 11/16 = 33.6875
    (practice.RAIL, "us", {"width_m": 72 * IN, "bays": 2, **TUBE_US}, "2 ft 9 11/16 in", 33.6685 * IN),
    # 1830 + 280 - 14.77 - 22 = 2073.23
    (practice.POST, "metric", {"height_m": 1.83, "bed_m": 0.28, **TUBE}, "2073 mm", 2.07323),
    # 72 + 11 - 0.5815 - 0.875 = 81.5435; nearest sixteenth 81 9/16 = 81.5625
    (practice.POST, "us", {"height_m": 72 * IN, "bed_m": 11 * IN, **TUBE_US}, "6 ft 9 9/16 in", 81.5435 * IN),
    # beside a post of 2000 there is 1048: one rail of 900; 8 rails, 5 beside posts, 3 over: one stick holds 3 (2702)
    (practice.STICKS, "metric", {"posts": 5, "rails": 8, "post_m": 2.0, "rail_m": 0.9, "stick_m": 3.048,
                                 "kerf_mm": 1.0, "mark_m": 0.001}, "6", 6),
    # beside a post of 72 in there is 48: one rail of 40; 6 rails, 4 beside posts, 2 over: one stick holds 2
    (practice.STICKS, "us", {"posts": 4, "rails": 6, "post_m": 72 * IN, "rail_m": 40 * IN, "stick_m": 3.048,
                             "kerf_mm": 25.4 / 16, "mark_m": IN / 16}, "5 sticks", 5),
    # 3048 - 1500 - 2 x 600 - 2 x 2 = 344
    (practice.ROOM, "metric", {"post_m": 1.5, "rail_m": 0.6, "stick_m": 3.048, "kerf_mm": 2.0}, "34.4 cm", 0.344),
    # 120 - 60 - 2 x 24 - 2 x 1/8 = 11 3/4
    (practice.ROOM, "us", {"post_m": 60 * IN, "rail_m": 24 * IN, "stick_m": 3.048, "kerf_mm": 25.4 / 8},
     "11 3/4", 11.75 * IN),
    # 23 x 1.08 = 24.84
    (practice.COST, "us", {"tube": "EMT 1 in", "stick_price": 23.0, "tax_share": 0.08, "sticks": 4}, "$24.84", 24.84),
    # 100 x 2^2 / 8 = 50
    (practice.ONE_SPAN, "metric", {"load_n_per_m": 100.0, "span_m": 2.0, "unit_m": 1.0}, "50 N m", 50.0),
    # 10 lbf/ft x 6^2 / 8 = 45 lbf ft; 1 lbf ft = 1.3558179 N m
    (practice.ONE_SPAN, "us", {"load_n_per_m": 145.939029, "span_m": 6 * 0.3048, "unit_m": 0.3048}, "45 lbf ft",
     45 * 1.3558179),
    # 150 x 2^2 / 2 = 300
    (practice.ONE_POST, "metric", {"load_n_per_m": 150.0, "height_m": 2.0, "unit_m": 1.0}, "300 N m", 300.0),
    # 0.613 x 20^2 = 245.2; x 0.7 x 0.8 = 137.312
    (practice.GUST, "metric", {"wind_m_per_s": 20.0, "exposure": 0.7, "shelter": 0.8}, "137 Pa", 137.312),
    # (600 x 12)/(914.4 x 25.4) = 0.31000; x 4448 = 1378.9; half, then a third: 229.8138
    (practice.ONE_STAKE, "metric", {"hold_n": 4448.0, "tested_depth_mm": 914.4, "tested_width_mm": 25.4,
                                    "depth_m": 0.6, "wide_mm": 12.0}, "230 N", 229.8138),
]  # fmt: skip


def text_of(widget):
    """Return what a widget says, with plain spaces: on the page a number keeps its unit on its line."""
    return widget.value.replace("\N{NO-BREAK SPACE}", " ")


def said(drawn, value):
    """Return a value as a careful reader types it, finer than any mark."""
    kind = drawn.question.kind
    if kind == "count":
        return f"{value:.0f}"
    if kind == "money":
        return f"{value:.6f}"
    unit = {"moment": "N m", "pressure": "Pa", "force": "N"}.get(kind)
    return f"{value:.9g} {unit}" if unit else f"{value * 1000:.9g} mm"


@pytest.mark.parametrize(("question", "system", "numbers", "typed", "answer"), BY_HAND, ids=lambda v: str(v)[:24])
def test_an_answer_worked_by_hand_is_right(question, system, numbers, typed, answer):
    """The package comes to what pencil and paper come to, and takes it as it is typed."""
    drawn = Drawn(question, numbers, system)
    assert drawn.answer == pytest.approx(answer, rel=1e-6)
    assert drawn.judge(typed).right


# what each slip comes to for the first rail above, again by hand
RAIL_SLIPS = {
    "900.23 mm": "set-back forgotten",  # nothing taken off
    "878 mm": "set-back once",  # 900.23 - 22
    "871 mm": "outside for centre",  # 915 - 44
    "841.5 mm": "diameter for radius",  # (1830 - 59.08) / 2 - 44 = 841.46
    "857 mm": "rounding",  # up, where 856.23 is nearer to 856
    "85.6": "unit: centimetres were millimetres",
    "856 in": "unit: millimetres were inches",
    "856 cm": "unit: millimetres were centimetres",
    "33.7": "unit: inches were millimetres",  # 856.23 / 25.4 = 33.71
    "0.856": "unit: metres were millimetres",
    "2.809 m": "unit: feet were metres",  # 0.85623 / 0.3048 = 2.809
}


@pytest.mark.parametrize(("typed", "slip"), RAIL_SLIPS.items())
def test_a_slip_worked_by_hand_is_named(typed, slip):
    """A reader who slips is told which slip it looks like, not merely that it is wrong."""
    verdict = Drawn(*BY_HAND[0][::2][:2], "metric").judge(typed)
    assert not verdict.right
    assert verdict.slip == slip


def test_forgotten_kerf_and_too_few_sticks_are_named():
    """The saw left out: 348 for 344. Five sticks where the lengths add up to 17.2 m: 5.6 rounded down."""
    assert Drawn(practice.ROOM, BY_HAND[6][2], "metric").judge("348 mm").slip == "kerf left out"
    assert Drawn(practice.STICKS, BY_HAND[4][2], "metric").judge("5").slip == "rounded down"
    assert Drawn(practice.COST, BY_HAND[8][2], "us").judge("23").slip == "tax forgotten"
    assert Drawn(practice.ONE_SPAN, BY_HAND[9][2], "metric").judge("200 N m").slip == "as a post"
    assert Drawn(practice.ONE_POST, BY_HAND[11][2], "metric").judge("600 N m").slip == "at the top"


@settings(max_examples=40)
@given(st.integers(0, 10_000), st.sampled_from(ALL), st.sampled_from(SYSTEMS))
def test_right_is_right_and_every_slip_is_known(seed, question, system):
    """For any numbers: the answer as the package writes it is right, each slip is named, a seed asks the same again."""
    drawn = question.drawn(seed, system)
    assert drawn.judge(drawn.written(drawn.answer)).right
    for slip, wrong in drawn.slips:
        verdict = drawn.judge(said(drawn, wrong))
        assert (verdict.right, verdict.slip) == (False, slip.name)
    assert "{" not in drawn.ask + " ".join(drawn.hints) + drawn.judge(said(drawn, drawn.slips[0][1])).told
    assert question.drawn(seed, system).numbers == drawn.numbers
    working = drawn.working()
    assert drawn.written(drawn.answer) in working[-1].text


@settings(max_examples=25)
@given(st.integers(0, 10_000), st.sampled_from(SYSTEMS))
def test_a_rail_is_what_the_whole_road_cuts(seed, system):
    """The question's rail, in a trellis of that width, bays and tube, with the table's own set-back."""
    numbers = dict(practice.RAIL.drawn(seed, system).numbers)
    tube = "emt-" + numbers["tube"].removeprefix("EMT ").removesuffix(" in")
    plan = gardenframe.plan(Trellis(width_m=numbers["width_m"], bays=numbers["bays"], tube=tube))
    numbers["stop_mm"] = plan.fitted[0].row.centre_to_stop_mm
    rails = [piece.length_m for piece in plan.cut if piece.role == "rail"]
    mine = practice.RAIL.answer(numbers)  # rails that pass through are longer, or coupled
    assert any(length == pytest.approx(mine, abs=1e-9) for length in rails)


@settings(max_examples=25)
@given(st.integers(0, 10_000), st.sampled_from(SYSTEMS))
def test_sticks_are_what_a_count_by_hand_gives(seed, system):
    """Every post takes its own stick; rails beside posts, the rest by as many as one stick holds."""
    n = practice.STICKS.drawn(seed, system).numbers
    stick, post, rail = (round(n[key] / n["mark_m"]) for key in ("stick_m", "post_m", "rail_m"))
    beside, alone = (stick - post) // (rail + 1), (stick + 1) // (rail + 1)
    left = max(0, n["rails"] - n["posts"] * beside)
    assert practice.STICKS.answer(n) == n["posts"] + math.ceil(left / alone)


def test_a_bare_number_says_how_it_was_read():
    """856 is taken for millimetres, 33 11/16 for inches, and the reader is told so; a typed unit is not repeated."""
    metric, us = (Drawn(*BY_HAND[at][::2][:2], BY_HAND[at][1]) for at in (0, 1))
    assert metric.judge("856").text == "Read as 856 mm. Right: 856 mm."
    assert us.judge("33 11/16").text == "Read as 33.6875 in. Right: 2 ft 9 11/16 in."
    assert metric.judge("856 mm").text == "Right: 856 mm."
    assert metric.judge("700 mm").text.startswith("Not yet: it is more than that")
    assert "0.5 mm, half a mark" in metric.asks_for


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ("long", r"^Your answer: got 'long', needs a length such as 1\.8 m, 189 cm or 6 ft 2 1/2 in\.$"),
        ("", r"^Your answer: got nothing, needs a length"),
        ("3 kg", r"^Your answer: got '3 kg', needs a length .* kg is the unit of a mass\.$"),
        ("-5 mm", r"^Your answer: got '-5 mm', needs more than 0 mm\.$"),
        ("<b>9</b>", r"^Your answer: got '<b>9</b>', needs a length"),
    ],
)
def test_nonsense_gets_one_sentence(typed, sentence):
    """What, what came, what is allowed."""
    with pytest.raises(InputError, match=sentence):
        Drawn(*BY_HAND[0][::2][:2], "metric").judge(typed)


def test_half_a_stick_is_refused():
    """A count is whole; its word may follow it."""
    drawn = Drawn(*BY_HAND[4][::2][:2], "metric")
    assert drawn.judge("6 sticks").right
    with pytest.raises(InputError, match=r"^Your answer: got '4\.5 sticks', needs a whole number such as 3\. Type a"):
        drawn.judge("4.5 sticks")


def test_a_question_whose_slips_cannot_be_told_apart_is_refused():
    """Rather an error for whoever writes it than a wrong verdict for a reader."""
    twin = Question(
        key="twin", title="Twin", ask="{a_m}", kind="length", draw=lambda rng, system: {"a_m": 1.0},
        answer=lambda n: n["a_m"], slips=(Slip("same", lambda n: n["a_m"], "same"),), hints=(),
        working=lambda n, system: (), rounded=False,
    )  # fmt: skip
    with pytest.raises(PracticeError, match=rf"^twin: {questions.MOST_DRAWS} draws left slips"):
        twin.drawn(1)


def test_each_kind_says_what_to_type():
    """Money has no unit to type: its sentence asks for none."""
    asks = {question.kind: question.drawn(1).asks_for for question in ALL}
    assert asks["money"] == "An amount in USD, right within half a cent."
    assert asks["count"] == "A whole number of sticks."
    assert asks["moment"].endswith("a bare number is read as N m. Right within 1%.")


# --- on the page


@pytest.fixture
def fresh():
    """Forget guesses before and after."""
    practice.forget()
    yield
    practice.forget()


def test_the_page_checks_hints_and_draws_afresh():
    """A wrong answer is told its slip, nonsense leaves no verdict, other numbers leave an empty box."""
    asked = controls.practice(practice.RAIL, seed=3).asked["rail"]
    asked.entry.value = said(asked.drawn, dict((s.name, w) for s, w in asked.drawn.slips)["set-back forgotten"])
    assert "set-back looks forgotten" in asked.verdict.value
    asked.entry.value = "<i>"
    assert asked.verdict.value == ""
    assert "role='alert'" in asked.note.value
    assert "&lt;i&gt;" in asked.note.value
    asked.entry.value = asked.drawn.written(asked.drawn.answer)
    assert "Right" in asked.verdict.value
    assert "role='alert'" not in asked.note.value
    for at in range(3):
        assert asked.hint.description == f"Hint {at + 1} of 3"
        asked.next_hint()
        assert asked.hinted.value.count("<li>") == at + 1
    assert asked.worked.children == ()
    asked.fold.open()
    assert f"Answer: {asked.drawn.written(asked.drawn.answer)}." in text_of(asked.worked.children[-1])
    before = asked.drawn.numbers
    asked.afresh()
    assert asked.drawn.numbers != before
    assert (asked.entry.value, asked.verdict.value, asked.hinted.value) == ("", "", "")
    assert not asked.fold.is_open


def test_the_page_follows_the_unit_system():
    """Numbers are round in the reader's units; without a seed they differ from page to page."""
    page = controls.practice(practice.RAIL, practice.STICKS, seed=3)
    page.use("us")
    assert " in apart" in text_of(page.asked["rail"].ask)
    assert " mm" not in text_of(page.asked["rail"].ask)
    assert len({controls.practice(practice.RAIL).asked["rail"].seed for _ in range(8)}) > 1


def test_the_page_starts_in_the_units_of_the_settings(tmp_path, monkeypatch, fresh):
    """Without a system of its own; a number and its unit stand on one line."""
    monkeypatch.chdir(tmp_path)
    assert controls.practice(practice.RAIL).asked["rail"].system == "metric"
    (tmp_path / FILE).write_text('units = "us"\n', encoding="utf-8")
    page = controls.practice(practice.RAIL)
    assert (page.units.value, page.asked["rail"].system) == ("us", "us")
    assert re.search("\\d\N{NO-BREAK SPACE}in short of", page.asked["rail"].ask.value)
    assert controls.guess(practice.TRELLIS_GUESSES).units.value == "us"


def test_a_guess_is_kept_and_shown_beside_the_answer(fresh):
    """Nothing is revealed before; a cell run again finds the guess; the other units show the same guess."""
    first = controls.guess(practice.TRELLIS_GUESSES).asked["trellis-rail"]
    assert first.reveal.description == "Show me anyway"
    first.entry.value = "900"
    assert (first.reveal.description, first.beside.value) == ("Show the answer", "")
    again = controls.guess(practice.TRELLIS_GUESSES).asked["trellis-rail"]
    assert again.entry.value == "900 mm"
    again.show()
    assert "You guessed 900 mm; it is 856 mm: 5 % over." in text_of(again.beside)  # 900 / 856.23 = 1.051
    assert again.entry.disabled
    page = controls.guess(practice.TRELLIS_GUESSES)
    page.use("us")
    assert "2 ft 11 7/16 in; it is 2 ft 9 11/16 in" in text_of(page.asked["trellis-rail"].beside)


def test_a_guess_may_be_skipped_and_nonsense_is_no_guess(fresh):
    """A sentence by the box, the button still says anyway; then the answer alone."""
    asked = controls.guess(practice.TRELLIS_GUESSES).asked["trellis-sticks"]
    asked.entry.value = "a few"
    assert "Your guess: got &#x27;a few&#x27;, needs a whole number such as 3." in asked.note.value
    assert asked.reveal.description == "Show me anyway"
    asked.show()
    assert "It is 4 sticks." in text_of(asked.beside)


def test_what_is_guessed_at_follows_the_package():
    """856 mm by hand above; three posts with a rail each, then 1756 and 856 mm; 3048 - 2073 - 1 - 856 = 118."""
    rail, sticks, room = practice.TRELLIS_GUESSES
    assert rail.beside(None, "metric") == "It is 856 mm."
    assert sticks.beside(5, "metric") == "You guessed 5 sticks; it is 4 sticks: 1 more than it takes."
    assert room.beside(0.118, "metric") == "You guessed 118 mm; it is 118 mm: the same."
    assert room.beside(0.5, "metric").endswith("4 times as much.")
    assert room.beside(0.059, "metric").endswith("50 % under.")


def test_names_for_screen_readers_and_the_sentence_without_a_kernel(fresh):
    """Each box has its label; without a kernel one sentence stands there, and no number."""
    for page in (controls.practice(*practice.TRELLIS, seed=1), controls.guess(practice.TRELLIS_GUESSES)):
        data, _ = page._repr_mimebundle_()
        assert "not running yet" in data["text/html"]
        assert not re.search(r"\d", data["text/plain"])
        assert all(asked.entry.description in ("Your answer", "Your guess") for asked in page.asked.values())


def test_kept_guesses_are_forgotten_on_request(fresh):
    """For the next reader."""
    guesses.kept("x").value = 1.0
    practice.forget()
    assert guesses.kept("x").value is None
