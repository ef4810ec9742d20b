"""A value worked out when it is first asked for, and kept; without a lock.

Until Python 3.11 the one of `functools` holds a lock, shared by all objects of a class, while it works. JupyterLab runs
what controls send in threads of their own: two threads, each with a plan, then waited for each other for ever.
"""

import sys
from collections.abc import Callable, Hashable
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING or sys.version_info >= (3, 12):
    from functools import cached_property
else:
    _NONE = object()

    class cached_property:  # noqa: N801 - it stands for the one of functools
        """Work out an attribute once; two threads at the same time may both do it, and the last one's stays."""

        def __init__(self, func):
            self.func, self.__doc__ = func, func.__doc__

        def __set_name__(self, owner, name):
            self.attrname = name

        def __get__(self, instance, owner=None):
            if instance is None:
                return self
            kept = instance.__dict__
            value = kept.get(self.attrname, _NONE)
            if value is _NONE:
                value = kept[self.attrname] = self.func(instance)
            return value


T = TypeVar("T")


class Keeps:
    """What keeps other things that follow from it in its own `_kept`, for as long as it lives."""

    _kept: dict[Hashable, Any]

    def once(self, key: Hashable, make: Callable[[], T]) -> T:
        """What is worked out once and kept, under a key that says what else it is of."""
        if key not in self._kept:
            self._kept[key] = make()
        found: T = self._kept[key]
        return found


__all__ = ["Keeps", "cached_property"]
