"""A recipe taken in from text, driven with mouse and keys, asserting what the screen shows."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QLabel, QLineEdit, QMenu
from pytestqt.qtbot import QtBot

from reformulate import Topic, read_document, read_set
from tests.ui.conftest import Person
from ui.intake_dialog import IntakeDialog
from ui.intake_food import FoodChoice, LineMenu
from ui.intake_lines import AMOUNT, FOOD, GRAMS, MARK, ROLE, WRITTEN
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


def number(text: str) -> float:
    found = re.search(r"\d+(?:\.\d+)?", text)
    assert found, text
    return float(found[0])


def test_a_messy_recipe_becomes_a_solved_lighter_one(cook: Cook, demo_folder: Path) -> None:
    cook.paste(MESSY)
    assert cook.dialog.page.title.text() == "Odile's Cheesy Bean & Chile Dip"
    assert cook.dialog.page.servings.text() == "11"
    assert "things to settle" in cook.said("intake state")
    assert not cook.dialog.add.isEnabled()
    shares = [card.question.consequence for card in cook.cards]
    assert shares == sorted(shares, reverse=True)
    assert cook.cell("cream cheese", GRAMS) == "454"
    assert cook.cell("salt and pepper", MARK) == "?"

    clicks = 0
    while cook.cards:
        before = len(cook.cards)
        cook.answer(cook.cards[0].question.words)
        clicks += 1
        assert len(cook.cards) <= before
        assert clicks < 20
    assert cook.said("intake state").startswith("✓")
    assert cook.cell("cream cheese", MARK) == "✓"
    assert cook.cell("tortilla chips", MARK) == "–"
    cook.qtbot.mouseClick(cook.dialog.add, Qt.MouseButton.LeftButton)

    person = cook.person
    assert not cook.dialog.isVisible()
    assert person.label("recipe title") == "Odile's Cheesy Bean & Chile Dip"
    assert "Cream cheese" in person.cells(0)[0]
    before_energy = number(person.label("achieved energy_kcal"))
    goal = round(before_energy * 0.75)
    person.press("Left", "energy_kcal")
    person.type_into("at_most energy_kcal", str(goal))
    assert person.sentence.startswith("Meets")
    assert number(person.label("achieved energy_kcal")) <= goal
    assert person.session.answer is not None
    assert person.session.answer.certificate.holds

    path = demo_folder / "odiles-cheesy-bean-chile-dip.toml"
    document = read_document(path)
    assert document.recipe.serve_with == ("tortilla chips",)
    assert document.recipe.lines[2].text == "• 1½ c. shredded sharp cheddar, divided"
    assert document.brief.holds
    assert "Odile's Cheesy Bean & Chile Dip" in [
        person.window.sidebar.view.model().index(r, 0).data()
        for r in range(person.window.sidebar.view.model().rowCount())
    ]


def test_a_chosen_food_is_remembered_in_the_set(cook: Cook, demo_folder: Path) -> None:
    text = "Cheese bowl\nServes 4\n\n6 oz soft cheese\n1 cup sour cream\n"
    cook.paste(text)
    food = cook.card("soft cheese").buttons[1].choice.food
    cook.answer("soft cheese", 1)
    assert not cook.cards
    cook.dialog.activateWindow()  # the window of the test before may have gone in between
    cook.qtbot.waitUntil(cook.dialog.isActiveWindow)
    cook.qtbot.keyClick(cook.dialog, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert not cook.dialog.isVisible()
    assert food in dict(read_set(demo_folder).matches).values()
    cook.open()
    cook.paste(text)
    assert not cook.cards
    intake = cook.dialog.intake
    assert intake is not None
    assert intake.lines[0].food == food
    cook.qtbot.mouseClick(cook.dialog.add, Qt.MouseButton.LeftButton)
    names = sorted(path.name for path in demo_folder.glob("cheese-bowl*.toml"))
    assert names == ["cheese-bowl-2.toml", "cheese-bowl.toml"]


def test_what_is_typed_answers_too_and_what_cannot_be_taken_is_told(cook: Cook) -> None:
    cook.paste("1 cup sour cream\nsalt to taste\n")
    salt = cook.card("How much salt?")
    salt.field.setFocus()
    cook.qtbot.keyClicks(salt.field, "three bunches")
    cook.qtbot.keyClick(salt.field, Qt.Key.Key_Return)
    assert cook.said("intake problem").startswith("Not taken.")
    assert cook.card("How much salt?").field.text() == "three bunches"
    salt.field.selectAll()
    cook.qtbot.keyClicks(salt.field, "2 g")
    cook.qtbot.keyClick(salt.field, Qt.Key.Key_Return)
    assert cook.cell("salt", GRAMS) == "2.0"
    assert cook.said("intake problem") == ""
    servings = cook.card("How many does it serve?")
    cook.qtbot.keyClicks(servings.field, "8")
    cook.qtbot.keyClick(servings.field, Qt.Key.Key_Return)
    title = cook.card("What is the recipe called?")
    cook.qtbot.keyClicks(title.field, "Salt bowl")
    cook.qtbot.keyClick(title.field, Qt.Key.Key_Return)
    assert (cook.dialog.page.title.text(), cook.dialog.page.servings.text()) == ("Salt bowl", "8")
    assert cook.dialog.add.isEnabled()


def test_the_keyboard_alone_answers_question_after_question(cook: Cook) -> None:
    cook.paste(MESSY)
    cook.cards[0].focus()
    while cook.cards:
        focus = cook.dialog.focusWidget()
        assert focus in cook.cards[0].buttons
        cook.qtbot.keyClick(focus, Qt.Key.Key_Space)
    assert cook.dialog.add.isEnabled()
    assert cook.dialog.focusWidget() is cook.dialog.add


def test_title_and_servings_are_typed_in_their_fields(cook: Cook) -> None:
    cook.paste("1 cup sour cream\n1 tbsp dill\n")
    page = cook.dialog.page
    page.title.setFocus()
    cook.qtbot.keyClicks(page.title, "Dill cream")
    page.servings.setFocus()
    cook.qtbot.keyClicks(page.servings, "none")
    cook.qtbot.keyClick(page.servings, Qt.Key.Key_Return)
    assert cook.said("intake problem").startswith("Not taken.")
    page.servings.selectAll()
    cook.qtbot.keyClicks(page.servings, "5")
    cook.qtbot.keyClick(page.servings, Qt.Key.Key_Return)
    assert not cook.cards
    intake = cook.dialog.intake
    assert intake is not None
    assert (intake.title, intake.servings) == ("Dill cream", 5.0)


@MENUS
def test_a_click_on_a_food_offers_others_and_a_search(cook: Cook) -> None:
    cook.paste("Bowl\nServes 4\n\n3/4 cup mayo or sour cream\n1 tbsp dill\n")
    cook.click_cell("mayo", FOOD)
    cook.pick("sour cream")
    assert cook.cell("mayo", FOOD) == "Sour cream, full fat"
    cook.click_cell("dill", FOOD)
    cook.pick("Search all foods")
    search = cook.dialog.findChild(FoodChoice)
    assert search is not None
    search.search.field.selectAll()
    cook.qtbot.keyClicks(search.search.field, "chives")
    cook.qtbot.keyClick(search.search.field, Qt.Key.Key_Return)
    assert cook.cell("dill", FOOD) == "Chives, raw"
    assert cook.dialog.add.isEnabled()


@MENUS
def test_amounts_roles_and_lines_left_out_change_in_the_table(cook: Cook) -> None:
    cook.paste("Bowl\nServes 4\n\n3/4 cup mayo\n1 tbsp dill\n")
    view = cook.dialog.page.view
    cook.click_cell("mayo", AMOUNT)
    editor = view.findChild(QLineEdit, "amount editor")
    assert editor is not None
    editor.selectAll()
    cook.qtbot.keyClicks(editor, "100 g")
    cook.qtbot.keyClick(editor, Qt.Key.Key_Return)
    cook.qtbot.waitUntil(lambda: cook.cell("mayo", AMOUNT) == "100 g")
    assert cook.cell("mayo", GRAMS) == "100"
    cook.click_cell("dill", ROLE)
    cook.pick("garnish")
    assert cook.cell("dill", ROLE) == "garnish"
    view.setCurrentIndex(view.table.index(cook.row("dill"), WRITTEN))
    cook.qtbot.keyClick(view, Qt.Key.Key_Delete)
    assert cook.cell("dill", MARK) == "–"
    assert "1 ingredient" in cook.said("intake summary")
    cook.qtbot.keyClick(view, Qt.Key.Key_Delete)
    assert cook.cell("dill", MARK) == "✓"
    assert cook.cell("dill", ROLE) == "garnish"


def test_a_chosen_line_is_shown_in_the_text(cook: Cook) -> None:
    cook.paste(MESSY)
    view = cook.dialog.page.view
    view.setCurrentIndex(view.table.index(cook.row("juice of"), WRITTEN))
    (selection,) = cook.dialog.text.field.extraSelections()
    assert selection.cursor.block().text() == "- juice of 1 lime"


def test_nothing_is_lost_when_the_dialog_is_closed(cook: Cook) -> None:
    cook.paste(MESSY)
    cook.answer("How much salt?")
    left = [card.question.words for card in cook.cards]
    cook.qtbot.keyClick(cook.dialog, Qt.Key.Key_Escape)
    assert not cook.dialog.isVisible()
    again = cook.open()
    assert again.text.text == MESSY
    assert [card.question.words for card in cook.cards] == left
    cook.qtbot.keyClick(cook.dialog, Qt.Key.Key_Escape)
    cook.person.window.change_setting(text_size=130)
    larger = cook.open()
    assert larger is not again
    assert larger.text.text == MESSY
    assert [card.question.words for card in cook.cards] == left
    cook.person.window.change_setting(text_size=100)


def test_starting_anew_can_be_undone(cook: Cook) -> None:
    cook.paste(MESSY)
    cook.qtbot.mouseClick(cook.dialog.text.anew, Qt.MouseButton.LeftButton)
    assert cook.dialog.text.text == ""
    assert not cook.cards
    with cook.qtbot.waitSignal(cook.dialog.read):
        cook.dialog.text.field.undo()
    assert cook.dialog.text.text == MESSY
    assert cook.cards


def test_answers_stay_while_the_text_is_corrected(cook: Cook) -> None:
    cook.paste(MESSY)
    cook.answer("How much salt?", 2)
    salt = cook.cell("salt)", AMOUNT)
    with cook.qtbot.waitSignal(cook.dialog.read):
        cook.dialog.text.field.moveCursor(cook.dialog.text.field.textCursor().MoveOperation.Start)
        cook.dialog.text.field.insertPlainText("Hello!\n")
    assert cook.cell("salt)", AMOUNT) == salt
    assert not any("How much salt?" in card.question.words for card in cook.cards)


def test_a_page_with_several_recipes_is_asked_about(
    cook: Cook, tmp_path: Path, demo_folder: Path
) -> None:
    page = tmp_path / "page.html"
    page.write_text(PAGE, encoding="utf-8")
    with cook.qtbot.waitSignal(cook.dialog.read):
        cook.dialog.open_file(page)
    (card,) = cook.cards
    assert "2 recipes" in card.question.words
    assert not cook.dialog.add.isEnabled()
    cook.answer("2 recipes")
    assert cook.dialog.page.title.text() == "Herb bowl"
    assert "1 cup hummus" in cook.dialog.text.text
    assert cook.dialog.text.other.isVisible()
    cook.qtbot.mouseClick(cook.dialog.add, Qt.MouseButton.LeftButton)
    assert dict(read_document(demo_folder / "herb-bowl.toml").recipe.claims) == {
        "energy_kcal": 60.0
    }


def test_a_page_pasted_as_its_source_is_shown_as_a_recipe(cook: Cook) -> None:
    cook.paste(
        PAGE.replace('[{"@type"', '{"@type"', 1).split(',\n {"@type"')[0] + "</script></html>"
    )
    assert cook.dialog.text.text.startswith("Herb bowl\nServes 6\n")
    assert cook.dialog.page.title.text() == "Herb bowl"


def test_another_recipe_pasted_over_a_page_takes_none_of_its_claims(
    cook: Cook, tmp_path: Path
) -> None:
    page = tmp_path / "page.html"
    page.write_text(PAGE, encoding="utf-8")
    with cook.qtbot.waitSignal(cook.dialog.read):
        cook.dialog.open_file(page)
    cook.answer("2 recipes")
    field = cook.dialog.text.field
    corrected = field.toPlainText().replace("2 tbsp dill", "3 tbsp dill")
    for text, claims in ((corrected, 1), ("Bowl\nServes 4\n\n1 cup feta\n", 0)):
        field.selectAll()
        cook.paste(text)
        intake = cook.dialog.intake
        assert intake is not None
        assert len(intake.claims) == claims


def test_what_is_typed_while_a_long_text_is_read_is_not_lost(cook: Cook) -> None:
    rows = "\n".join(f"{i} cups sour cream" for i in range(1, 500))
    cook.dialog.text.field.insertPlainText(f"Much\nServes 4\n\n{rows}\n")
    with cook.qtbot.waitSignal(cook.dialog.worker.busy_changed):
        pass
    cook.dialog.text.field.insertPlainText("1 cup hummus")
    with cook.qtbot.waitSignal(cook.dialog.worker.done, timeout=20_000):
        pass
    assert cook.dialog.text.text.endswith("1 cup hummus")


def test_a_file_that_cannot_be_read_is_told(cook: Cook, tmp_path: Path) -> None:
    with cook.qtbot.waitSignal(cook.dialog.worker.failed):
        cook.dialog.open_file(tmp_path / "nowhere.txt")
    assert "no such file" in cook.said("intake problem")


def test_a_long_text_is_read_off_the_windows_thread(cook: Cook) -> None:
    rows = "\n".join(f"{i} cups sour cream" for i in range(1, 500))
    with cook.qtbot.waitSignal(cook.dialog.worker.done, timeout=20_000):
        cook.dialog.text.field.insertPlainText(f"Much\nServes 4\n\n{rows}\n")
    assert cook.dialog.page.view.table.rowCount() == 499


def test_a_recipe_that_cannot_be_written_stays_in_the_dialog(
    cook: Cook, monkeypatch: pytest.MonkeyPatch
) -> None:
    cook.paste("Bowl\nServes 4\n\n1 cup sour cream\n1 tbsp dill\n")
    opened = cook.session.recipe_set
    assert opened is not None
    count = len(cook.session.documents)
    broken = type(opened)(
        **{
            **{name: getattr(opened, name) for name in opened.__slots__},
            "folder": opened.folder / "gone",
        }
    )
    monkeypatch.setattr(cook.session, "recipe_set", broken)
    cook.qtbot.mouseClick(cook.dialog.add, Qt.MouseButton.LeftButton)
    assert cook.dialog.isVisible()
    assert "could not be written" in cook.said("intake problem")
    assert cook.dialog.text.text.startswith("Bowl")
    assert len(cook.session.documents) == count


def test_every_field_and_button_of_the_dialog_says_what_it_is(cook: Cook) -> None:
    cook.paste(MESSY)
    assert cook.dialog.text.field.accessibleName()
    assert cook.dialog.page.view.accessibleName()
    for card in cook.cards:
        for button in card.buttons:
            assert button.choice.words in button.accessibleName()
        if card.question.topic is Topic.AMOUNT:
            assert card.question.words in card.field.accessibleName()


def test_the_dialog_looks_after_its_colours(cook: Cook, qtbot: QtBot) -> None:
    cook.paste(MESSY)
    light = cook.dialog.grab().toImage().pixelColor(5, 5).lightness()
    cook.person.window.change_setting(theme="dark")
    assert cook.dialog.grab().toImage().pixelColor(5, 5).lightness() < light
    cook.person.window.change_setting(theme="light")
