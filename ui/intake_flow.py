"""Widgets in a row that goes on below where the row is full."""

# ruff: noqa: N802 - names that Qt calls

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget


class FlowLayout(QLayout):
    """Gives every widget the size it asks for, from left to right, then from top to bottom."""

    def __init__(self, parent: QWidget | None = None, gap: int = 6) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self._gap = gap
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:
        """Take an item at the end."""
        self._items.append(item)

    def count(self) -> int:
        """Return how many items there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        """Return an item, None where there is none."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        """Give an item up."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """Take no more than is needed."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """Say that a narrow place makes more rows."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height [px] of the rows at a width [px]."""
        return self._place(QRect(0, 0, width, 0), moves=False)

    def setGeometry(self, rect: QRect) -> None:
        """Put every widget in its place."""
        super().setGeometry(rect)
        self._place(rect, moves=True)

    def sizeHint(self) -> QSize:
        """Return the size of one long row."""
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        """Return the size of the largest widget."""
        size = QSize()
        for item in self._items:
            size = size.expandedTo(item.minimumSize())
        return size

    def _place(self, rect: QRect, *, moves: bool) -> int:
        x, y, row = rect.x(), rect.y(), 0
        for item in self._items:
            widget = item.widget()
            if widget is not None and widget.isHidden():
                continue
            size = item.sizeHint().boundedTo(QSize(max(rect.width(), 1), item.sizeHint().height()))
            if x > rect.x() and x + size.width() > rect.right() + 1:
                x, y, row = rect.x(), y + row + self._gap, 0
            if moves:
                item.setGeometry(QRect(x, y, size.width(), size.height()))
            x += size.width() + self._gap
            row = max(row, size.height())
        return y + row - rect.y()
