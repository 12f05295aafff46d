"""How the recipe table looks and is handled."""

from __future__ import annotations

from functools import partial
from math import isinf

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPoint, QRectF, Qt, Signal
from PySide6.QtGui import QFont, QKeyEvent, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QMenu,
    QStyle,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from reformulate import LineHold
from ui.recipe_table import (
    CHANGE,
    HOLD,
    NUMBER_ROLE,
    ORIGINAL,
    SECOND_LINE_ROLE,
    TONE_ROLE,
    RecipeTable,
)
from ui.theme import Theme
from ui.two_lines import TwoLineDelegate
from ui.widgets import SMALL, scaled_font

PADDING = 10
WIDEST = ("Cream cheese", "1 pack (10 oz)", "≈ 1 1/2 cups + 1 tbsp", "−100 %  ", "100–200 g")
"""Text each column has room for at the least."""
SHARES = (0.6, 0.1, 0.1, 0.15, 0.05)
"""Share of the width left over that each column takes [1]."""
TOLERANCES = (0.05, 0.10, 0.15, 0.25, 0.50)

Index = QModelIndex | QPersistentModelIndex


class RecipeView(QTableView):
    """The recipe table with its keys, menus and painting."""

    swap_wanted = Signal(str)
    """Id of the line a swap is wanted for."""

    def __init__(self, model: RecipeTable, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("recipe table")
        self.setAccessibleName("Recipe: original, now, change and hold of each line")
        self.setModel(model)
        self._table = model
        self.setItemDelegate(RecipeDelegate(theme, self))
        self.setShowGrid(False)
        self.verticalHeader().hide()
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
        )
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTabKeyNavigation(False)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        self.customContextMenuRequested.connect(self._on_menu_wanted)
        self.clicked.connect(self._on_clicked)
        self._least = self._least_widths()
        self._style_header()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the width out: what a column needs, then the rest in proportion."""
        super().resizeEvent(event)
        spare = max(0, self.viewport().width() - sum(self._least))
        for column, (least, share) in enumerate(zip(self._least, SHARES, strict=True)):
            self.horizontalHeader().resizeSection(column, least + int(spare * share))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Space locks and frees a line, or allows a swap; Delete takes a swap out."""
        index = self.currentIndex()
        if index.isValid() and event.key() == Qt.Key.Key_Space:
            self._table.toggle(index.row())
        elif index.isValid() and event.key() == Qt.Key.Key_Delete:
            self._table.remove_swap(index.row())
        else:
            super().keyPressEvent(event)

    def hold_menu(self, row: int) -> QMenu:
        """Return the menu of what can be held of a row."""
        entry = self._table.row(row)
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        if entry.line:
            line = entry.line.id
            menu.addAction("Free", lambda: self._table.set_hold(line, None))
            menu.addAction(
                "Lock", lambda: self._table.set_hold(line, LineHold(line=line, tolerance=0.0))
            )
            for tolerance in TOLERANCES:
                menu.addAction(
                    f"± {tolerance:.0%}".replace("%", " %"),
                    partial(self._table.set_hold, line, LineHold(line=line, tolerance=tolerance)),
                )
            index = self._table.index(row, HOLD)
            menu.addAction("Another range …", lambda: self.edit(index))
            menu.addSeparator()
            menu.addAction("Allow a swap …", lambda: self.swap_wanted.emit(line))
        elif entry.swap:
            words = "Leave out" if entry.swap.allowed else "Allow"
            menu.addAction(words, lambda: self._table.toggle(row))
            menu.addAction("Remove from the list", lambda: self._table.remove_swap(row))
        return menu

    def _on_clicked(self, index: QModelIndex) -> None:
        if index.column() != HOLD:
            return
        if self._table.row(index.row()).swap:
            self._table.toggle(index.row())
        else:
            corner = self.visualRect(index).bottomLeft()
            self.hold_menu(index.row()).popup(self.viewport().mapToGlobal(corner))

    def _on_menu_wanted(self, position: QPoint) -> None:
        index = self.indexAt(position)
        if index.isValid():
            self.hold_menu(index.row()).popup(self.viewport().mapToGlobal(position))

    def _least_widths(self) -> tuple[int, ...]:
        measure = self.fontMetrics().horizontalAdvance
        return tuple(measure(widest) + 2 * PADDING for widest in WIDEST)

    def _style_header(self) -> None:
        header = self.horizontalHeader()
        header.setHighlightSections(False)
        header.setSectionsClickable(False)
        header.setMinimumSectionSize(40)
        header.setFont(scaled_font(self.font(), SMALL))
        header.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        rows = self.verticalHeader()
        rows.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        rows.setDefaultSectionSize(int(self.fontMetrics().height() * (1 + SMALL)) + 9)


class RecipeDelegate(TwoLineDelegate):
    """Paints two lines a cell, and the change as a bar from the middle."""

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint background, text or bar, and a hairline below."""
        painter.save()
        rect = QRectF(option.rect)
        selected = bool(option.state & QStyle.StateFlag.State_Selected)
        if selected:
            painter.fillRect(rect, self._theme.colour("selected"))
        painter.setPen(QPen(self._theme.colour("line"), 1))
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        if index.column() == CHANGE:
            self._paint_change(painter, rect, index, option.font)
        else:
            self._paint_text(painter, rect, index, option.font)
        focused = bool(option.state & QStyle.StateFlag.State_HasFocus)
        if focused and index.column() in (ORIGINAL, HOLD):
            painter.setPen(QPen(self._theme.colour("accent"), 1))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(rect.adjusted(2, 2, -2, -3), 4, 4)
        painter.restore()

    def _paint_text(self, painter: QPainter, rect: QRectF, index: Index, font: QFont) -> None:
        tone = index.data(TONE_ROLE)
        colour = {"muted": "muted", "more": "good", "held": "accent"}.get(tone, "text")
        body = QFont(font)
        body.setBold(tone in ("strong", "more"))
        right = index.column() == HOLD
        self.write(
            painter,
            rect.adjusted(PADDING, 4, -PADDING, -5),
            (str(index.data() or ""), body, self._theme.colour(colour)),
            str(index.data(SECOND_LINE_ROLE) or ""),
            Qt.AlignmentFlag.AlignRight if right else Qt.AlignmentFlag.AlignLeft,
        )

    def _paint_change(self, painter: QPainter, rect: QRectF, index: Index, font: QFont) -> None:
        inner = rect.adjusted(PADDING, 4, -PADDING, -5)
        middle = inner.center().x()
        top = inner.top() + 3
        painter.setPen(QPen(self._theme.colour("line"), 1))
        painter.drawLine(int(middle), int(top) - 2, int(middle), int(top) + 10)
        change = index.data(NUMBER_ROLE)
        if change is None:
            return
        half = inner.width() / 2
        length = half if isinf(change) else min(abs(change), 1.0) * half
        left = middle if change > 0 else middle - length
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._theme.colour("more" if change > 0 else "less"))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.drawRoundedRect(QRectF(left, top, max(length, 2.0), 8), 2, 2)
        painter.setFont(scaled_font(font, SMALL))
        painter.setPen(self._theme.colour("text"))
        painter.drawText(
            inner, Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignBottom, str(index.data())
        )
