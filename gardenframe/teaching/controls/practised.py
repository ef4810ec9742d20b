"""Check yourself and guess first on the page: boxes to type in, hints that open one by one, verdicts, the working.

What is right, which slip it looks like and what was guessed is worked out in `practice`; this shows it.
"""

import abc
from collections.abc import Iterable
from random import SystemRandom
from typing import Any

import ipywidgets as W  # noqa: N812 - the short name its own pages use

from gardenframe import working
from gardenframe.errors import InputError
from gardenframe.teaching import start
from gardenframe.teaching.controls.fold import Fold
from gardenframe.teaching.controls.names import Names
from gardenframe.teaching.controls.panel import SYSTEMS
from gardenframe.teaching.page import alert, escape, sentences, unbroken
from gardenframe.teaching.practice.guesses import Guess, kept
from gardenframe.teaching.practice.questions import Question
from gardenframe.teaching.settings_source import Source
from gardenframe.teaching.style import BLUE, CSS, LINE, PAPER, QUIET, WASH

LOOK = (
    CSS.replace(".gf-panel", ".gf-practice")
    + f"""<style>
.gf-practice .gf-asked {{ border: 1px solid {LINE}; border-radius: 4px; padding: 10px 12px;
  margin: 0 0 10px; gap: 8px; }}
.gf-practice .gf-asked > * {{ flex: 0 0 auto; }}
.gf-practice .gf-ask p {{ margin: 0; max-width: 82ch; }}
.gf-practice .gf-set {{ color: {QUIET}; font-size: 12.5px; font-weight: 400; }}
.gf-practice .gf-row {{ display: flex; flex-flow: row wrap; gap: 8px; align-items: center; }}
.gf-practice .gf-row > * {{ flex: 0 0 auto; }}
.gf-practice .gf-field .widget-text {{ width: auto; }}
.gf-practice .gf-field .widget-text .widget-label {{ flex: 0 0 auto; }}
.gf-practice .gf-field .widget-text input {{ flex: 0 0 180px; width: 180px; text-align: left; }}
.gf-practice button.gf-do {{ width: auto; height: 30px; line-height: 1.2; padding: 0 12px; border-radius: 3px;
  margin: 0; font: inherit; background: {PAPER}; color: {BLUE}; border: 1px solid {BLUE}; }}
.gf-practice button.gf-do.gf-main {{ background: {BLUE}; color: {PAPER}; font-weight: 600; }}
.gf-practice .gf-told {{ border-left: 4px solid #e69f00; background: #fff8e8; padding: 6px 10px; max-width: 82ch; }}
.gf-practice .gf-told.gf-right {{ border-left-color: {BLUE}; background: #eef6fb; }}
.gf-practice .gf-list {{ columns: 1; }}
.gf-practice .gf-said {{ flex-flow: column nowrap; gap: 8px; }}
.gf-practice .gf-said .gf-silent {{ display: none; }}
.gf-practice .gf-field input:disabled {{ opacity: 1; color: {QUIET}; background: {WASH}; }}
</style>"""
)


class _Page(abc.ABC):
    """What both have: the look, a bar with the unit system, cards, the sentence where no kernel runs."""

    title = ""

    def _laid_out(self, cards: Iterable[W.Widget], system: str) -> None:
        style = W.HTML(LOOK)
        style.add_class("gf-style")
        names = Names()
        names.add_class("gf-names")
        self.units = W.ToggleButtons(options=SYSTEMS, value=system, description="Units")
        self.units.add_class("gf-units")
        self.units.observe(lambda change: self.use(change["new"]), "value")
        bar = W.HBox([self.units])
        bar.add_class("gf-bar")
        held = W.VBox(list(cards))
        held.add_class("gf-questions")
        self.box = W.VBox([style, bar, held, names])
        self.box.add_class("gf-practice")

    @abc.abstractmethod
    def use(self, system: str) -> None:
        """Ask and answer in a unit system."""

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> Any:
        """Return the live page, and beside it the sentence that a page without a kernel shows."""
        bundle = self.box._repr_mimebundle_(include=include, exclude=exclude)
        data, metadata = bundle if isinstance(bundle, tuple) else (bundle, {})
        words = f"<p><strong>{escape(self.title)}.</strong> {escape(start.SENTENCE)}</p>"
        return {**data, "text/plain": start.SENTENCE, "text/html": words}, metadata


def _button(text: str, pressed: Any, main: bool = False) -> W.Button:
    button = W.Button(description=text)
    for name in ("gf-do", *(["gf-main"] if main else [])):
        button.add_class(name)
    button.on_click(lambda _: pressed())
    return button


def _boxed(label: str, note: W.HTML) -> tuple[W.Text, W.VBox]:
    text = W.Text(description=label, continuous_update=False)
    field = W.VBox([text, note])
    field.add_class("gf-field")
    return text, field


def _help(text: str, error: str = "") -> str:
    return alert(error) + f"<div class='gf-help'>{escape(text)}</div>"


def _told(text: str, right: bool = False) -> str:
    sign = "&#10003;" if right else "&#8226;"
    return f"<div class='gf-told{' gf-right' if right else ''}'><b>{sign}</b> {escape(unbroken(text))}</div>"


def _said(*parts: W.HTML) -> W.VBox:
    """Return where something is said: spoken by screen readers when it comes, and no gap while there is nothing."""
    for part in parts:
        part.observe(lambda change: _hush(change["owner"]), "value")
        _hush(part)
    box = W.VBox(parts)
    box.add_class("gf-said")
    return box


def _hush(part: W.HTML) -> None:
    (part.remove_class if part.value else part.add_class)("gf-silent")


class Asked:
    """One question on the page."""

    def __init__(self, question: Question, seed: int | None, system: str) -> None:
        self.question, self.system, self._showing = question, system, False
        self._repeats = seed is not None
        self.seed = self._any_seed() if seed is None else seed
        self.ask, self.note, self.verdict, self.hinted = W.HTML(), W.HTML(), W.HTML(), W.HTML()
        self.ask.add_class("gf-ask")
        self.entry, field = _boxed("Your answer", self.note)
        self.entry.observe(lambda _: self.check(), "value")
        self.hint = _button("Hint", self.next_hint)
        row = W.HBox([_button("Check", self.check, main=True), self.hint, _button("New numbers", self.afresh)])
        row.add_class("gf-row")
        self.worked = W.VBox()
        self.fold = Fold("Show the working", [self.worked])
        self.fold.on_open = self._work
        self.box = W.VBox([self.ask, field, row, _said(self.verdict, self.hinted), self.fold.box])
        self.box.add_class("gf-asked")
        self.begin()

    @staticmethod
    def _any_seed() -> int:
        return SystemRandom().randrange(1, 10_000)

    def begin(self) -> None:
        """Ask with the numbers of the seed; nothing is typed, hinted or told yet."""
        self.drawn, self.hints, self.error = self.question.drawn(self.seed, self.system), 0, ""
        title = f"<span class='gf-title'>{escape(self.question.title)}</span>"
        number = f"<span class='gf-set'>numbers no. {self.seed}</span>"
        self.ask.value = f"<h4>{title} {number}</h4><p>{escape(unbroken(self.drawn.ask))}</p>"
        self._showing = True
        self.entry.value = ""
        self._showing = False
        self.note.value = _help(self.drawn.asks_for)
        self.verdict.value = self.hinted.value = ""
        self._count_hints()
        self.worked.children = ()
        self.fold.close()

    def afresh(self) -> None:
        """Draw other numbers."""
        self.seed = self.seed + 1 if self._repeats else self._any_seed()
        self.begin()

    def use(self, system: str) -> None:
        """Ask in a unit system, with numbers that are round there."""
        self.system = system
        self.begin()

    def check(self) -> None:
        """Say what the answer is told, or one sentence why it cannot be read, and then no verdict."""
        if self._showing:
            return
        try:
            told = self.drawn.judge(self.entry.value)
        except InputError as error:
            self.error, self.verdict.value = str(error), ""
        else:
            self.error, self.verdict.value = "", _told(told.text, told.right)
        self.note.value = _help(self.drawn.asks_for, self.error)

    def next_hint(self) -> None:
        """Open one hint more."""
        self.hints = min(self.hints + 1, len(self.drawn.hints))
        self.hinted.value = sentences(map(unbroken, self.drawn.hints[: self.hints]), "ol")
        self._count_hints()

    def _count_hints(self) -> None:
        all_ = len(self.drawn.hints)
        self.hint.description = f"Hint {self.hints + 1} of {all_}" if self.hints < all_ else "All hints are open"

    def _work(self) -> None:
        """Write the working when it is first opened."""
        parts = []
        for shown in self.drawn.working():
            page = (
                W.HTMLMath(working.latex([shown.step]))
                if shown.step
                else W.HTML(f"<p>{escape(unbroken(shown.text))}</p>")
            )
            page.add_class("gf-math" if shown.step else "gf-words")
            parts.append(page)
        self.worked.children = tuple(parts)


class Practice(_Page):
    """Questions to check oneself with. Displays itself at the end of a cell."""

    title = "Check yourself"

    def __init__(self, questions: Iterable[Question], seed: int | None, system: str) -> None:
        self.asked = {question.key: Asked(question, seed, system) for question in questions}
        self._laid_out([asked.box for asked in self.asked.values()], system)

    def use(self, system: str) -> None:
        """Ask in a unit system; numbers are then round in it."""
        self.units.value = system
        for asked in self.asked.values():
            if asked.system != system:
                asked.use(system)


class Guessed:
    """One guess on the page."""

    def __init__(self, guess: Guess, number: int, system: str) -> None:
        self.guess, self.number, self.system, self._showing, self.error = guess, number, system, False, ""
        self.ask, self.note, self.beside = W.HTML(), W.HTML(), W.HTML()
        self.ask.add_class("gf-ask")
        self.entry, field = _boxed("Your guess", self.note)
        self.entry.observe(lambda _: self.keep(), "value")
        self.reveal = _button("", self.show)
        row = W.HBox([self.reveal])
        row.add_class("gf-row")
        self.box = W.VBox([self.ask, field, row, _said(self.beside)])
        self.box.add_class("gf-asked")
        self.write()

    def keep(self) -> None:
        """Keep the guess, or say in one sentence why it cannot be read."""
        if self._showing or kept(self.guess.key).shown:
            return
        try:
            kept(self.guess.key).value, self.error = self.guess.read(self.entry.value, self.system), ""
        except InputError as error:
            kept(self.guess.key).value, self.error = None, str(error)
        self.write()

    def show(self) -> None:
        """Show the answer, with the guess beside it."""
        kept(self.guess.key).shown, self.error = True, ""
        self.write()

    def use(self, system: str) -> None:
        """Ask and answer in a unit system."""
        self.system, self.error = system, ""
        self.write()

    def write(self) -> None:
        """Write what is so now."""
        mine, guess = kept(self.guess.key), self.guess
        self.ask.value = f"<p><b>{self.number}.</b> {escape(unbroken(guess.asked(self.system)))}</p>"
        self._showing = True
        if not self.error:
            self.entry.value = "" if mine.value is None else guess.written(mine.value, self.system)
        self._showing = False
        self.entry.disabled = mine.shown
        have = mine.value is not None
        text = "Kept. Go on, and come back to it." if have else "A guess is enough; nobody marks it."
        self.note.value = _help("" if mine.shown else text, self.error)
        self.reveal.description = "Show the answer" if have else "Show me anyway"
        self.reveal.layout.display = "none" if mine.shown else None
        self.beside.value = _told(guess.beside(mine.value, self.system)) if mine.shown else ""


class Guesses(_Page):
    """Questions to guess at first. Displays itself at the end of a cell."""

    title = "Guess first"

    def __init__(self, guesses: Iterable[Guess], system: str) -> None:
        self.asked = {guess.key: Guessed(guess, at, system) for at, guess in enumerate(guesses, start=1)}
        self._laid_out([asked.box for asked in self.asked.values()], system)

    def use(self, system: str) -> None:
        """Ask and answer in a unit system; a guess that is kept stays what it is."""
        self.units.value = system
        for asked in self.asked.values():
            if asked.system != system:
                asked.use(system)


def practice(*questions: Question, seed: int | None = None, system: str = "") -> Practice:
    """Return questions to check oneself with; with a seed they draw the same numbers again, in the same order.

    `system` is "metric" or "us"; without it, that of the working folder's settings.
    """
    return Practice(questions, seed, system or Source().system)


def guess(guesses: Iterable[Guess], system: str = "") -> Guesses:
    """Return questions to guess at first; guesses are kept as long as the kernel lives. `system` as for `practice`."""
    return Guesses(guesses, system or Source().system)
