"""A recipe taken in from text, from the paste to the file, asserting what the screen shows."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from reformulate import Topic, read_document, read_set
from tests.ui.intake.conftest import MESSY, Cook
from ui.intake_lines import GRAMS, MARK


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
