"""Guess first: the reader's guess is kept, and shown beside the answer once that is wanted. No judgement."""

from collections.abc import Callable
from dataclasses import dataclass

from gardenframe import road, units
from gardenframe.builds.trellis import Trellis
from gardenframe.errors import InputError
from gardenframe.materials.shop import Shop

FAR = 3.0  # from this many times on, a ratio says more than per cent


@dataclass(frozen=True, slots=True, kw_only=True)
class Guess:
    """A question to guess at. `answer` is worked out only when it is shown, for "metric" or "us"."""

    key: str
    ask: str
    kind: str
    answer: Callable[[str], float]
    counted: tuple[str, str] = ("", "")
    ask_us: str = ""

    def asked(self, system: str) -> str:
        """Return the question as a reader of a unit system is asked it."""
        return self.ask_us if self.ask_us and system == "us" else self.ask

    def read(self, text: str, system: str) -> float:
        """Return the value of a guess; InputError, one sentence, where it cannot be read."""
        clean = text.lower().strip()
        for word in sorted(filter(None, self.counted), key=len, reverse=True):
            clean = clean.removesuffix(word).strip()
        try:
            value = units.parse(clean, self.kind, system, name="Your guess")
        except InputError as error:
            raise InputError("Your guess", text, error.needs, error.do) from None
        if value < 0:
            raise InputError("Your guess", text, f"{self.written(0, system)} or more")
        return value

    def written(self, value: float, system: str) -> str:
        """Return a value as a reader writes it."""
        return f"{units.write(value, self.kind, system)} {self.counted[0 if value == 1 else 1]}".strip()

    def beside(self, guess: float | None, system: str) -> str:
        """Return the guess beside the answer."""
        answer = self.answer(system)
        shown = self.written(answer, system)
        if guess is None:
            return f"It is {shown}."
        guessed = self.written(guess, system)
        return f"You guessed {guessed}; it is {shown}: {self._apart(guess, answer, guessed == shown)}."

    def _apart(self, guess: float, answer: float, same: bool) -> str:
        if same:
            return "the same"
        if self.kind == "count":
            return f"{abs(guess - answer):.0f} {'more' if guess > answer else 'fewer'} than it takes"
        if guess >= FAR * answer:
            return f"{guess / answer:.0f} times as much"
        share = abs(guess / answer - 1)
        return f"{f'{share:.0%}'.replace('%', ' %') if share >= 0.005 else 'less than 1 %'} " + (
            "over" if guess > answer else "under"
        )


@dataclass
class Kept:
    """What a reader guessed, and whether the answer was shown."""

    value: float | None = None
    shown: bool = False


KEPT: dict[str, Kept] = {}  # for as long as the kernel lives, so that a cell run again finds it


def kept(key: str) -> Kept:
    """Return what is kept under a key."""
    return KEPT.setdefault(key, Kept())


def forget() -> None:
    """Forget every guess, for the next reader."""
    KEPT.clear()


def _shop(system: str) -> Shop:
    return Shop(tape="mm" if system == "metric" else "1/16 in")


def _rail(system: str) -> float:
    pieces = road.plan(Trellis(), shop=_shop(system)).cut
    return min(piece.cut_m for piece in pieces if piece.role == "rail")


def _sticks(system: str, taller_m: float = 0.0) -> float:
    build = Trellis(height_m=Trellis().height_m + taller_m)
    return float(road.plan(build, shop=_shop(system), live=True).cutting["emt-1"].sticks)


def _room(system: str) -> float:
    """Return how much higher, by whole marks of the tape, with as many sticks: fewer never serve longer posts. [m]"""
    mark, now = (0.001 if system == "metric" else 0.0254 / 16), _sticks(system)
    low, high = 0, int(0.4 / mark)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if _sticks(system, middle * mark) == now else (low, middle)
    return low * mark


TRELLIS_GUESSES = (
    Guess(
        key="trellis-rail",
        ask="How long is one short rail between two posts? The posts do not stand 915 mm apart, and no rail is as long "
        "as the posts are apart.",
        ask_us="How long is one short rail between two posts? The posts do not stand 3 ft apart, and no rail is as "
        "long as the posts are apart.",
        kind="length",
        answer=_rail,
    ),
    Guess(
        key="trellis-sticks",
        ask="How many sticks of 3048 mm does it take?",
        ask_us="How many sticks of 10 ft does it take?",
        kind="count",
        answer=_sticks,
        counted=("stick", "sticks"),
    ),
    Guess(
        key="trellis-room",
        ask="How much higher could it be before it takes one stick more?",
        kind="length",
        answer=_room,
    ),
)
