"""Choosing a line's food: the likeliest in a menu, or a search through all of them."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QDialog, QMenu, QVBoxLayout, QWidget

from reformulate import ROLES, Choice, Food, FoodStore, FoodTable
from ui.food_search import FoodSearch
from ui.phrases import plain_entry
from ui.take_row import TakeRow
from ui.widgets import muted_label


class FoodChoice(QDialog):
    """A search for the food that a line means."""

    chosen = Signal(str)
    """The key of the food."""

    def __init__(
        self,
        written: str,
        words: str,
        foods: FoodTable,
        store: FoodStore | None,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Which food is it?")
        self.resize(540, 460)
        self.search = FoodSearch(foods, store=store)
        line = muted_label(f"The line says: {written}", name="food line")
        line.setWordWrap(True)
        line.setTextFormat(Qt.TextFormat.PlainText)
        buttons = TakeRow(self, "Use this food")
        self.take = buttons.take
        layout = QVBoxLayout(self)
        layout.setContentsMargins(16, 16, 16, 16)
        layout.setSpacing(10)
        layout.addWidget(line)
        layout.addWidget(self.search, 1)
        layout.addWidget(buttons)
        self.search.chosen.connect(self._on_chosen)
        self.search.accepted.connect(self.accept)
        self.search.field.returnPressed.connect(self.accept)
        self.search.field.setText(words)
        self.search.field.selectAll()
        self.search.field.setFocus()

    def accept(self) -> None:
        """Tell which food was chosen."""
        food = self.search.food
        if food is not None:
            self.chosen.emit(food.key)
            super().accept()

    def _on_chosen(self, food: Food | None) -> None:
        self.take.setEnabled(food is not None)


class LineMenu(QMenu):
    """What may be done with a line, as a menu; emits, and changes nothing itself."""

    food_chosen = Signal(object)
    """A Choice with a food."""
    search_wanted = Signal()
    role_chosen = Signal(str)
    skip_wanted = Signal(bool)

    def add_foods(self, choices: Sequence[Choice], now: str) -> None:
        """Offer foods, the one in use ticked."""
        for choice in choices:
            action = self.addAction(plain_entry(f"{choice.words}   ·   {choice.detail}"))
            action.setCheckable(True)
            action.setChecked(choice.food == now)
            action.triggered.connect(lambda _on=False, c=choice: self.food_chosen.emit(c))
        self.addSeparator()
        self.addAction("Search all foods …").triggered.connect(self.search_wanted)

    def add_roles(self, now: str) -> None:
        """Offer the roles, the one in use ticked."""
        for role in ROLES:
            action = self.addAction(role)
            action.setCheckable(True)
            action.setChecked(role == now)
            action.triggered.connect(lambda _on=False, r=role: self.role_chosen.emit(r))

    def add_skip(self, *, skipped: bool) -> None:
        """Offer to leave the line out, or to take it in again."""
        self.addSeparator()
        action = self.addAction("Take it in again" if skipped else "Leave it out")
        action.triggered.connect(lambda: self.skip_wanted.emit(not skipped))
