"""Questions of bending by hand: one span, one post, by the same formulas that stand beside the frame solver."""

from collections.abc import Iterator
from random import Random

from gardenframe.strength import beams
from gardenframe.teaching.practice.numbers import Numbers, drawn, drawn_m, foot_or_metre_m
from gardenframe.teaching.practice.questions import Question, Shown, Slip


def _loaded(rng: Random, system: str, length: str, low_m: float, high_m: float) -> Numbers:
    return {
        "load_n_per_m": drawn(rng, "line load", system, 60.0, 300.0, 5.0, 1.0),
        length: drawn_m(rng, system, low_m, high_m, 0.1, 6),
        "unit_m": foot_or_metre_m(system),
    }


def _span(n: Numbers, part: float = 1.0) -> float:
    return part * beams.simple_span_moment_n_m(n["load_n_per_m"], n["span_m"])


def _span_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown(step=beams.simple_span_moment_n_m.shown(n["load_n_per_m"], n["span_m"], system=system))


NOT_SQUARED = "The length looks not squared: twice the length is four times the moment."
ONE_SPAN = Question(
    key="one-span",
    title="One span by hand",
    ask="A rail spans {span_m:m} between two posts, free to turn at both. Crop and netting load it evenly with "
    "{load_n_per_m}. How large is the bending moment in its middle?",
    kind="moment",
    draw=lambda rng, system: _loaded(rng, system, "span_m", 1.0, 2.5),
    answer=_span,
    slips=(
        Slip("not squared", lambda n: _span(n) * n["unit_m"] / n["span_m"], NOT_SQUARED),
        Slip("as one load", lambda n: _span(n, 2.0), "That is all the load put in the middle: here it is spread."),
        Slip("as a post", lambda n: _span(n, 4.0), "That divides by 2, as for a post held at its foot: a span has two "
             "supports."),
        Slip("as fixed ends", lambda n: _span(n, 8 / 12), "That divides by 12, as for ends held from turning."),
    ),
    hints=("Load per length, times the span twice, over a whole number.", "For an even load between two supports: 8."),
    working=_span_working,
)  # fmt: skip


def _post(n: Numbers, part: float = 1.0) -> float:
    return part * beams.cantilever_moment_n_m(n["load_n_per_m"], n["height_m"])


def _post_working(n: Numbers, system: str) -> Iterator[Shown]:
    yield Shown(step=beams.cantilever_moment_n_m.shown(n["load_n_per_m"], n["height_m"], system=system))


ONE_POST = Question(
    key="one-post",
    title="One post by hand",
    ask="A post is held at its foot and free at its top, {height_m:m} above. Wind on the netting loads it evenly with "
    "{load_n_per_m}. How large is the bending moment at its foot?",
    kind="moment",
    draw=lambda rng, system: _loaded(rng, system, "height_m", 1.2, 2.5),
    answer=_post,
    slips=(
        Slip("not squared", lambda n: _post(n) * n["unit_m"] / n["height_m"], NOT_SQUARED),
        Slip("at the top", lambda n: _post(n, 2.0), "That puts all the wind at the top: spread evenly, its middle is "
             "half-way up."),
        Slip("as a span", lambda n: _post(n, 0.25), "That divides by 8, as for a span on two supports; this has one."),
    ),
    hints=("How large is the whole push, and how high above the foot is its middle?",
           "The whole push is {load_n_per_m} times {height_m:m}; its middle is half-way up."),
    working=_post_working,
)  # fmt: skip

BENDING = (ONE_SPAN, ONE_POST)
