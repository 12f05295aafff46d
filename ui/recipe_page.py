"""The recipe on screen: title, state, amounts or nutrients."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QMenu,
    QStackedWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from reformulate import BadInput, Document, Manner, Recipe, grams_words
from ui.character_view import CharacterStrip, CharacterView
from ui.elided import ElidedLabel
from ui.gives_view import GivesView
from ui.nutrients_view import NutrientsView
from ui.recipe_table import RecipeTable
from ui.recipe_view import RecipeView
from ui.review_view import ReviewView
from ui.session import Session
from ui.state_bar import StateBar
from ui.swaps_view import SwapsView
from ui.theme import Theme
from ui.trade_off_view import TradeOffView
from ui.widgets import as_heading, muted_label, named, tool_button

MANNER_WORDS = {
    Manner.FEWEST: ("fewest changes", "Few lines change, and much"),
    Manner.GENTLEST: ("gentlest change", "Many lines change, each a little"),
    Manner.CHARACTER: ("closest character", "Taste and texture change least"),
}
"""The manners, and what each means."""

VIEWS = ("Amounts", "Taste", "Swaps", "Trade-offs", "What gives", "Nutrients", "Review")
"""The views of a recipe, in the order of their buttons and keys."""


class RecipePage(QWidget):
    """What changes, and how it stands."""

    line_wanted = Signal()
    """A line is to be added."""
    swap_wanted = Signal(str)
    """A swap is to be allowed for the line of this id; empty to choose by the table."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__()
        self._session = session
        self._title = as_heading(named(ElidedLabel(keep=45), "recipe title"), 1.4)
        self._aim = named(ElidedLabel(), "aim")
        self._aim.setProperty("muted", True)
        self._servings = self._field("servings", "Servings", self._set_servings)
        self._loss = self._field("moisture loss", "Moisture lost in cooking", self._set_loss)
        self._portion = muted_label("", name="portion")
        self._manner = tool_button("manner")
        self._manner.setToolTip("What closest to the original means")
        self._manner.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self._manner.setMenu(self._manner_menu())
        self._measured = tool_button("measured")
        self._measured.clicked.connect(self._change_measured)
        self.state = StateBar(session)
        self.notice = named(QLabel(), "notice")
        self.notice.setProperty("bad", True)
        self.notice.setWordWrap(True)
        self.notice.hide()
        self.table = RecipeView(RecipeTable(session), theme)
        self.table.model().setParent(self.table)
        self.table.swap_wanted.connect(self.swap_wanted)
        self.pages = QStackedWidget()
        self._views = QButtonGroup(self)
        self._bar = QHBoxLayout()
        self._bar.setContentsMargins(6, 4, 6, 0)
        self._bar.setSpacing(2)
        views = (
            self.table,
            CharacterView(session, theme),
            SwapsView(session, theme),
            TradeOffView(session, theme),
            GivesView(session),
            NutrientsView(session),
            ReviewView(session),
        )
        for name, view in zip(VIEWS, views, strict=True):
            self._add_view(name, view)
        self._bar.addStretch(1)
        self._views.idClicked.connect(self.pages.setCurrentIndex)
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

    def show_view(self, name: str) -> None:
        """Show one of the views of the recipe."""
        number = VIEWS.index(name)
        self._views.button(number).setChecked(True)
        self.pages.setCurrentIndex(number)

    def _add_view(self, name: str, view: QWidget) -> None:
        button = tool_button(f"view {name.lower()}", name, checkable=True)
        number = self.pages.addWidget(view)
        button.setChecked(number == 0)
        self._views.addButton(button, number)
        self._bar.addWidget(button)

    def _refresh(self) -> None:
        document, answer = self._session.document, self._session.answer
        self.notice.hide()
        if document is None:
            return
        recipe = document.recipe
        self._title.setText(recipe.title)
        self._aim.setText(document.brief.aim)
        self._manner.setText(f"{MANNER_WORDS[document.brief.manner][0]} ▾")
        self._show_measured()
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
        head = QHBoxLayout()
        head.addWidget(self._title)
        head.addStretch(1)
        head.addWidget(self._measured)
        head.addWidget(self._manner)
        return head

    def _facts(self) -> QHBoxLayout:
        facts = QHBoxLayout()
        facts.setSpacing(6)
        for widget in (self._servings, self._portion, self._loss, muted_label("% of the mass")):
            facts.addWidget(widget)
        facts.addStretch(1)
        facts.addWidget(self._aim)
        return facts

    def _panel(self) -> QFrame:
        panel = named(QFrame(), "panel")
        layout = QVBoxLayout(panel)
        layout.setContentsMargins(1, 1, 1, 1)
        layout.setSpacing(4)
        layout.addLayout(self._bar)
        layout.addWidget(self.pages, 1)
        self.strip = CharacterStrip(self._session)
        self.strip.opened.connect(partial(self.show_view, "Taste"))
        layout.addWidget(self.strip)
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
        for widget in (tools, self.strip):
            self.pages.currentChanged.connect(partial(_show_on_first, widget))
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

    def _manner_menu(self) -> QMenu:
        menu = QMenu(self)
        for manner, (words, meaning) in MANNER_WORDS.items():
            action = menu.addAction(f"{words.capitalize()}: {meaning[0].lower()}{meaning[1:]}")
            action.triggered.connect(partial(self._change_manner, manner))
        return menu

    def _change_manner(self, manner: Manner, _checked: bool = False) -> None:
        self._session.edit_brief(lambda brief: replace(brief, manner=manner), "Change manner")

    def _show_measured(self) -> None:
        on = self._session.answers.measured_wanted
        self._measured.setText("measured ⇄" if on else "exact ⇄")
        self._measured.setToolTip(
            "Amounts a cook can measure, chosen together so that every must holds for them; "
            "press for the exact grams"
            if on
            else "The optimum in grams; press for amounts a cook can measure"
        )

    def _change_measured(self) -> None:
        self._session.want_measured(on=not self._session.answers.measured_wanted)

    def _edit_recipe(self, edit: Callable[[Recipe], Recipe], text: str) -> None:
        def change(document: Document) -> Document:
            return replace(document, recipe=edit(document.recipe))

        self._session.edit(change, text)


def _show_on_first(widget: QWidget, page: int) -> None:
    widget.setVisible(page == 0)
