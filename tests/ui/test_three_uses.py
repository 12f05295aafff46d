"""The three uses, driven with mouse and keys, asserting what the screen shows."""

from __future__ import annotations

import re

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton, QToolButton

from reformulate import Goal, find_conflict, level
from tests.ui.conftest import Person
from ui.dialogs import SwapDialog
from ui.recipe_table import CHANGE, HOLD, NOW


def number(text: str) -> float:
    """The first figure in a text."""
    found = re.search(r"\d+(?:\.\d+)?", text)
    assert found, text
    return float(found[0])


def test_lightening_a_classic_while_the_handle_moves(person: Person) -> None:
    person.choose("spinach")
    assert person.label("recipe title") == "Hot spinach and artichoke dip"
    seen: list[tuple[str, str, tuple[str, ...]]] = []

    def look() -> None:
        seen.append(
            (
                person.label("achieved energy_kcal"),
                person.label("reach protein_g"),
                tuple(person.cells(NOW)),
            )
        )

    person.drag("energy_kcal", [145, 142, 139, 136, 133, 130], look)
    energies = [number(energy) for energy, _, _ in seen]
    assert energies == sorted(energies, reverse=True)
    assert all(
        energy <= limit for energy, limit in zip(energies, (142, 139, 136, 133, 130), strict=True)
    )
    assert len({reach for _, reach, _ in seen}) == len(seen)
    assert len({amounts for _, _, amounts in seen}) == len(seen)
    assert person.field("at_most energy_kcal").text() == "130"
    assert person.label("achieved energy_kcal").startswith("✓")
    assert person.sentence.startswith("Meets all 3 goals.")
    assert "swapped in: " in person.sentence
    assert person.cells(CHANGE)[person.row("cream cheese")].startswith("−")


def test_the_whole_drag_is_one_step_to_undo(person: Person) -> None:
    person.choose("spinach")
    before = person.session.document
    person.drag("energy_kcal", [145, 140, 135, 131])
    assert person.session.undo_stack.count() == 1
    person.qtbot.keyClick(person.window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert person.session.document == before
    assert person.field("at_most energy_kcal").text() == "145"
    person.click("button redo")
    assert person.field("at_most energy_kcal").text() == "131"


def test_the_figures_shown_are_those_of_the_amounts_shown(person: Person) -> None:
    person.choose("spinach")
    person.drag("energy_kcal", [145, 137])
    answer = person.session.answer
    assert answer is not None
    grams = [person.table.row(r).amount for r in range(person.table.rowCount())]
    by_hand = 0.0
    for amount in grams:
        if amount is not None:
            food = person.session.foods
            by_hand += amount.after * food.values[food.index(amount.food), 1] / 100
    shown = number(person.label("achieved energy_kcal"))
    assert shown == pytest.approx(by_hand / answer.original.servings, abs=0.5)
    assert by_hand / answer.original.servings <= 137


def test_hitting_a_protein_target_with_the_keyboard(person: Person) -> None:
    person.choose("trout")
    assert person.sentence.startswith("Meets all 4 goals.")
    person.type_into("at_least protein_g", "11")
    assert number(person.label("achieved protein_g")) >= 11
    person.press("Right", "protein_g")
    assert person.field("at_least protein_g").text() == "11.1"
    assert number(person.label("achieved protein_g")) >= 11.1
    person.press("End", "protein_g")
    end = number(person.field("at_least protein_g").text())
    assert person.sentence.startswith("Meets")
    person.press("Right", "protein_g")
    person.press("Right", "protein_g")
    assert number(person.field("at_least protein_g").text()) == pytest.approx(end + 0.2)
    assert "is out of reach" in person.label("reach protein_g")


def test_a_first_goal_by_arrow_key_starts_from_what_there_is(person: Person) -> None:
    person.choose("crab")
    before = number(person.label("achieved energy_kcal"))
    person.press("Left", "energy_kcal")
    assert number(person.field("at_most energy_kcal").text()) == before - 1
    assert number(person.label("achieved energy_kcal")) <= before - 1
    person.press("Delete", "energy_kcal")
    assert not person.field("at_most energy_kcal").isVisible()


def test_exploring_substitutions_by_ticking_one(person: Person) -> None:
    person.choose("walnut")
    reach_before = person.label("reach protein_g")
    row = person.row("almonds")
    assert person.cells(HOLD)[row] == "left out"
    person.click_cell(row, HOLD)
    assert person.cells(HOLD)[row] == "allowed"
    low, high = map(float, re.findall(r"\d+\.\d", reach_before))
    low_now, high_now = map(float, re.findall(r"\d+\.\d", person.label("reach protein_g")))
    assert low_now <= low
    assert high_now > high
    person.click("button undo")
    assert person.cells(HOLD)[row] == "left out"
    assert person.label("reach protein_g") == reach_before


def test_exploring_substitutions_by_searching_for_one(person: Person) -> None:
    person.choose("walnut")
    person.click_cell(person.row("walnuts"), NOW)
    person.click("allow swap")
    dialog = person.window.findChild(SwapDialog)
    assert dialog is not None
    person.qtbot.keyClicks(dialog.search.field, "pumpkin seed")
    assert "Pumpkin seeds" in dialog.search.results.currentIndex().data()
    take = dialog.findChild(QPushButton, "take")
    assert take is not None
    person.qtbot.mouseClick(take, Qt.MouseButton.LeftButton)
    row = person.row("pumpkin seeds")
    assert person.cells(HOLD)[row] == "allowed"
    answer = person.session.answer
    assert answer is not None
    person.type_into("at_most energy_kcal", "140")
    assert person.label("achieved energy_kcal").startswith("✓")
    person.click_cell(row, NOW)
    person.qtbot.keyClick(person.window.page.table, Qt.Key.Key_Delete)
    assert all("pumpkin seeds" not in name.lower() for name in person.cells(0))


def test_a_value_out_of_reach_is_shown_with_the_nearest_answer(person: Person) -> None:
    person.choose("spinach")
    person.drag("energy_kcal", [145, 120, 90, 70])
    assert person.slider("energy_kcal").state.out_of_reach("at_most")
    assert "70 is out of reach: reach 127." in person.label("reach energy_kcal")
    assert person.sentence.startswith("Out of reach: energy stays 5")
    assert person.sentence.endswith("This is the nearest answer.")
    assert person.label("achieved energy_kcal").startswith("!")
    answer = person.session.answer
    assert answer is not None
    protein = level(
        "protein_g", answer.goals[1].goal.per, answer.grams, answer.items, answer.original.servings
    )
    assert protein >= 100
    assert "nearest limits" in person.label("certificate")


def test_a_way_out_is_one_press_and_can_be_undone(person: Person) -> None:
    person.choose("spinach")
    person.drag("energy_kcal", [145, 100, 70])
    reason = person.window.page.state.reason
    person.qtbot.waitUntil(reason.isVisible)
    words = person.label("conflict")
    assert words.startswith("These alone cannot all be kept: ")
    assert "energy at most 70 kcal per serving" in words
    person.click("way out energy at most 128 kcal per serving")
    assert person.field("at_most energy_kcal").text() == "128"
    assert person.sentence.startswith("Meets all 3 goals.")
    assert not reason.isVisible()
    person.click("button undo")
    assert person.field("at_most energy_kcal").text() == "70"


def test_every_way_out_is_offered_the_first_as_buttons_the_others_in_a_menu(
    person: Person,
) -> None:
    person.choose("spinach")
    person.drag("energy_kcal", [145, 127])  # just out of reach: many a small change frees it
    reason = person.window.page.state.reason
    person.qtbot.waitUntil(reason.isVisible)
    shown = [b for b in reason.findChildren(QToolButton) if b.objectName().startswith("way out")]
    more = person.find(QToolButton, "more ways out")
    assert isinstance(more, QToolButton)
    more.menu().aboutToShow.emit()
    entries = more.menu().actions()
    document, batch = person.session.document, person.session.batch
    assert document
    assert batch
    conflict = find_conflict(batch, document.brief, person.session.foods)
    assert conflict
    assert len(shown) == 3
    assert more.text() == f"{len(entries)} more ▾"
    words = {button.text().lower() for button in shown} | {e.text().lower() for e in entries}
    assert words == {way.words for way in conflict.ways_out}
    entries[-1].trigger()
    assert person.sentence.startswith("Meets all 3 goals.")


def test_where_no_single_change_helps_the_reason_says_so(person: Person) -> None:
    person.choose("walnut")
    person.session.edit_brief(
        lambda brief: brief.with_goal(Goal(nutrient="energy_kcal", at_most=80.0)).with_goal(
            Goal(nutrient="protein_g", at_least=12.0)
        ),
        "Ask for too much",
    )
    person.qtbot.waitUntil(person.window.page.state.reason.isVisible)
    assert person.label("conflict").endswith(
        "No change to one of them alone makes room for everything else."
    )
    assert not person.find(QToolButton, "more ways out").isVisible()


def test_gentlest_change_moves_more_lines_and_each_less(person: Person) -> None:
    person.choose("spinach")

    def largest() -> float:
        return max(float(re.sub(r"[^0-9.]", "", words)) for words in changes if "%" in words)

    changes = [words for words in person.cells(CHANGE) if words]
    few, most = len(changes), largest()
    menu = person.window.page._manner.menu()
    next(action for action in menu.actions() if "Gentlest" in action.text()).trigger()
    assert person.find(QToolButton, "manner").text() == "gentlest change ▾"  # type: ignore[attr-defined]
    changes = [words for words in person.cells(CHANGE) if words]
    assert len(changes) > few
    assert largest() < most
    assert person.sentence.startswith("Meets all 3 goals.")
    person.click("button undo")
    assert person.find(QToolButton, "manner").text() == "fewest changes ▾"  # type: ignore[attr-defined]
