"""Editing a recipe and what is held, by hand; nothing is lost."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QSettings, Qt
from PySide6.QtWidgets import QApplication, QLineEdit, QMessageBox, QPushButton
from pytestqt.qtbot import QtBot

from reformulate import BatchHold, Goal, LineHold, read_document, read_draft
from tests.ui.conftest import Person
from ui.dialogs import LineDialog
from ui.main import make_window
from ui.recipe_table import HOLD, NOW, ORIGINAL


def edit_cell(person: Person, row: int, column: int, text: str) -> None:
    """Double-click a cell, type, press Enter."""
    view = person.window.page.table
    index = person.table.index(row, column)
    view.setCurrentIndex(index)
    view.edit(index)
    editor = view.viewport().findChild(QLineEdit)
    assert editor is not None
    editor.selectAll()
    person.qtbot.keyClicks(editor, text)
    with person.qtbot.waitSignal(view.itemDelegate().closeEditor):
        person.qtbot.keyClick(editor, Qt.Key.Key_Return)


def test_a_typed_amount_changes_the_recipe_and_all_figures(person: Person) -> None:
    person.choose("crab")
    before = person.label("achieved energy_kcal")
    row = person.row("cream cheese")
    edit_cell(person, row, ORIGINAL, "1/4 cup + 2 tbsp")
    assert person.cells(ORIGINAL)[row] == "1/4 cup + 2 tbsp"
    assert person.label("achieved energy_kcal") != before
    person.click("button undo")
    assert person.label("achieved energy_kcal") == before


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("2 cupz", "cupz"),
        ("-1 cup", "-1 cup"),
        ("nan g", "nan g"),
        ("3 cloves", "clove"),
    ],
)
def test_an_amount_that_cannot_be_read_is_refused_with_its_reason(
    person: Person, text: str, words: str
) -> None:
    person.choose("crab")
    before = person.session.document
    edit_cell(person, person.row("cream cheese"), ORIGINAL, text)
    assert person.session.document == before
    notice = person.window.page.notice
    assert notice.isVisible()
    assert notice.text().startswith("Not taken.")
    assert words in notice.text()


def test_space_locks_a_line_and_a_lock_keeps_its_grams(person: Person) -> None:
    person.choose("spinach")
    row = person.row("mozzarella")
    person.click_cell(row, NOW)
    person.qtbot.keyClick(person.window.page.table, Qt.Key.Key_Space)
    assert person.cells(HOLD)[row] == "free"
    person.qtbot.keyClick(person.window.page.table, Qt.Key.Key_Space)
    assert person.cells(HOLD)[row] == "lock"
    assert person.cells(NOW)[row] == person.cells(ORIGINAL)[row]


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("± 20 %", "± 20 %"),
        ("100-120 g", "100–120 g"),
        ("at most 90 g", "≤ 90 g"),
        ("Locked", "lock"),
        ("free", "free"),
    ],
)
def test_a_hold_is_typed_as_a_cook_writes_it(person: Person, typed: str, shown: str) -> None:
    person.choose("spinach")
    row = person.row("mozzarella")
    edit_cell(person, row, HOLD, typed)
    assert person.cells(HOLD)[row] == shown


def test_a_hold_that_contradicts_itself_is_refused(person: Person) -> None:
    person.choose("spinach")
    row = person.row("mozzarella")
    before = person.cells(HOLD)[row]
    edit_cell(person, row, HOLD, "200-100 g")
    assert person.cells(HOLD)[row] == before
    assert "at least 200 g and at most 100 g" in person.window.page.notice.text()


def test_the_hold_menu_offers_what_can_be_held(person: Person) -> None:
    person.choose("spinach")
    menu = person.window.page.table.hold_menu(person.row("mozzarella"))
    words = [action.text() for action in menu.actions() if action.text()]
    assert words[:3] == ["Free", "Lock", "± 5 %"]
    menu.actions()[1].trigger()
    assert person.cells(HOLD)[person.row("mozzarella")] == "lock"
    menu.deleteLater()


def test_a_tolerance_is_typed_and_the_batch_stays_within_it(person: Person) -> None:
    person.choose("spinach")
    person.type_into("tolerance Batch size", "± 0 %")
    document, answer = person.session.document, person.session.answer
    assert document is not None
    assert BatchHold(tolerance=0.0) in document.brief.holds
    assert answer is not None
    assert answer.achieved.finished_grams == pytest.approx(answer.original.finished_grams, rel=1e-6)


def test_a_hold_is_let_go_and_taken_up_again(person: Person) -> None:
    person.choose("spinach")
    person.click("remove Batch size")
    document = person.session.document
    assert document is not None
    assert not any(isinstance(hold, BatchHold) for hold in document.brief.holds)
    menu = person.window.holds._menu
    menu.aboutToShow.emit()
    next(action for action in menu.actions() if action.text() == "Batch size").trigger()
    document = person.session.document
    assert document is not None
    assert any(isinstance(hold, BatchHold) for hold in document.brief.holds)


def test_servings_change_the_figures_per_serving(person: Person) -> None:
    person.choose("crab")
    energy = person.session.answer.achieved.per_serving[1]  # type: ignore[union-attr]
    person.type_into("servings", "20")
    assert person.session.answer.achieved.per_serving[1] == pytest.approx(energy / 2)  # type: ignore[union-attr]
    person.type_into("servings", "0")
    assert person.field("servings").text() == "20"
    assert "expected a number above 0" in person.window.page.notice.text()


def test_a_line_is_added_from_the_food_table(person: Person) -> None:
    person.choose("crab")
    count = person.table.rowCount()
    person.click("add line")
    dialog = person.window.findChild(LineDialog)
    assert dialog is not None
    person.qtbot.keyClicks(dialog.search.field, "capers")
    dialog.amount.setText("1 furlong")
    assert "furlong" in dialog.problem.text()
    dialog.amount.setText("1 tbsp")
    take = dialog.findChild(QPushButton, "take")
    assert take is not None
    person.qtbot.mouseClick(take, Qt.MouseButton.LeftButton)
    assert person.table.rowCount() == count + 1
    assert person.cells(ORIGINAL)[person.row("capers")] == "1 tbsp"


def test_saving_writes_what_is_on_screen(person: Person) -> None:
    person.choose("spinach")
    path = person.session.document.path  # type: ignore[union-attr]
    person.drag("energy_kcal", [145, 150])
    assert person.window.isWindowModified()
    person.qtbot.keyClick(person.window, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert not person.window.isWindowModified()
    goal = read_document(path).brief.goal_on("energy_kcal")
    assert goal is not None
    assert goal.at_most == 150


def test_a_file_changed_elsewhere_is_asked_about_before_it_is_written_over(person: Person) -> None:
    person.choose("spinach")
    document = person.session.document
    assert document is not None
    elsewhere = document.path.read_text("utf-8").replace("servings = 10", "servings = 9")
    document.path.write_text(elsewhere, "utf-8")
    person.drag("energy_kcal", [145, 150])
    person.click("button save")
    box = person.window.findChild(QMessageBox)
    assert box is not None
    assert document.path.read_text("utf-8") == elsewhere
    over = next(b for b in box.findChildren(QPushButton) if b.text() == "Write over it")
    person.qtbot.mouseClick(over, Qt.MouseButton.LeftButton)
    assert read_document(document.path).recipe.servings == 10


def test_work_not_saved_comes_back_and_can_be_undone(
    person: Person, qapp: QApplication, qtbot: QtBot, store: QSettings, demo_folder: Path
) -> None:
    person.choose("spinach")
    person.drag("energy_kcal", [145, 151])
    edited = person.session.document
    assert edited is not None
    person.session.keep_drafts()  # what the timer does a moment after the last edit
    assert read_draft(edited.path) == edited
    # No close: the program is simply gone, and a lock whose process is gone counts for nothing.
    (demo_folder / ".reformulate.lock").unlink()
    again = make_window(qapp, store, demo_folder)
    qtbot.addWidget(again)
    session = again._session
    assert edited in session.documents
    assert "restored" in again.page.notice.text()
    session.undo_stack.undo()
    assert edited not in session.documents
    session.undo_stack.setClean()


def test_the_second_window_on_a_set_is_warned(
    person: Person, qapp: QApplication, qtbot: QtBot, store: QSettings, demo_folder: Path
) -> None:
    again = make_window(qapp, store, demo_folder)
    qtbot.addWidget(again)
    box = again.findChild(QMessageBox)
    assert box is not None
    assert box.text() == "This set is open elsewhere"
    box.close()


def test_a_second_window_leaves_the_drafts_of_the_first_alone(
    person: Person, qapp: QApplication, qtbot: QtBot, store: QSettings, demo_folder: Path
) -> None:
    person.choose("spinach")
    person.drag("energy_kcal", [145, 151])
    person.session.keep_drafts()
    edited = person.session.document
    assert edited is not None
    again = make_window(qapp, store, demo_folder)
    qtbot.addWidget(again)
    assert edited not in again._session.documents
    again.close()
    assert read_draft(edited.path) == edited


def test_work_that_cannot_be_kept_is_asked_about_before_the_window_closes(
    person: Person, qapp: QApplication, qtbot: QtBot, store: QSettings, demo_folder: Path
) -> None:
    again = make_window(qapp, store, demo_folder)
    qtbot.addWidget(again)
    with qtbot.waitExposed(again):
        again.show()
    second = Person(again, qtbot)
    again.findChild(QMessageBox).close()
    second.drag("energy_kcal", [145, 151])
    again.close()
    assert again.isVisible()
    box = next(b for b in again.findChildren(QMessageBox) if b.text() == "Unsaved work")
    assert "Hot spinach and artichoke dip" in box.informativeText()
    lose = next(b for b in box.findChildren(QPushButton) if b.text() == "Go on without it")
    qtbot.mouseClick(lose, Qt.MouseButton.LeftButton)
    assert not again.isVisible()


def test_a_folder_that_is_no_set_leaves_the_open_one_open(person: Person, tmp_path: Path) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()
    before = person.session.documents
    person.window.open_set(empty)
    box = person.window.findChild(QMessageBox)
    assert box is not None
    assert box.text() == "This set could not be opened"
    assert "set.toml" in box.informativeText()
    assert person.session.documents == before


def test_a_broken_recipe_file_does_not_hide_the_others(
    qapp: QApplication, qtbot: QtBot, store: QSettings, demo_folder: Path
) -> None:
    broken = demo_folder / "crab-dip.toml"
    broken.write_bytes(broken.read_bytes()[:200])
    window = make_window(qapp, store, demo_folder)
    qtbot.addWidget(window)
    assert "crab-dip.toml" in window.sidebar._broken.text()
    assert len(window._session.documents) == 10


edits = st.lists(
    st.one_of(
        st.tuples(st.just("goal"), st.sampled_from(["energy_kcal", "fat_g"]), st.integers(1, 300)),
        st.tuples(st.just("lock"), st.integers(0, 11), st.floats(0, 1)),
        st.tuples(st.just("servings"), st.just(""), st.integers(1, 30)),
        st.tuples(st.just("free"), st.integers(0, 11), st.just(0)),
    ),
    min_size=1,
    max_size=8,
)


@given(edits)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_undoing_all_and_redoing_all_gives_the_same_documents(
    person: Person, steps: list[tuple[str, object, float]]
) -> None:
    session = person.session
    session.undo_stack.clear()
    before = session.documents
    start = session.undo_stack.index()
    for kind, what, value in steps:
        lines = session.document.recipe.lines  # type: ignore[union-attr]
        if kind == "goal":
            goal = Goal(nutrient=str(what), at_most=float(value))
            session.edit_brief(lambda b, goal=goal: b.with_goal(goal), "goal")
        elif kind == "servings":
            session.edit(
                lambda d, value=value: replace(d, recipe=replace(d.recipe, servings=value)), "s"
            )
        else:
            line = lines[int(what) % len(lines)].id  # type: ignore[call-overload]
            hold = LineHold(line=line, tolerance=value) if kind == "lock" else None
            session.edit_brief(lambda b, li=line, h=hold: b.with_line_hold(li, h), "hold")
    after = session.documents
    while session.undo_stack.index() > start:
        session.undo_stack.undo()
    assert session.documents == before
    while session.undo_stack.canRedo():
        session.undo_stack.redo()
    assert session.documents == after
    while session.undo_stack.index() > start:
        session.undo_stack.undo()
