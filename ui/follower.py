"""Keeps what a view shows in step with what it is asked for: after a rest, on another thread."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

from PySide6.QtCore import QObject, QTimer, Signal

from ui.progress_row import ProgressRow
from ui.work import Work, Worker

REST = 120
"""What is asked for has to rest this long before it is worked out anew [ms]."""

Asked = TypeVar("Asked")


class Follower(QObject, Generic[Asked]):
    """Works out what is wanted now; what is wanted no more is given up.

    ``work`` makes, of what is asked, the work that answers it. What is asked is compared with
    ``==``: the same again is not begun twice.
    """

    began = Signal()
    """Work on what is wanted begins."""
    done = Signal(object)
    """The result; ``shown`` is what it is the answer to."""
    failed = Signal(str)
    """Why there is no result; ``shown`` is what there is none for."""
    given_up = Signal()
    """The user gave it up; ``progress`` offers to begin again."""

    def __init__(self, work: Callable[[Asked], Work], name: str, parent: QObject) -> None:
        super().__init__(parent)
        self.shown: Asked | None = None
        """What the last result is the answer to; None before there is one, and once forgotten."""
        self.worker = Worker(self)
        self.progress = ProgressRow(self.worker, name)
        self._work = work
        self._wanted: Asked | None = None
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.timeout.connect(self._begin)
        self.progress.again.connect(self._begin)
        self.progress.cancelled.connect(self.given_up)
        self.worker.done.connect(self._on_done)
        self.worker.failed.connect(self._on_failed)

    def want(self, asked: Asked, *, rest: int = REST) -> None:
        """Work ``asked`` out after a rest [ms], unless it is being worked out already."""
        if asked == self._wanted:
            return
        self.worker.cancel()
        self._wanted = asked
        self.progress.forget()
        self._rest.start(rest)

    def leave_off(self) -> None:
        """Want nothing any more; what is shown stays."""
        self._rest.stop()
        self.worker.cancel()
        self._wanted = None
        self.progress.forget()

    def forget(self) -> None:
        """Want nothing, and take nothing as shown."""
        self.leave_off()
        self.shown = None

    def _begin(self) -> None:
        if self._wanted is not None:
            self.began.emit()
            self.worker.start(self._work(self._wanted))

    def _on_done(self, result: object) -> None:
        self.shown, self._wanted = self._wanted, None
        self.done.emit(result)

    def _on_failed(self, words: str) -> None:
        self.shown, self._wanted = self._wanted, None
        self.failed.emit(words)
