"""Dialogs that add a line or allow a swap; each emits a value and changes nothing itself."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QDialog,
    QFormLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from reformulate import (
    ROLES,
    BadInput,
    Batch,
    Food,
    FoodStore,
    FoodTable,
    Line,
    MeasureSystem,
    Swap,
    parse_amount,
    weigh,
)
from ui.choice_box import ChoiceBox
from ui.food_search import FoodSearch
from ui.take_row import TakeRow
from ui.widgets import named


class _FoodDialog(QDialog):
    """A food search with a form below it."""

    def __init__(
        self, title: str, foods: FoodTable, parent: QWidget | None, store: FoodStore | None
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(title)
        self.resize(540, 460)
        self.search = FoodSearch(foods, store=store)
        self.form = QFormLayout()
        self.problem = named(QLabel(), "problem")
        self.problem.setProperty("bad", True)
        self.problem.setWordWrap(True)
        buttons = TakeRow(self, title)
        self.take = buttons.take
        layout = QVBoxLayout(self)
        layout.setContentsMargins(16, 16, 16, 16)
        layout.setSpacing(10)
        layout.addWidget(self.search, 1)
        layout.addLayout(self.form)
        layout.addWidget(self.problem)
        layout.addWidget(buttons)
        self.search.chosen.connect(self.check)
        self.search.accepted.connect(self.accept)

    def check(self, food: Food | None) -> None:
        """Say what is wrong with what is filled in, and let it be taken if nothing is."""
        words = self.problem_words(food) if food else ""
        self.problem.setText(words)
        self.take.setEnabled(food is not None and not words)

    def recheck(self) -> None:
        """Check again after a field changed."""
        self.check(self.search.food)

    def problem_words(self, food: Food) -> str:
        """Return what has to be put right; nothing unless a dialog knows better."""
        del food
        return ""


class SwapDialog(_FoodDialog):
    """Choose a food that may stand in for a line."""

    chosen = Signal(object)
    """The Swap."""

    def __init__(
        self,
        foods: FoodTable,
        batch: Batch,
        line_id: str,
        parent: QWidget | None = None,
        store: FoodStore | None = None,
    ) -> None:
        super().__init__("Allow swap", foods, parent, store)
        self._batch, self._line = batch, batch.recipe.line(line_id)
        name = foods.food(self._line.food).name
        self.exchange = named(QLineEdit("1"), "exchange")
        self.share = named(QLineEdit("100"), "largest share")
        self.form.addRow(QLabel("Stands in for"), QLabel(name))
        self.form.addRow("Grams for each gram", self.exchange)
        self.form.addRow("Largest share [%]", self.share)
        self.exchange.textChanged.connect(self.recheck)
        self.share.textChanged.connect(self.recheck)

    def problem_words(self, food: Food) -> str:
        """Refuse the line's own food, and numbers out of range."""
        if food.key == self._line.food:
            return "That is the food it would stand in for. Choose another."
        if not 0.01 <= _number(self.exchange.text()) <= 100:
            return "Grams for each gram: write a number from 0.01 to 100, 1 for the same mass."
        if not 0 < _number(self.share.text()) <= 100:
            return "Largest share: write a percentage above 0 and at most 100."
        return ""

    def accept(self) -> None:
        """Emit the swap."""
        food = self.search.food
        if food is None or self.problem_words(food):
            return
        self.chosen.emit(
            Swap(
                food=food.key,
                stands_in_for=(self._line.id,),
                grams_per_gram=_number(self.exchange.text()),
                largest_share=_number(self.share.text()) / 100.0,
            )
        )
        super().accept()


class LineDialog(_FoodDialog):
    """Choose a food and an amount for a new line."""

    chosen = Signal(object)
    """The Line."""

    def __init__(
        self,
        foods: FoodTable,
        batch: Batch,
        system: MeasureSystem,
        parent: QWidget | None = None,
        store: FoodStore | None = None,
    ) -> None:
        super().__init__("Add line", foods, parent, store)
        self._taken = {line.id for line in batch.recipe.lines}
        self._system = system
        self.amount = named(QLineEdit("1/2 cup"), "amount")
        self.role = named(ChoiceBox(), "role")
        self.role.addItems(ROLES)
        self.form.addRow("Amount", self.amount)
        self.form.addRow("What it does", self.role)
        self.amount.textChanged.connect(self.recheck)

    def problem_words(self, food: Food) -> str:
        """Say why an amount cannot be read or weighed."""
        try:
            weigh(parse_amount(self.amount.text()), food.measures, self._system)
        except BadInput as error:
            return str(error.problems[0])
        return ""

    def accept(self) -> None:
        """Emit the line."""
        food = self.search.food
        if food is None or self.problem_words(food):
            return
        line_id, number = food.key, 2
        while line_id in self._taken:
            line_id, number = f"{food.key}-{number}", number + 1
        self.chosen.emit(
            Line(
                id=line_id,
                food=food.key,
                amount=self.amount.text().strip(),
                role=self.role.currentText(),
            )
        )
        super().accept()


def _number(text: str) -> float:
    try:
        return float(text.strip().replace(",", "."))
    except ValueError:
        return float("nan")
