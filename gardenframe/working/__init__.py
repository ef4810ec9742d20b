"""Shown arithmetic: formulas whose working is made from their own source."""

from gardenframe.working.arithmetic import FormulaError
from gardenframe.working.layout import Step
from gardenframe.working.record import FORMULAS, Formula, check, check_units, example_of, formula, latex, text

__all__ = [
    "FORMULAS",
    "Formula",
    "FormulaError",
    "Step",
    "check",
    "check_units",
    "example_of",
    "formula",
    "latex",
    "text",
]
