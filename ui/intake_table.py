"""The table of a recipe's lines on its way in, by mouse and by keyboard."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QKeyEvent, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyle,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from ui.intake_lines import (
    AMOUNT,
    FOOD,
    GRAMS,
    MARK,
    OPEN_ROLE,
    OUT_ROLE,
    ROLE,
    SECOND_ROLE,
    WRITTEN,
    Index,
    IntakeTable,
)
from ui.theme import Theme
from ui.two_lines import TwoLineDelegate
from ui.widgets import SMALL, named


class IntakeView(QTableView):
    """The table, by mouse and by keyboard: Enter changes a cell, Delete leaves a line out."""

    food_wanted = Signal(int)
    """Another food is to be chosen for the line at a place."""
    role_wanted = Signal(int)
    skip_wanted = Signal(int)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        named(self, "intake lines")
        self.setAccessibleName("Ingredients as they are read")
        self._model = IntakeTable(self)
        self.setModel(self._model)
        delegate = _LineDelegate(theme, self)
        self.setItemDelegate(delegate)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.AnyKeyPressed
        )
        self.setTabKeyNavigation(False)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.verticalHeader().hide()
        head = self.horizontalHeader()
        head.setHighlightSections(False)
        head.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        head.setSectionResizeMode(WRITTEN, QHeaderView.ResizeMode.Stretch)
        self.clicked.connect(self._change)
        self._model.modelReset.connect(self._set_heights)
        self._model.dataChanged.connect(self._set_heights)

    @property
    def table(self) -> IntakeTable:
        """The model."""
        return self._model

    def resizeEvent(self, event: Any) -> None:
        """Share the width out."""
        super().resizeEvent(event)
        self._share_width()

    def _share_width(self) -> None:
        letter = self.fontMetrics().averageCharWidth()
        width = self.viewport().width()
        self.setColumnWidth(MARK, 4 * letter)
        self.setColumnWidth(GRAMS, 11 * letter)
        self.setColumnWidth(ROLE, 18 * letter)
        left = width - 33 * letter
        self.setColumnWidth(AMOUNT, max(14 * letter, int(0.22 * left)))
        self.setColumnWidth(FOOD, max(20 * letter, int(0.36 * left)))

    def _set_heights(self) -> None:
        one = self.fontMetrics().height() + 10
        two = int(self.fontMetrics().height() * (1 + SMALL)) + 9
        self.verticalHeader().setMinimumSectionSize(one)
        self.verticalHeader().setDefaultSectionSize(one)
        for row, line in enumerate(self._model.lines):
            wanted = two if line.said else one
            if self.rowHeight(row) != wanted:
                self.setRowHeight(row, wanted)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter changes the cell, Delete leaves the line out or takes it in again."""
        index = self.currentIndex()
        if self.state() == QAbstractItemView.State.EditingState:
            return  # Enter ends the editing, and comes here as well
        if index.isValid() and event.key() in (
            Qt.Key.Key_Return,
            Qt.Key.Key_Enter,
            Qt.Key.Key_Space,
        ):
            self._change(index)
            return
        if index.isValid() and event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.skip_wanted.emit(index.row())
            return
        super().keyPressEvent(event)

    def _change(self, index: QModelIndex) -> None:
        if index.column() == AMOUNT:
            self.edit(index)
        elif index.column() == FOOD:
            self.food_wanted.emit(index.row())
        elif index.column() == ROLE:
            self.role_wanted.emit(index.row())


class _LineDelegate(TwoLineDelegate):
    """Paints a cell: the mark by shape and colour, what is open in colour, what is out quietly."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Rows have their heights from the view."""
        del index
        return QSize(20, option.fontMetrics.height())

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint the ground, the text, and what was decided below it."""
        painter.save()
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        if chosen:
            painter.fillRect(option.rect, self._theme.colour("selected"))
        painter.setPen(self._theme.colour("line"))
        painter.drawLine(option.rect.bottomLeft(), option.rect.bottomRight())
        current = self._view.currentIndex() == index and self._view.hasFocus()
        if current:
            painter.setPen(self._theme.colour("accent"))
            painter.drawRect(option.rect.adjusted(0, 0, -1, -2))
        column = index.column()
        room = QRectF(option.rect).adjusted(8, 3, -8, -4)
        side = Qt.AlignmentFlag.AlignLeft
        if column == MARK:
            side, room = Qt.AlignmentFlag.AlignHCenter, QRectF(option.rect)
        elif column == GRAMS:
            side = Qt.AlignmentFlag.AlignRight
        first = (str(index.data() or ""), self._font(option, index), self._colour(index))
        self.write(painter, room, first, str(index.data(SECOND_ROLE) or ""), side)
        painter.restore()

    def _font(self, option: QStyleOptionViewItem, index: Index) -> QFont:
        font = QFont(option.font)
        font.setBold(index.column() == MARK and bool(index.data(OPEN_ROLE)))
        return font

    def _colour(self, index: Index) -> QColor:
        if index.data(OUT_ROLE):
            return self._theme.colour("muted")
        if index.data(OPEN_ROLE):
            return self._theme.colour("bad")
        if index.column() == MARK:
            return self._theme.colour("good")
        return self._theme.colour("text" if index.column() != ROLE else "muted")

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        """Give an amount a field to be typed in."""
        editor = super().createEditor(parent, option, index)
        return named(editor, "amount editor")
