"""A label that gives way: what has no room ends in dots, and all of it stands in its tip."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QHelpEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QLabel, QToolTip


class ElidedLabel(QLabel):
    """One line of plain text as far as there is room; ``keep`` average letters stay in any case."""

    def __init__(self, keep: int = 1) -> None:
        super().__init__()
        self._keep = keep
        self.setTextFormat(Qt.TextFormat.PlainText)

    def minimumSizeHint(self) -> QSize:
        """Return room for what stays."""
        wanted = self.sizeHint()
        least = self._keep * self.fontMetrics().averageCharWidth()
        return QSize(min(least, wanted.width()), wanted.height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint what there is room for."""
        del event
        painter = QPainter(self)
        painter.setPen(self.palette().color(self.foregroundRole()))
        painter.drawText(self.contentsRect(), self.alignment(), self._shown())

    def event(self, event: QEvent) -> bool:
        """Tell all of the text where the pointer rests, if some of it is not shown."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            words = self.text() if self._shown() != self.text() else ""
            QToolTip.showText(event.globalPos(), words, self)
            return True
        return super().event(event)

    def _shown(self) -> str:
        room = self.contentsRect().width()
        return self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, room)
