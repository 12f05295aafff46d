"""A person who takes a recipe in from text."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QLabel, QMenu

from tests.ui.conftest import Person
from ui.intake_dialog import IntakeDialog
from ui.intake_food import LineMenu
from ui.intake_lines import WRITTEN
from ui.intake_questions import QuestionCard

MESSY = """From: Odile
Subject: that dip!!

Odile's Cheesy Bean & Chile Dip  (serves 10-12)

You'll need:
- 2 (8 oz) pkgs cream cheese, softened
- 1 x 15oz can black beans, drained and rinsed
• 1½ c. shredded sharp cheddar, divided
- 3/4 cup mayo or sour cream
- 1-2 jalapenos, seeded + finely chopped
- a handful of cilantro
- juice of 1 lime
- 1 Tbsp plus 1 tsp olive oil
- 6 oz soft cheese
- 1/2 tsp cumin
- salt and pepper to taste
- tortilla chips, for serving

Beat the cream cheese with the mayo. Fold in the rest.
Bake at 375F for 25 mins until bubbly.
"""
"""Invented for this test: twelve lines."""

PAGE = """<html><script type="application/ld+json">
[{"@type": "Recipe", "name": "Herb bowl", "recipeYield": "6",
  "recipeIngredient": ["1 cup hummus", "2 tbsp dill"], "recipeInstructions": "Stir.",
  "nutrition": {"@type": "NutritionInformation", "calories": "60 kcal"}},
 {"@type": "Recipe", "name": "Bean bowl", "recipeYield": "4", "recipeIngredient": ["1 cup feta"]}]
</script></html>"""

MENUS = pytest.mark.qt_log_ignore("does not support (raise|grabbing the keyboard)", extend=True)
"""Says the offscreen platform of menus that open."""


class Cook:
    """Takes a recipe in as a person would."""

    def __init__(self, person: Person) -> None:
        self.person, self.qtbot, self.session = person, person.qtbot, person.session
        self.dialog = self.open()

    def open(self) -> IntakeDialog:
        action = next(
            action
            for menu in self.person.window.menuBar().findChildren(QMenu)
            for action in menu.actions()
            if action.text() == "New recipe from text …"
        )
        assert action.shortcut() == QKeySequence("Ctrl+N")
        action.trigger()
        dialog = self.person.window._intake
        assert dialog is not None
        self.qtbot.waitUntil(dialog.isActiveWindow)
        self.dialog = dialog
        return dialog

    def paste(self, text: str) -> None:
        """Put a text on the clipboard's way: into the field at once; wait until it is read."""
        with self.qtbot.waitSignal(self.dialog.read):
            self.dialog.text.field.insertPlainText(text)

    @property
    def cards(self) -> tuple[QuestionCard, ...]:
        return self.dialog.page.questions.cards

    def card(self, words: str) -> QuestionCard:
        return next(card for card in self.cards if words in card.question.words)

    def answer(self, words: str, choice: int = 0) -> None:
        button = self.card(words).buttons[choice]
        self.dialog.page.questions.ensure_visible(self.card(words))
        self.qtbot.mouseClick(button, Qt.MouseButton.LeftButton)

    def row(self, words: str) -> int:
        table = self.dialog.page.view.table
        return next(r for r in range(table.rowCount()) if words in table.index(r, WRITTEN).data())

    def cell(self, words: str, column: int) -> str:
        return str(self.dialog.page.view.table.index(self.row(words), column).data() or "")

    def click_cell(self, words: str, column: int) -> None:
        view = self.dialog.page.view
        index = view.table.index(self.row(words), column)
        view.scrollTo(index)
        place = view.visualRect(index).center()
        self.qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=place)

    def said(self, name: str) -> str:
        label = self.dialog.findChild(QLabel, name)
        assert label is not None
        return label.text()

    def menu(self) -> LineMenu:
        (menu,) = [menu for menu in self.dialog.findChildren(LineMenu) if menu.isVisible()]
        return menu

    def pick(self, words: str) -> None:
        menu = self.menu()
        action = next(action for action in menu.actions() if words in action.text())
        action.trigger()
        menu.close()


@pytest.fixture
def cook(person: Person) -> Cook:
    return Cook(person)
