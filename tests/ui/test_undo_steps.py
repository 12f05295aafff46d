"""What counts as one step to undo: a drag, a typed limit, and nothing that changes nothing."""

from __future__ import annotations

from dataclasses import replace

from reformulate import Brief
from tests.ui.conftest import Person


def test_two_drags_are_two_steps(person: Person) -> None:
    person.choose("spinach")
    person.drag("energy_kcal", [145, 142, 140])
    person.drag("energy_kcal", [140, 137, 135])
    assert person.session.undo_stack.count() == 2
    person.click("button undo")
    assert person.field("at_most energy_kcal").text() == "140"


def test_a_run_of_keys_is_one_step_until_the_slider_is_left(person: Person) -> None:
    person.window.activateWindow()
    person.qtbot.waitUntil(person.window.isActiveWindow)
    person.choose("spinach")
    for _ in range(3):
        person.press("Left", "energy_kcal")
    assert person.session.undo_stack.count() == 1
    person.slider("protein_g").setFocus()
    person.press("Left", "energy_kcal")
    assert person.session.undo_stack.count() == 2


def test_a_typed_limit_is_a_step_of_its_own(person: Person) -> None:
    person.choose("spinach")
    person.drag("energy_kcal", [145, 140])
    person.type_into("at_most energy_kcal", "138")
    person.type_into("at_most energy_kcal", "136")
    assert person.session.undo_stack.count() == 3


def test_a_drag_there_and_back_leaves_no_step(person: Person) -> None:
    person.choose("spinach")
    before = person.session.document
    person.drag("energy_kcal", [145, 140, 145])
    assert person.session.document == before
    assert person.session.undo_stack.count() == 0


def test_an_edit_that_changes_nothing_is_no_step(person: Person) -> None:
    person.choose("spinach")
    person.type_into("at_most energy_kcal", "145")
    assert person.session.edit(lambda document: document, "Change nothing")
    assert person.session.undo_stack.count() == 0
    assert person.session.unsaved == ()


def test_steps_of_two_recipes_never_fold_into_one(person: Person) -> None:
    def aim(words: str) -> None:
        def edit(brief: Brief) -> Brief:
            return replace(brief, aim=words)

        person.session.edit_brief(edit, "Change aim", key="aim")

    person.choose("spinach")
    spinach = person.session.document
    aim("One")
    aim("Two")
    assert person.session.undo_stack.count() == 1
    person.choose("crab")
    crab = person.session.document
    aim("Three")
    assert person.session.undo_stack.count() == 2
    person.session.undo_stack.undo()
    assert person.session.document == crab
    person.session.undo_stack.undo()
    assert person.session.document == spinach
