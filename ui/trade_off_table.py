"""The numbers of a trade-off curve as a table, row by row with the plot beside it."""

from __future__ import annotations

from textwrap import wrap
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt, Signal
from PySide6.QtGui import QFont, QFontMetrics, QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QApplication, QHeaderView, QTableView

from reformulate import CHANGE, CurveRow, TradeOff, curve_table, quantity_named

Index = QModelIndex | QPersistentModelIndex

PADDING = 8
FRAME = 3
"""What a style keeps round the words of a cell beyond that [px]."""
"""Left and right of what stands in a cell [px]."""

SLACK = 4
"""What the style adds to a cell of its own [px]."""

LONGEST = 16
"""Longest line of a column's title [characters]."""


class CurveTable(QAbstractTableModel):
    """The original, what there is now, then every point of the curve."""

    def __init__(self) -> None:
        super().__init__()
        self._rows: tuple[CurveRow, ...] = ()
        self._heads: tuple[str, str, str] = ("Point", "", "")
        self.before = 0
        """Rows before the first point [count]."""

    def show_curve(self, curve: TradeOff | None, now: tuple[float, float] | None) -> None:
        """Show a curve, or nothing."""
        self.beginResetModel()
        self._rows = curve_table(curve, now) if curve else ()
        self.before = len(self._rows) - len(curve.points) if curve else 0
        if curve:
            first, second = (_head(key) for key in (curve.first, curve.second))
            self._heads = ("Point", first, second)
        self.endResetModel()

    def show_now(self, curve: TradeOff, now: tuple[float, float] | None) -> None:
        """Show where the answer is, the rows staying what they are."""
        rows = curve_table(curve, now)
        if len(rows) != len(self._rows):
            self.show_curve(curve, now)
            return
        self._rows = rows
        self.dataChanged.emit(self.index(0, 0), self.index(self.before - 1, 2))

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Return the number of rows."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Return the number of columns."""
        return 0 if parent.isValid() else 3

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a column's title: the quantity, and its unit below."""
        if orientation is Qt.Orientation.Horizontal:
            if role == Qt.ItemDataRole.DisplayRole:
                return self._heads[section]
            if role == Qt.ItemDataRole.TextAlignmentRole:
                side = Qt.AlignmentFlag.AlignRight if section else Qt.AlignmentFlag.AlignLeft
                return side | Qt.AlignmentFlag.AlignBottom
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return a figure, or the name of a point and what is special about it."""
        if not index.isValid():
            return None
        row = self._rows[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return (_name(row), row.first, row.second)[index.column()]
        if role == Qt.ItemDataRole.TextAlignmentRole and index.column():
            return Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        if role == Qt.ItemDataRole.FontRole and row.is_knee:
            font = QFont(QApplication.font())
            font.setBold(True)
            return font
        if role == Qt.ItemDataRole.ToolTipRole and not row.keeps_swap_rules:
            return "Uses a swap less than its least amount, or too many: it may be out of reach."
        return None


class CurveTableView(QTableView):
    """Rows to walk through; Enter or a double click loads one."""

    pointed = Signal(int)
    """The point of this number was walked to."""
    chosen = Signal(int)
    """The point of this number is to be loaded."""

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("trade-off table")
        self.setAccessibleName("Points of the trade-off curve")
        self.setAccessibleDescription("Up and Down walk through the points, Enter loads one.")
        self._model = CurveTable()
        self._model.setParent(self)
        self.setModel(self._model)
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(1)
        self.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 7)
        header = self.horizontalHeader()
        header.setSectionsClickable(False)
        header.setHighlightSections(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.ResizeToContents)
        self.selectionModel().currentRowChanged.connect(self._on_current)
        self.doubleClicked.connect(lambda index: self._choose(index.row()))

    def show_curve(self, curve: TradeOff | None, now: tuple[float, float] | None) -> None:
        """Show a curve, no point of it walked to."""
        self._model.show_curve(curve, now)
        self.setMinimumWidth(self._least_width())

    def show_now(self, curve: TradeOff, now: tuple[float, float] | None) -> None:
        """Show where the answer is."""
        self._model.show_now(curve, now)

    def set_current(self, point: int) -> None:
        """Walk to a point."""
        index = self._model.index(point + self._model.before, 0)
        if index.row() != self.currentIndex().row():
            self.setCurrentIndex(index)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter loads the row."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._choose(self.currentIndex().row())
        else:
            super().keyPressEvent(event)

    def _least_width(self) -> int:
        """Return the width that shows names and figures whole."""
        font = QFont(self.font())
        font.setBold(True)  # the knee's row is
        metrics, model = QFontMetrics(font), self._model
        width = self.verticalScrollBar().sizeHint().width() + 2 * self.frameWidth()
        for column in range(model.columnCount()):
            head = str(model.headerData(column, Qt.Orientation.Horizontal)).split("\n")
            cells = [str(model.index(row, column).data()) for row in range(model.rowCount())]
            figures = max(map(metrics.horizontalAdvance, cells), default=0)
            words = max(map(metrics.horizontalAdvance, head))
            width += max(figures, words) + 2 * PADDING + SLACK
        return width

    def _choose(self, row: int) -> None:
        if row >= self._model.before:
            self.chosen.emit(row - self._model.before)

    def _on_current(self, index: QModelIndex) -> None:
        if index.isValid():
            self.pointed.emit(max(index.row() - self._model.before, -1))


def _head(key: str) -> str:
    if key == CHANGE:
        return "Change\n%"
    kind = quantity_named(key)
    return "\n".join([*wrap(kind.name, LONGEST), kind.unit])


def _name(row: CurveRow) -> str:
    marks = (" knee" if row.is_knee else "", "" if row.keeps_swap_rules else " *")
    return f"{row.name}{''.join(marks)}"
