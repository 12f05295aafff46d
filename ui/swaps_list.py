"""How the table of swaps looks and is handled."""

from __future__ import annotations

from PySide6.QtCore import QAbstractItemModel, QEvent, QRect, QRectF, Qt
from PySide6.QtGui import QFont, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyle,
    QStyleOptionViewItem,
    QTableView,
)

from ui.swaps_table import ALLOWED, EQUALS_ROLE, NAME, PINNED, SECOND_ROLE, TONE_ROLE, SwapsTable
from ui.theme import Theme
from ui.two_lines import Index, TwoLineDelegate
from ui.widgets import SMALL, named, scaled_font

PADDING = 7
NAME_LETTERS = 25
"""Average letters a stand-in's name keeps room for; other columns give way for it."""
TICK_WIDTH = 20
"""Of a tick with the space round it that belongs to it [px]."""


class SwapsList(QTableView):
    """The table of swaps; where it is narrow the last columns go, and their words stay below it."""

    def __init__(self, model: SwapsTable, theme: Theme) -> None:
        super().__init__()
        named(self, "swaps table")
        self._swaps = model
        self.setModel(model)
        self.setItemDelegate(SwapsDelegate(theme, self))
        self.setAccessibleName("Swaps")
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        rows = self.verticalHeader()
        rows.hide()
        rows.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        rows.setDefaultSectionSize(int(self.fontMetrics().height() * (1 + SMALL)) + 9)
        header = self.horizontalHeader()
        header.setHighlightSections(False)
        header.setSectionsClickable(False)
        header.setFont(scaled_font(self.font(), SMALL))
        header.setStyleSheet(f"QHeaderView::section {{ padding: 7px {PADDING}px; }}")
        header.setMinimumSectionSize(20)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        model.modelReset.connect(self._share_width)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the width out."""
        super().resizeEvent(event)
        self._share_width()

    def _share_width(self) -> None:
        """Give each column what its words need and the name the rest; leave out what has no room."""
        count = self._swaps.columnCount()
        if not count:
            return
        widths = {column: self._needed(column) for column in range(count) if column != NAME}
        least = NAME_LETTERS * self.fontMetrics().averageCharWidth()
        room = self.viewport().width()
        for column in range(count):
            self.setColumnHidden(column, False)
        for column in self._swaps.may_give_way():
            if room - sum(widths.values()) >= least:
                break
            self.setColumnHidden(column, True)
            del widths[column]
        for column, width in widths.items():
            self.setColumnWidth(column, width)
        self.setColumnWidth(NAME, max(room - sum(widths.values()), least // 2))

    def _needed(self, column: int) -> int:
        body, small = self.fontMetrics(), self.horizontalHeader().fontMetrics()
        title = self._swaps.headerData(column, Qt.Orientation.Horizontal)
        needed = small.horizontalAdvance(str(title))
        if column in (ALLOWED, PINNED):
            return needed + 2 * PADDING
        for row in range(self._swaps.rowCount()):
            index = self._swaps.index(row, column)
            second = str(index.data(SECOND_ROLE) or "")
            metrics = small if index.data(EQUALS_ROLE) else body
            needed = max(
                needed,
                metrics.horizontalAdvance(str(index.data() or "")),
                small.horizontalAdvance(second),
            )
        return needed + 2 * PADDING + 2


class SwapsDelegate(TwoLineDelegate):
    """Paints a tick in the middle, words over quieter ones, and a missed goal in its colour."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint the ground, a hairline, then the tick or the words."""
        painter.save()
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(option.rect, self._theme.colour("selected"))
        painter.setPen(QPen(self._theme.colour("line"), 1))
        painter.drawLine(option.rect.bottomLeft(), option.rect.bottomRight())
        focused = bool(option.state & QStyle.StateFlag.State_HasFocus)
        if index.column() in (ALLOWED, PINNED):
            if focused:
                painter.setPen(QPen(self._theme.colour("accent"), 1))
                painter.drawRoundedRect(_tick_room(option.rect), 4, 4)
            painter.restore()
            super().paint(painter, _middle(option), index)
            return
        self._write(painter, QRectF(option.rect), option.font, index)
        painter.restore()

    def editorEvent(
        self,
        event: QEvent,
        model: QAbstractItemModel,
        option: QStyleOptionViewItem,
        index: Index,
    ) -> bool:
        """Take a click where the tick is."""
        return bool(super().editorEvent(event, model, _middle(option), index))

    def _write(self, painter: QPainter, rect: QRectF, font: QFont, index: Index) -> None:
        colour = self._theme.colour(str(index.data(TONE_ROLE)))
        inner = rect.adjusted(PADDING, 4, -PADDING, -5)
        text, second = str(index.data() or ""), str(index.data(SECOND_ROLE) or "")
        if index.data(EQUALS_ROLE):
            painter.setFont(scaled_font(font, SMALL))
            painter.setPen(colour)
            painter.drawText(inner, Qt.AlignmentFlag.AlignVCenter, f"{text}\n{second}".strip())
        else:
            self.write(painter, inner, (text, font, colour), second)


def _tick_room(rect: QRect) -> QRect:
    room = QRect(0, 0, TICK_WIDTH, TICK_WIDTH)
    room.moveCenter(rect.center())
    return room


def _middle(option: QStyleOptionViewItem) -> QStyleOptionViewItem:
    """Return the option of a cell with its tick in the middle."""
    middle = QStyleOptionViewItem(option)
    middle.rect = _tick_room(option.rect)
    middle.state &= ~QStyle.StateFlag.State_HasFocus
    return middle
