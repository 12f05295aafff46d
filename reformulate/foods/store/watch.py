"""Telling how far an import is, and stopping it when asked to."""

from __future__ import annotations

from collections.abc import Callable
from threading import Event

Progress = Callable[[float, str], None]
"""Takes what is done [fraction], never falling, and what is being done, in words."""
Cancel = Callable[[], bool] | Event
"""Says whether to stop: an event that is set, or a function that answers True."""


READ_UP_TO, WRITTEN_UP_TO = 0.65, 0.90
"""Share of the work that is done when all is read, and when all but the index is written
[fraction]; where nothing is gathered first, reading and writing go together."""


class Cancelled(Exception):  # noqa: N818 - an outcome inside this package, not a mistake
    """The import was asked to stop."""


class Watch:
    """Hears of every piece of work, reports it, and raises `Cancelled` when asked to stop.

    Reading takes up to ``reading`` of the whole [fraction]; the steps after it are told by hand.
    """

    def __init__(self, progress: Progress | None = None, cancel: Cancel | None = None) -> None:
        self._progress = progress
        self._cancel = cancel.is_set if isinstance(cancel, Event) else cancel
        self._told = -1.0
        self._words = ""
        self._total = 1
        self._read = 0
        self._reading = 1.0

    def begin(self, total_bytes: int, reading: float) -> None:
        """Start on ``total_bytes`` that are ``reading`` [fraction] of the work."""
        self._total, self._read, self._reading = max(total_bytes, 1), 0, reading
        self.tell(0.0, "Looking at the files")

    def read(self, amount: int, words: str) -> None:
        """Count ``amount`` further bytes as read."""
        self._read += amount
        self.tell(self._reading * min(1.0, self._read / self._total), words)

    def tell(self, fraction: float, words: str) -> None:
        """Report ``fraction`` as done, unless that would be news of less than a thousandth."""
        self.check()
        fraction = max(fraction, self._told)
        if self._progress is not None and (fraction - self._told >= 1e-3 or words != self._words):
            self._told, self._words = fraction, words
            self._progress(fraction, words)

    def check(self) -> None:
        """Raise `Cancelled` if asked to stop."""
        if self.asked_to_stop():
            raise Cancelled

    def asked_to_stop(self) -> bool:
        """Return whether to stop."""
        return self._cancel is not None and bool(self._cancel())
