"""Search the food table as one types."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import (
    QAbstractListModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    Signal,
)
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QListView, QVBoxLayout, QWidget

from reformulate import Food, FoodTable, search_foods
from ui.widgets import named

MOST = 40
FOOD_ROLE = Qt.ItemDataRole.UserRole + 1

Index = QModelIndex | QPersistentModelIndex


class FoodResults(QAbstractListModel):
    """Foods that match, with energy and protein per 100 g."""

    def __init__(self, foods: FoodTable, parent: QObject) -> None:
        super().__init__(parent)
        self._foods = foods
        self._found: tuple[Food, ...] = ()

    def search(self, text: str) -> None:
        """Show what matches ``text``."""
        self.beginResetModel()
        self._found = search_foods(self._foods, text, MOST) if text.strip() else ()
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
            row = self._foods.index(food.key)
            energy, protein = (
                f"{self._foods.values[row, k]:.0f}" if self._foods.known[row, k] else "?"
                for k in (1, 2)
            )
            return f"{food.name}   {energy} kcal, {protein} g protein per 100 g"
        if role == Qt.ItemDataRole.ToolTipRole:
            return food.source
        return food if role == FOOD_ROLE else None


class FoodSearch(QWidget):
    """A search field over its results; Down goes into the list, Enter takes the first."""

    chosen = Signal(object)
    """The Food under the cursor changed, or None."""
    accepted = Signal()
    """Enter or a double click on a food."""

    def __init__(self, foods: FoodTable, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.field = named(QLineEdit(), "food search")
        self.field.setPlaceholderText("Search foods: yogurt, white beans, lemon …")
        self.field.setAccessibleName("Search foods")
        self.field.setClearButtonEnabled(True)
        self.results = named(QListView(), "food results")
        self.results.setAccessibleName("Foods found")
        self._model = FoodResults(foods, self)
        self.results.setModel(self._model)
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
