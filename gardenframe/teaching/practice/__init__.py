"""Check yourself and guess first, without a widget: questions, slips, verdicts, guesses.

`numbers` draws and writes numbers, `questions` asks and judges, `guesses` keeps guesses; `trellis`, `bending`,
`standing`, `arch`, `cold_frame`, `grow_stand`, `raised_bed` and `shade_frame` hold questions. A workbook defines its
own in a few lines: a `Question` with its numbers, answer, slips and hints.
`controls.practice(RAIL, STICKS)` and `controls.guess(TRELLIS_GUESSES)` show them.
"""

from gardenframe.teaching.practice.arch import ARCH, ARCH_GUESSES, GAIN, HEADROOM, HOOP
from gardenframe.teaching.practice.bending import BENDING, ONE_POST, ONE_SPAN
from gardenframe.teaching.practice.class_order import CLASS, CLASS_GUESSES, PACKED, SHARED
from gardenframe.teaching.practice.cold_frame import COLD_FRAME, COLD_FRAME_GUESSES, GUST_OPEN, LIFT, PROP
from gardenframe.teaching.practice.enclosure import ENCLOSURE, ENCLOSURE_GUESSES, HANGS, SQUARE, STRIPS
from gardenframe.teaching.practice.evidence import APART, EVIDENCE, EVIDENCE_GUESSES, ROUNDED
from gardenframe.teaching.practice.grow_stand import FALL, PUSH, STAND, STAND_GUESSES, WATER
from gardenframe.teaching.practice.guesses import TRELLIS_GUESSES, Guess, forget
from gardenframe.teaching.practice.hoop_house import FILM, HEATER, HOUSE, HOUSE_GUESSES, LARGEST
from gardenframe.teaching.practice.later import AGAIN, LATER, LATER_GUESSES, LOSS, ZINC
from gardenframe.teaching.practice.numbers import drawn, drawn_m, on_tape_m
from gardenframe.teaching.practice.own_frame import BRACE, HOOP_PATH, OWN, OWN_GUESSES
from gardenframe.teaching.practice.questions import Drawn, Question, Shown, Slip, Verdict
from gardenframe.teaching.practice.raised_bed import BAGS, BED, BED_GUESSES, FOOT, TIE
from gardenframe.teaching.practice.scale_model import BACK, MODEL, MODEL_GUESSES, SMALLER
from gardenframe.teaching.practice.shade_frame import LIGHT, OVERHANG, PULL, SHADE, SHADE_GUESSES
from gardenframe.teaching.practice.standing import GUST, ONE_STAKE, STANDING, STANDING_GUESSES
from gardenframe.teaching.practice.trellis import COST, POST, RAIL, ROOM, STICKS, TRELLIS
from gardenframe.teaching.practice.what_if import EVEN, MOST, SEASON, WHAT_IF, WHAT_IF_GUESSES

__all__ = [
    "AGAIN",
    "APART",
    "ARCH",
    "ARCH_GUESSES",
    "BACK",
    "BAGS",
    "BED",
    "BED_GUESSES",
    "BENDING",
    "BRACE",
    "CLASS",
    "CLASS_GUESSES",
    "COLD_FRAME",
    "COLD_FRAME_GUESSES",
    "COST",
    "ENCLOSURE",
    "ENCLOSURE_GUESSES",
    "EVEN",
    "EVIDENCE",
    "EVIDENCE_GUESSES",
    "FALL",
    "FILM",
    "FOOT",
    "GAIN",
    "GUST",
    "GUST_OPEN",
    "HANGS",
    "HEADROOM",
    "HEATER",
    "HOOP",
    "HOOP_PATH",
    "HOUSE",
    "HOUSE_GUESSES",
    "LARGEST",
    "LATER",
    "LATER_GUESSES",
    "LIFT",
    "LIGHT",
    "LOSS",
    "MODEL",
    "MODEL_GUESSES",
    "MOST",
    "ONE_POST",
    "ONE_SPAN",
    "ONE_STAKE",
    "OVERHANG",
    "OWN",
    "OWN_GUESSES",
    "PACKED",
    "POST",
    "PROP",
    "PULL",
    "PUSH",
    "RAIL",
    "ROOM",
    "ROUNDED",
    "SEASON",
    "SHADE",
    "SHADE_GUESSES",
    "SHARED",
    "SMALLER",
    "SQUARE",
    "STAND",
    "STANDING",
    "STANDING_GUESSES",
    "STAND_GUESSES",
    "STICKS",
    "STRIPS",
    "TIE",
    "TRELLIS",
    "TRELLIS_GUESSES",
    "WATER",
    "WHAT_IF",
    "WHAT_IF_GUESSES",
    "ZINC",
    "Drawn",
    "Guess",
    "Question",
    "Shown",
    "Slip",
    "Verdict",
    "drawn",
    "drawn_m",
    "forget",
    "on_tape_m",
]  # fmt: skip
