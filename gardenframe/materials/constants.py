"""Constants of nature, of the trade and of published limits, each a row with its source."""

from dataclasses import dataclass
from functools import cache

from gardenframe import tables
from gardenframe.errors import InputError
from gardenframe.tables import Column

SCHEMA: tables.Schema = {
    "key": Column(kind="key"),
    "value": Column(kind="number"),
    "unit": Column(optional=True),
    "label": Column(),
    "source": Column(kind="source"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Constant:
    """One number. The unit ends its key, as it ends every name."""

    key: str
    value: float
    unit: str | None
    label: str
    source: str


def load_constants(table: tables.Table | None = None) -> dict[str, Constant]:
    """Return every constant by key."""
    return tables.keyed("constants.csv", SCHEMA, Constant, table)


@cache
def _ours() -> dict[str, Constant]:
    return load_constants()


def constant(key: str) -> Constant:
    """Return a constant with its unit and source; InputError where there is none of that name."""
    if key not in _ours():
        raise InputError("constant", key, "a key of constants.csv")
    return _ours()[key]


def value(key: str) -> float:
    """Return the number of a constant.

    >>> value("gravity_m_per_s2")
    9.81
    """
    return constant(key).value
