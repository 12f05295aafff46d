"""Work that takes a while shows how far it is, and can be given up and begun again."""

from __future__ import annotations

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QWidget

from ui.widgets import named, tool_button
from ui.work import Worker

SLOW = 300
"""Work that takes longer than this shows how far it is [ms]."""


class ProgressRow(QWidget):
    """A bar and Cancel beside work that is slow; a button to begin again after it was given up."""

    cancelled = Signal()
    """The work was given up by the user."""
    again = Signal()
    """It is to be begun again."""

    def __init__(self, worker: Worker, name: str) -> None:
        super().__init__()
        self._worker = worker
        self.bar = named(QProgressBar(), f"{name} progress")
        self.bar.setRange(0, 100)
        self.bar.setTextVisible(False)
        self.bar.setFixedSize(120, self.bar.fontMetrics().height() // 2)
        self.bar.setAccessibleName("How far the work is")
        self.cancel = tool_button(f"{name} cancel", "Cancel")
        self._begin = tool_button(f"{name} again", "Work it out")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        for widget in (self.bar, self.cancel, self._begin):
            row.addWidget(widget)
            widget.hide()
        self._slow = QTimer(self)
        self._slow.setSingleShot(True)
        self._slow.setInterval(SLOW)
        self._slow.timeout.connect(lambda: self._show_bar(on=True))
        worker.busy_changed.connect(self._on_busy)
        worker.progressed.connect(lambda share: self.bar.setValue(round(100 * share)))
        self.cancel.clicked.connect(self._give_up)
        self._begin.clicked.connect(self.again)

    def forget(self) -> None:
        """Nothing waits to be begun again."""
        self._begin.hide()

    def _on_busy(self, busy: bool) -> None:
        if busy:
            self._begin.hide()
            self.bar.setValue(0)
            self._slow.start()
        else:
            self._slow.stop()
            self._show_bar(on=False)

    def _show_bar(self, *, on: bool) -> None:
        self.bar.setVisible(on)
        self.cancel.setVisible(on)

    def _give_up(self) -> None:
        self._worker.cancel()
        self._begin.show()
        self._begin.setFocus()
        self.cancelled.emit()
