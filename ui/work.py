"""Work that takes longer than a frame: off the window's thread, told about, given up when stale."""

from __future__ import annotations

import logging
from collections.abc import Callable
from functools import partial
from threading import Event

from PySide6.QtCore import QObject, QThreadPool, Signal

from reformulate import ReformulateError, Stopped

logger = logging.getLogger(__name__)

Progress = Callable[[float], bool]
Work = Callable[[Progress], object]


class Worker(QObject):
    """Does one piece of work at a time; a new one takes the place of the last, whose result is lost.

    A result is told only if nothing was started, or given up, after the work that made it: a stale
    result never overwrites a newer one.
    """

    done = Signal(object)
    """The result of the last work started."""
    failed = Signal(str)
    """Why the last work started has no result."""
    progressed = Signal(float)
    """The fraction of it done."""
    busy_changed = Signal(bool)

    _came = Signal(int, object, str)
    _went_on = Signal(int, float)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._number = 0
        self._stop = Event()
        self._busy = False
        self._came.connect(self._on_came)
        self._went_on.connect(self._on_went_on)

    @property
    def busy(self) -> bool:
        """True while a result is waited for."""
        return self._busy

    def start(self, work: Work) -> None:
        """Begin; ``work`` is called on another thread with a function that takes progress.

        That function returns False once nobody waits for the result any more.
        """
        self._stop.set()
        self._stop = Event()
        self._number += 1
        self._set_busy(busy=True)
        QThreadPool.globalInstance().start(partial(self._run, self._number, self._stop, work))

    def cancel(self) -> None:
        """Give up what is being done; nothing is told of it."""
        self._stop.set()
        self._number += 1
        self._set_busy(busy=False)

    def _run(self, number: int, stop: Event, work: Work) -> None:
        def progress(fraction: float) -> bool:
            if stop.is_set():
                return False
            self._tell(partial(self._went_on.emit, number, fraction))
            return not stop.is_set()

        if stop.is_set():  # it has waited for a thread, and nobody waits for it any more
            return
        try:
            result, words = work(progress), ""
        except Stopped:
            return
        except ReformulateError as error:
            result, words = None, str(error)
        self._tell(partial(self._came.emit, number, result, words))

    def _tell(self, emit: Callable[[], object]) -> None:
        try:
            emit()
        except RuntimeError:  # the window is gone, and this object with it
            logger.info("a result came after the window was closed")

    def _on_came(self, number: int, result: object, words: str) -> None:
        if number != self._number:
            return
        self._set_busy(busy=False)
        if words:
            self.failed.emit(words)
        else:
            self.done.emit(result)

    def _on_went_on(self, number: int, fraction: float) -> None:
        if number == self._number:
            self.progressed.emit(fraction)

    def _set_busy(self, *, busy: bool) -> None:
        if busy != self._busy:
            self._busy = busy
            self.busy_changed.emit(busy)
