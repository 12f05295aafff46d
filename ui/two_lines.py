"""The delegate behind lists whose rows have a line of text over a smaller one."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QPainter
from PySide6.QtWidgets import QAbstractItemView, QStyledItemDelegate, QStyleOptionViewItem

from ui.theme import Theme
from ui.widgets import SMALL, scaled_font

Index = QModelIndex | QPersistentModelIndex


class TwoLineDelegate(QStyledItemDelegate):
    """Knows the height of two lines, writes them, and repaints when the colours change."""

    air = 9
    """Height beyond the two lines [px]."""

    def __init__(self, theme: Theme, view: QAbstractItemView) -> None:
        super().__init__(view)
        self._theme, self._view = theme, view
        theme.changed.connect(self._repaint)

    def _repaint(self) -> None:
        self._view.viewport().update()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: ARG002
        """Return room for two lines and some air."""
        return QSize(60, int(option.fontMetrics.height() * (1 + SMALL)) + self.air)

    def write(
        self,
        painter: QPainter,
        room: QRectF,
        first: tuple[str, QFont, QColor],
        second: str,
        side: Qt.AlignmentFlag = Qt.AlignmentFlag.AlignLeft,
    ) -> None:
        """Write one line over a smaller, quiet one; a single line stands in the middle."""
        text, font, colour = first
        painter.setFont(font)
        painter.setPen(colour)
        height = Qt.AlignmentFlag.AlignTop if second else Qt.AlignmentFlag.AlignVCenter
        painter.drawText(room, side | height, _elided(painter, text, room))
        if second:
            small = scaled_font(font, SMALL)
            small.setBold(False)
            painter.setFont(small)
            painter.setPen(self._theme.colour("muted"))
            painter.drawText(
                room, side | Qt.AlignmentFlag.AlignBottom, _elided(painter, second, room)
            )


def _elided(painter: QPainter, text: str, room: QRectF) -> str:
    return painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, int(room.width()))
