"""Questions and lines of a recipe taken in are settled with keys and mouse."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit

from tests.ui.intake.conftest import MENUS, MESSY, Cook
from ui.intake_food import FoodChoice
from ui.intake_lines import AMOUNT, FOOD, GRAMS, MARK, ROLE, WRITTEN


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
