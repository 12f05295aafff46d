"""Every uncertain step of a recipe on its way in is on screen, and what was pasted stays text."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from reformulate import FoodStore, Topic, food_table, import_release, working_copy
from tests.ui.conftest import Person
from tests.ui.intake.conftest import MESSY, Cook
from ui.food_search import FoodSearch
from ui.intake_lines import MARK, OPEN, SECOND_ROLE, WRITTEN
from ui.phrases import plain_entry, plain_tip

RELEASE = Path(__file__).parents[3] / "shared" / "data" / "sr28"

SCRIPT = "<b>curd</b><script>alert(1)</script><img src='file:///a.png'>"

BROKEN = """<html><script type="application/ld+json">
{"@type": "Recipe", "name": "Herb bowl", "recipeYield": "6",
 "recipeIngredient": ["1 cup hummus",], "recipeInstructions": "Stir.",}
</script></html>"""
"""Commas too many; invented."""


@pytest.fixture
def cook(person: Person) -> Cook:
    return Cook(person)


def test_all_that_was_decided_in_reading_a_line_stands_below_it(cook: Cook) -> None:
    capers = "- 1-2 tbsp capers (optional)\n"
    cook.paste(MESSY.replace("- 6 oz soft cheese\n", capers))
    intake, table = cook.dialog.intake, cook.dialog.page.view.table
    assert intake is not None
    said = [line.said for line in intake.lines]
    assert max(map(len, said)) >= 2
    for row, words in enumerate(said):
        shown = table.index(row, WRITTEN).data(SECOND_ROLE)
        assert all(word in shown for word in words)


def test_each_line_with_something_open_is_marked_and_asked_about(cook: Cook) -> None:
    cook.paste(MESSY)
    intake, table = cook.dialog.intake, cook.dialog.page.view.table
    assert intake is not None
    asked = {card.question.line for card in cook.cards if card.question.line >= 0}
    marked = {row for row in range(table.rowCount()) if table.index(row, MARK).data() == OPEN}
    unsure = {row for row, line in enumerate(intake.lines) if not line.sure}
    assert asked == marked == unsure
    assert unsure
    unweighed = {row for row, line in enumerate(intake.lines) if line.grams is None}
    assert unweighed <= asked


def test_questions_stand_most_consequential_first(cook: Cook) -> None:
    cook.paste("1 kg zucchini\n500 g soft cheese\nblack pepper to taste\nsalt to taste\n")
    shares = [card.question.consequence for card in cook.cards]
    assert shares[0] > 0
    assert shares == sorted(shares, reverse=True)
    topics = [card.question.topic for card in cook.cards]
    assert (topics[0], topics[-1]) == (Topic.SERVINGS, Topic.TITLE)
    words = [card.question.words for card in cook.cards]
    salt = next(i for i, one in enumerate(words) if "How much salt?" in one)
    pepper = next(i for i, one in enumerate(words) if "pepper" in one)
    assert salt < pepper  # all of the sodium hangs on the one, hardly anything on the other
    places = [card.y() for card in cook.cards]
    assert places == sorted(places)


def test_data_of_a_page_that_was_mended_is_said(cook: Cook, tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    page.write_text(BROKEN, "utf-8")
    with cook.qtbot.waitSignal(cook.dialog.read):
        cook.dialog.open_file(page)
    assert cook.dialog.page.title.text() == "Herb bowl"
    assert "was broken and was mended" in cook.said("intake notes")


def test_markup_in_a_pasted_recipe_is_shown_as_text(cook: Cook) -> None:
    cook.paste(f"{SCRIPT} bowl\n\n2 cups {SCRIPT}\n1 cup qqxzzy or {SCRIPT}\nsalt to taste\n")
    assert cook.cards
    labels = [label for label in cook.dialog.findChildren(QLabel) if "<" in label.text()]
    assert labels
    assert {label.textFormat() for label in labels} == {Qt.TextFormat.PlainText}
    table = cook.dialog.page.view.table
    tips = [
        str(table.index(row, column).data(Qt.ItemDataRole.ToolTipRole) or "")
        for row in range(table.rowCount())
        for column in range(table.columnCount())
    ]
    tips += [button.toolTip() for card in cook.cards for button in card.buttons]
    assert any("&lt;" in tip for tip in tips)
    assert not any(mark in tip for tip in tips for mark in ("<b>", "<script", "<img"))


def test_signs_in_tips_and_menus_are_shown_as_they_stand() -> None:
    assert plain_tip("1 cup salt & pepper") == "1 cup salt & pepper"
    assert plain_tip("a <b>\nc & d") == "<qt>a &lt;b&gt;<br>c &amp; d</qt>"
    assert plain_entry("Bean & Chile") == "Bean && Chile"


def test_a_choice_is_remembered_for_its_set_and_for_no_other(cook: Cook, tmp_path: Path) -> None:
    text = "Cheese bowl\nServes 4\n\n6 oz soft cheese\n1 cup sour cream\n"
    cook.paste(text)
    cook.answer("soft cheese", 1)
    cook.qtbot.mouseClick(cook.dialog.add, Qt.MouseButton.LeftButton)
    cook.open()
    cook.paste(text)
    assert not cook.cards
    cook.qtbot.keyClick(cook.dialog, Qt.Key.Key_Escape)
    assert cook.session.open_set(working_copy(tmp_path / "other")) is None
    cook.open()
    assert [card.question.topic for card in cook.cards] == [Topic.FOOD]


@pytest.fixture(scope="module")
def release(tmp_path_factory: pytest.TempPathFactory) -> Iterator[FoodStore]:
    if not RELEASE.exists():
        pytest.skip("the public release is not at hand")
    path = tmp_path_factory.mktemp("release") / "foods.sqlite"
    assert import_release(RELEASE, path) is not None
    with FoodStore.open(path) as store:
        yield store


def test_every_letter_typed_shows_foods_of_a_whole_release(
    qtbot: QtBot, release: FoodStore
) -> None:
    """How long a letter takes is measured in ``tests/benchmarks/test_food_store.py``."""
    assert release.count() == 8790  # as the release says
    search = FoodSearch(food_table(), store=release)
    qtbot.addWidget(search)
    search.show()
    for name in ("greek yogurt plain", "cheese spread", "beans white canned", "tomato paste"):
        search.field.clear()
        for end, letter in enumerate(name, start=1):
            search.field.insert(letter)
            food = search.food
            assert food is not None
            assert name[:end].split()[0] in " ".join((food.name, *food.words)).lower()
