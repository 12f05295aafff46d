"""The recipe on screen: title, state, amounts or nutrients."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from reformulate import BadInput, Brief, Document, Manner, Recipe, grams_words
from ui.nutrients_view import NutrientsView
from ui.recipe_table import RecipeTable
from ui.recipe_view import RecipeView
from ui.session import Session
from ui.state_bar import StateBar
from ui.theme import Theme
from ui.widgets import heading, muted_label, named, tool_button

MANNER_WORDS = {Manner.FEWEST: "fewest changes ⇄", Manner.GENTLEST: "gentlest change ⇄"}


class RecipePage(QWidget):
    """What changes, and how it stands."""

    line_wanted = Signal()
    """A line is to be added."""
    swap_wanted = Signal(str)
    """A swap is to be allowed for the line of this id; empty to choose by the table."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__()
        self._session = session
        self._title = heading("", 1.4, name="recipe title")
        self._aim = muted_label("", name="aim")
        self._servings = self._field("servings", "Servings", self._set_servings)
        self._loss = self._field("moisture loss", "Moisture lost in cooking", self._set_loss)
        self._portion = muted_label("", name="portion")
        self._manner = tool_button("manner")
        self._manner.setToolTip(
            "What closest to the original means: few lines change much, or many lines a little"
        )
        self._manner.clicked.connect(self._change_manner)
        self.state = StateBar(session)
        self.notice = named(QLabel(), "notice")
        self.notice.setProperty("bad", True)
        self.notice.setWordWrap(True)
        self.notice.hide()
        self.table = RecipeView(RecipeTable(session), theme)
        self.table.model().setParent(self.table)
        self.table.swap_wanted.connect(self.swap_wanted)
        self.pages = QStackedWidget()
        self.pages.addWidget(self.table)
        self.pages.addWidget(NutrientsView(session))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(8)
        layout.addLayout(self._head())
        layout.addLayout(self._facts())
        layout.addWidget(self.state)
        layout.addWidget(self.notice)
        layout.addWidget(self._panel(), 1)
        session.answer_changed.connect(self._refresh)
        session.current_changed.connect(self._refresh)
        session.refused.connect(self._on_refused)
        session.notice.connect(self._show_notice)

    def show_nutrients(self, *, on: bool) -> None:
        """Show all nutrients, or the amounts."""
        self._views.button(1 if on else 0).setChecked(True)
        self.pages.setCurrentIndex(1 if on else 0)

    def _refresh(self) -> None:
        document, answer = self._session.document, self._session.answer
        self.notice.hide()
        if document is None:
            return
        recipe = document.recipe
        self._title.setText(recipe.title)
        self._aim.setText(document.brief.aim)
        self._manner.setText(MANNER_WORDS[document.brief.manner])
        for field, value in (
            (self._servings, recipe.servings),
            (self._loss, recipe.moisture_loss_percent),
        ):
            if not field.hasFocus():
                field.setText(f"{value:g}")
        if answer:
            now = answer.achieved
            self._portion.setText(
                f"servings of {grams_words(round(now.finished_grams / now.servings))}, "
                f"{grams_words(round(now.finished_grams))} in all; cooking drives off"
            )

    def _head(self) -> QHBoxLayout:
        self._views = QButtonGroup(self)
        head = QHBoxLayout()
        head.addWidget(self._title)
        head.addSpacing(8)
        head.addWidget(self._aim, 0, Qt.AlignmentFlag.AlignBottom)
        head.addStretch(1)
        for number, words in enumerate(("Amounts", "Nutrients")):
            button = tool_button(f"view {words.lower()}", words, checkable=True)
            self._views.addButton(button, number)
            head.addWidget(button)
        self._views.button(0).setChecked(True)
        self._views.idClicked.connect(self.pages.setCurrentIndex)
        return head

    def _facts(self) -> QHBoxLayout:
        facts = QHBoxLayout()
        facts.setSpacing(6)
        for widget in (self._servings, self._portion, self._loss, muted_label("% of the mass")):
            facts.addWidget(widget)
        facts.addStretch(1)
        facts.addWidget(self._manner)
        return facts

    def _panel(self) -> QFrame:
        panel = named(QFrame(), "panel")
        layout = QVBoxLayout(panel)
        layout.setContentsMargins(1, 1, 1, 1)
        layout.setSpacing(0)
        layout.addWidget(self.pages, 1)
        tools = QWidget()
        foot = QHBoxLayout(tools)
        foot.setContentsMargins(6, 4, 6, 4)
        line = tool_button("add line", "Add a line …")
        line.clicked.connect(self.line_wanted)
        swap = tool_button("allow swap", "Allow a swap …")
        swap.setToolTip("Let another food stand in for the chosen line")
        swap.clicked.connect(self._on_swap_clicked)
        foot.addWidget(line)
        foot.addWidget(swap)
        foot.addStretch(1)
        layout.addWidget(tools)
        self.pages.currentChanged.connect(lambda page: tools.setVisible(page == 0))
        return panel

    def _on_swap_clicked(self) -> None:
        document, index = self._session.document, self.table.currentIndex()
        if document is None:
            return
        model = self.table.model()
        row = model.row(index.row()) if index.isValid() and isinstance(model, RecipeTable) else None
        if row and row.line:
            self.swap_wanted.emit(row.line.id)
        elif row and row.swap:
            self.swap_wanted.emit(row.swap.stands_in_for[0])
        else:
            self._show_notice("Choose a line in the table first: the swap stands in for it.")

    def _on_refused(self, error: BadInput) -> None:
        self._show_notice("Not taken. " + " ".join(str(problem) for problem in error.problems))

    def _show_notice(self, words: str) -> None:
        self.notice.setText(words)
        self.notice.show()

    def _field(self, name: str, label: str, take: Callable[[float], None]) -> QLineEdit:
        field = named(QLineEdit(), name)
        field.setAccessibleName(label)
        field.setToolTip(label)
        field.setAlignment(Qt.AlignmentFlag.AlignRight)
        field.setFixedWidth(field.fontMetrics().horizontalAdvance("0000.0") + 8)
        field.editingFinished.connect(lambda: self._on_typed(field, label, take))
        return field

    def _on_typed(self, field: QLineEdit, label: str, take: Callable[[float], None]) -> None:
        try:
            take(float(field.text().strip().replace(",", ".")))
        except ValueError:
            self._show_notice(f"Not taken. {label}: found '{field.text()}', expected a number.")
        document = self._session.document
        if document:
            value = {
                self._servings: document.recipe.servings,
                self._loss: document.recipe.moisture_loss_percent,
            }[field]
            field.setText(f"{value:g}")

    def _set_servings(self, value: float) -> None:
        self._edit_recipe(lambda recipe: replace(recipe, servings=value), "Change servings")

    def _set_loss(self, value: float) -> None:
        self._edit_recipe(
            lambda recipe: replace(recipe, moisture_loss_percent=value), "Change moisture loss"
        )

    def _change_manner(self) -> None:
        def change(brief: Brief) -> Brief:
            gentle = brief.manner is Manner.GENTLEST
            return replace(brief, manner=Manner.FEWEST if gentle else Manner.GENTLEST)

        self._session.edit_brief(change, "Change manner")

    def _edit_recipe(self, edit: Callable[[Recipe], Recipe], text: str) -> None:
        def change(document: Document) -> Document:
            return replace(document, recipe=edit(document.recipe))

        self._session.edit(change, text)
