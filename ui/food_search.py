"""Search the food table as one types."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import (
    QAbstractListModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QKeyEvent, QPainter
from PySide6.QtWidgets import (
    QLineEdit,
    QListView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from reformulate import NUTRIENTS, Food, FoodStore, FoodTable, search_everywhere, search_foods
from ui.widgets import named

MOST = 40
INDEX = {kind.key: i for i, kind in enumerate(NUTRIENTS)}
FOOD_ROLE = Qt.ItemDataRole.UserRole + 1
FACTS_ROLE = Qt.ItemDataRole.UserRole + 2
"""Energy and protein per 100 g, in words."""

Index = QModelIndex | QPersistentModelIndex


class FoodResults(QAbstractListModel):
    """Foods that match, with energy and protein per 100 g."""

    def __init__(self, foods: FoodTable, store: FoodStore | None, parent: QObject) -> None:
        super().__init__(parent)
        self._foods, self._store = foods, store
        self._imported: FoodTable | None = None
        self._found: tuple[Food, ...] = ()

    def search(self, text: str) -> None:
        """Show what matches ``text``: foods of the table, then imported ones."""
        self.beginResetModel()
        self._found, self._imported = (), None
        if text.strip():
            if self._store is None:
                self._found = search_foods(self._foods, text, MOST)
            else:
                self._found, more = search_everywhere(self._foods, self._store, text, MOST)
                self._imported = self._store.table([hit.key for hit in more]) if more else None
                self._found += self._imported.foods if self._imported else ()
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """Return how many foods match."""
        return 0 if parent.isValid() else len(self._found)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return a food's words, or the food itself."""
        if not index.isValid():
            return None
        food = self._found[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return food.name
        if role == FACTS_ROLE:
            table = self._foods if food.key in self._foods else self._imported
            if table is None:
                return ""
            row = table.index(food.key)
            energy, protein = (
                f"{table.values[row, INDEX[k]]:.0f}" if table.known[row, INDEX[k]] else "?"
                for k in ("energy_kcal", "protein_g")
            )
            return f"{energy} kcal · {protein} g protein"
        if role == Qt.ItemDataRole.ToolTipRole:
            return food.source
        return food if role == FOOD_ROLE else None


class _FoodDelegate(QStyledItemDelegate):
    """A food's name, and what 100 g of it have at the right."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:  # noqa: ARG002
        """Leave some air around a line of text."""
        return QSize(100, option.fontMetrics.height() + 8)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint the ground, then both texts."""
        painter.save()
        palette = option.palette
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(option.rect, palette.highlight())
        inner = option.rect.adjusted(8, 0, -8, 0)
        facts = str(index.data(FACTS_ROLE))
        middle = Qt.AlignmentFlag.AlignVCenter
        painter.setPen(palette.placeholderText().color())
        painter.drawText(inner, Qt.AlignmentFlag.AlignRight | middle, facts)
        room = inner.width() - option.fontMetrics.horizontalAdvance(facts) - 12
        name = option.fontMetrics.elidedText(str(index.data()), Qt.TextElideMode.ElideRight, room)
        painter.setPen(palette.text().color())
        painter.drawText(inner, Qt.AlignmentFlag.AlignLeft | middle, name)
        painter.restore()


class FoodSearch(QWidget):
    """A search field over its results; Down goes into the list, Enter takes the first."""

    chosen = Signal(object)
    """The Food under the cursor changed, or None."""
    accepted = Signal()
    """Enter or a double click on a food."""

    def __init__(
        self, foods: FoodTable, parent: QWidget | None = None, store: FoodStore | None = None
    ) -> None:
        super().__init__(parent)
        self.field = named(QLineEdit(), "food search")
        self.field.setPlaceholderText("Search foods: yogurt, white beans, lemon …")
        self.field.setAccessibleName("Search foods")
        self.field.setClearButtonEnabled(True)
        self.results = named(QListView(), "food results")
        self.results.setAccessibleName("Foods found")
        self._model = FoodResults(foods, store, self)
        self.results.setModel(self._model)
        self.results.setItemDelegate(_FoodDelegate(self.results))
        self.field.textChanged.connect(self._on_typed)
        self.field.installEventFilter(self)
        self.results.selectionModel().currentChanged.connect(self._on_current)
        self.results.activated.connect(lambda _index: self.accepted.emit())
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.field)
        layout.addWidget(self.results, 1)

    @property
    def food(self) -> Food | None:
        """The food under the cursor."""
        found: Food | None = self.results.currentIndex().data(FOOD_ROLE)
        return found

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let Down and Up in the field move through the list."""
        if watched is self.field and isinstance(event, QKeyEvent):
            step = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(Qt.Key(event.key()))
            if step is not None and event.type() == QEvent.Type.KeyPress:
                row = self.results.currentIndex().row() + step
                if 0 <= row < self._model.rowCount():
                    self.results.setCurrentIndex(self._model.index(row))
                return True
        return super().eventFilter(watched, event)

    def _on_typed(self, text: str) -> None:
        self._model.search(text)
        if self._model.rowCount():
            self.results.setCurrentIndex(self._model.index(0))
        self.chosen.emit(self.food)

    def _on_current(self, _current: QModelIndex) -> None:
        self.chosen.emit(self.food)
