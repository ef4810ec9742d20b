"""Slow work waits until the reader rests; a newer wish replaces the one before, so nothing queues."""

import asyncio
from collections.abc import Callable

REST_S = 0.35


class Rest:
    """Runs slow work once nothing has moved for a moment; at once where no event loop runs, as in tests."""

    def __init__(self, work: Callable[[], None], wait_s: float = REST_S) -> None:
        self.work, self.wait_s = work, wait_s
        self.held = False  # whether wishes are passed over: somebody else asks for the work
        self._waiting: asyncio.TimerHandle | None = None

    def ask(self) -> None:
        """Ask for the work; a wish that still waits is dropped."""
        self.drop()
        if self.held:
            return
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            loop = None
        if loop is None:
            self.work()
        else:
            self._waiting = loop.call_later(self.wait_s, self._run)

    def drop(self) -> None:
        """Forget a wish that waits."""
        if self._waiting:
            self._waiting.cancel()
            self._waiting = None

    @property
    def waits(self) -> bool:
        """Whether work waits to be done."""
        return self._waiting is not None

    def _run(self) -> None:
        self._waiting = None
        self.work()
