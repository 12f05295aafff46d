"""What a person decides about a recipe on its way in: by answers, in fields, in the table, in menus."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QWidget

from reformulate import (
    BadInput,
    Choice,
    Intake,
    Question,
    Topic,
    answered,
    foods_on_offer,
    skip,
    with_amount,
    with_food,
    with_role,
    with_servings,
    with_title,
)
from ui.intake_food import FoodChoice, LineMenu
from ui.intake_lines import FOOD, ROLE
from ui.intake_page import IntakePage
from ui.session import Session


class IntakeDecisions(QObject):
    """Holds the intake, and changes it as the parts of its page ask for."""

    changed = Signal()
    """``intake`` is another."""
    refused = Signal(str)
    """Why a decision was not taken; "" where one was."""
    page_chosen = Signal(int)
    """Which of several recipes is meant."""

    def __init__(self, session: Session, page: IntakePage, parent: QWidget) -> None:
        super().__init__(parent)
        self._session, self._page, self._window = session, page, parent
        self.intake: Intake | None = None
        page.title.textEdited.connect(self._on_title)
        page.servings.editingFinished.connect(self._on_servings)
        page.questions.answered.connect(self._on_answered)
        page.questions.typed.connect(self._on_typed)
        page.questions.search_wanted.connect(lambda question: self.search_food(question.line))
        page.view.table.amount_typed.connect(self._on_amount)
        page.view.food_wanted.connect(self._show_foods)
        page.view.role_wanted.connect(self._show_roles)
        page.view.skip_wanted.connect(self._on_skip)

    def choose_food(self, place: int, key: str) -> None:
        """Use a food for a line, one that was imported as well."""
        self._session.take_foods([key])
        self._edit(lambda intake: with_food(intake, place, key, self._session.foods))

    def search_food(self, place: int) -> None:
        """Let the food of a line be searched for."""
        if self.intake is None:
            return
        line = self.intake.lines[place]
        foods, store = self._session.foods, self._session.store
        dialog = FoodChoice(line.written, line.name, foods, store, self._window)
        dialog.chosen.connect(partial(self.choose_food, place))
        dialog.open()
        dialog.search.field.setFocus()

    def _edit(self, edit: Callable[[Intake], Intake]) -> bool:
        """Apply a decision; what cannot be taken is told, and nothing changes."""
        if self.intake is None:
            return False
        try:
            self.intake = edit(self.intake)
        except BadInput as error:
            problem = error.problems[0]
            self.refused.emit(f"Not taken. {problem.what} {problem.fix}")
            return False
        self.refused.emit("")
        self.changed.emit()
        return True

    def _on_title(self, text: str) -> None:
        self._edit(lambda intake: with_title(intake, text))

    def _on_servings(self) -> None:
        text, now = self._page.servings.text().strip(), self.intake and self.intake.servings
        if text and text != (f"{now:g}" if now else ""):
            self._take_servings(text)
        self.changed.emit()

    def _take_servings(self, text: str) -> None:
        try:
            number = float(text.replace(",", "."))
        except ValueError:
            self.refused.emit(f"Not taken. Found “{text}”, expected a number of servings.")
            return
        self._edit(lambda intake: with_servings(intake, number))

    def _on_answered(self, question: Question, choice: Choice) -> None:
        if self.intake is None:
            self.page_chosen.emit(question.choices.index(choice))
            return
        self._edit(lambda intake: answered(intake, question, choice))

    def _on_typed(self, question: Question, text: str) -> None:
        if question.topic is Topic.TITLE:
            self._edit(lambda intake: with_title(intake, text))
        elif question.topic is Topic.SERVINGS:
            self._take_servings(text)
        else:
            self._on_amount(question.line, text)

    def _on_amount(self, place: int, text: str) -> None:
        self._edit(lambda intake: with_amount(intake, place, text))

    def _on_skip(self, place: int) -> None:
        self._edit(lambda intake: skip(intake, place, skipped=not intake.lines[place].skipped))

    def _show_foods(self, place: int) -> None:
        intake = self.intake
        if intake is None:
            return
        line = intake.lines[place]
        menu = LineMenu(self._window)
        menu.add_foods(foods_on_offer(line, intake.foods), line.food)
        menu.add_skip(skipped=line.skipped)
        menu.food_chosen.connect(partial(self._on_food_chosen, place))
        menu.search_wanted.connect(partial(self.search_food, place))
        menu.skip_wanted.connect(lambda _out: self._on_skip(place))
        self._popup(menu, place, FOOD)

    def _show_roles(self, place: int) -> None:
        intake = self.intake
        if intake is None:
            return
        menu = LineMenu(self._window)
        menu.add_roles(intake.lines[place].role)
        menu.role_chosen.connect(
            lambda role: self._edit(lambda intake: with_role(intake, place, role))
        )
        self._popup(menu, place, ROLE)

    def _on_food_chosen(self, place: int, choice: Choice) -> None:
        question = Question(topic=Topic.FOOD, words="", line=place)
        self._edit(lambda intake: answered(intake, question, choice))

    def _popup(self, menu: LineMenu, place: int, column: int) -> None:
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        view = self._page.view
        rect = view.visualRect(view.table.index(place, column))
        menu.popup(view.viewport().mapToGlobal(rect.bottomLeft()))
