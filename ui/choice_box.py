"""A box to choose one of a list from, with the sign that all menus have here."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QComboBox


class ChoiceBox(QComboBox):
    """A combo box that opens at its ▾."""

    def paintEvent(self, event: QPaintEvent) -> None:
        """Add the sign."""
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setPen(self.palette().link().color())
        side = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(self.rect().adjusted(0, 0, -8, 0), side, "▾")
