"""A food of the user's own from its package label: figures as printed, shown with their range."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QDialog,
    QFormLayout,
    QGridLayout,
    QLabel,
    QLineEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from reformulate import (
    BadInput,
    Basis,
    OwnFood,
    Rounding,
    food_from_label,
    own_food_findings,
    quantity_named,
    range_words,
)
from ui.choice_box import ChoiceBox
from ui.take_row import TakeRow
from ui.widgets import muted_label, named

FIELDS = (
    "energy_kcal",
    "fat_g",
    "saturated_g",
    "cholesterol_mg",
    "sodium_mg",
    "carbohydrate_g",
    "fibre_g",
    "sugars_g",
    "added_sugars_g",
    "protein_g",
    "vitamin_d_ug",
    "calcium_mg",
    "iron_mg",
    "potassium_mg",
)
"""What a label states, in its usual order: 21 CFR 101.9(c)."""

BASES = ((Basis.SERVING, "per serving"), (Basis.HUNDRED_GRAMS, "per 100 g"))
RULES = (
    (Rounding.US_LABEL, "rounded as on a US label"),
    (Rounding.EU_LABEL, "rounded as on an EU or UK label"),
    (Rounding.NONE, "not rounded"),
)


class OwnFoodDialog(QDialog):
    """Emits the food; keeps nothing itself. What the label leaves out is unknown, not zero."""

    chosen = Signal(object)
    """The OwnFood."""

    def __init__(self, taken: frozenset[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Food of your own, from its label")
        self.resize(560, 640)
        self._taken = taken
        self._food: OwnFood | None = None
        self.name = named(QLineEdit(), "own name")
        self.serving = named(QLineEdit("2 tbsp (30 g)"), "own serving")
        self.per, self.rule = named(ChoiceBox(), "own per"), named(ChoiceBox(), "own rounding")
        for basis, words in BASES:
            self.per.addItem(words, basis)
        for rule, words in RULES:
            self.rule.addItem(words, rule)
        self.figures: dict[str, QLineEdit] = {}
        self._ranges: dict[str, QLabel] = {}
        form, scroll = self._build_form(), self._build_figures()
        self.problem = named(QLabel(), "own problem")
        self.problem.setProperty("bad", True)
        self.problem.setWordWrap(True)
        self.problem.setTextFormat(Qt.TextFormat.PlainText)
        buttons = TakeRow(self, "Add to the set", "take own")
        self.take = buttons.take
        layout = QVBoxLayout(self)
        layout.setContentsMargins(16, 16, 16, 16)
        layout.setSpacing(10)
        layout.addLayout(form)
        layout.addWidget(scroll, 1)
        layout.addWidget(self.problem)
        layout.addWidget(buttons)
        for field in (self.name, self.serving):
            field.textChanged.connect(self._check)
        for box in (self.per, self.rule):
            box.currentIndexChanged.connect(self._check)
        self._check()

    def _build_form(self) -> QFormLayout:
        form = QFormLayout()
        form.addRow("Name", self.name)
        form.addRow("Serving, as printed", self.serving)
        form.addRow("Figures are", self.per)
        form.addRow("", self.rule)
        return form

    def _build_figures(self) -> QScrollArea:
        grid = QGridLayout()
        grid.addWidget(muted_label("As printed", small=True), 0, 1)
        grid.addWidget(
            muted_label("In 100 g, with the range the rounding leaves", small=True), 0, 2
        )
        for row, key in enumerate(FIELDS, start=1):
            kind = quantity_named(key)
            edit = named(QLineEdit(), f"own {key}")
            edit.setPlaceholderText(kind.unit)
            edit.setAccessibleName(f"{kind.name} as printed")
            edit.setFixedWidth(edit.fontMetrics().horizontalAdvance("less than 5 g") + 12)
            edit.textChanged.connect(self._check)
            shown = muted_label("", name=f"range {key}")
            grid.addWidget(QLabel(kind.name), row, 0)
            grid.addWidget(edit, row, 1)
            grid.addWidget(shown, row, 2)
            self.figures[key], self._ranges[key] = edit, shown
        grid.setColumnStretch(2, 1)
        inner = QWidget()
        inner.setLayout(grid)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setWidget(inner)
        return scroll

    def accept(self) -> None:
        """Emit the food, unless something has to be put right."""
        if self._food is None:
            return
        self.chosen.emit(self._food)
        super().accept()

    def _check(self) -> None:
        """Read all fields; show ranges, what is wrong, and what does not agree."""
        stated = {
            key: edit.text().strip() for key, edit in self.figures.items() if edit.text().strip()
        }
        self._food, words = None, ""
        if not self.name.text().strip() or not stated:
            words = "Write a name and at least one figure."
        else:
            try:
                self._food = food_from_label(
                    self.name.text(),
                    {key: _number(text) for key, text in stated.items()},
                    serving=self.serving.text(),
                    per=self.per.currentData(),
                    rounding=self.rule.currentData(),
                    taken=self._taken,
                )
            except BadInput as error:
                words = "\n".join(str(problem) for problem in error.problems[:3])
        found = {} if self._food is None else {f.nutrient: f for f in self._food.per_100g}
        for key, label in self._ranges.items():
            label.setText(range_words(found[key]) if key in found else "")
        if self._food is not None:
            words = "\n".join(str(finding) for finding in own_food_findings(self._food)[:3])
        self.problem.setText(words)
        self.take.setEnabled(self._food is not None)


def _number(text: str) -> float | str:
    try:
        return float(text)
    except ValueError:
        return text
