"""A goal's card: what its menu starts a goal with, what may be typed, and a groove that stays."""

from __future__ import annotations

from dataclasses import replace
from math import inf

import pytest
from PySide6.QtWidgets import QLineEdit

from reformulate import Goal
from tests.ui.conftest import Person
from ui.levels import levels_of


def choose_in_menu(person: Person, key: str, words: str) -> None:
    menu = person.window.goals.cards[key]._mode.menu()
    menu.aboutToShow.emit()
    next(action for action in menu.actions() if action.text() == words).trigger()


def fields(person: Person, name: str) -> list[QLineEdit]:
    return person.window.findChildren(QLineEdit, name)


def goal_on(person: Person, key: str) -> Goal | None:
    document = person.session.document
    assert document is not None
    return document.brief.goal_on(key)


@pytest.mark.parametrize(
    ("words", "below", "above"),
    [("At most", None, 0.0), ("At least", 0.0, None), ("Between", 1.0, 1.0)],
)
def test_a_goal_from_the_menu_starts_at_what_there_is(
    person: Person, words: str, below: float | None, above: float | None
) -> None:
    person.choose("crab")
    now = round(person.slider("energy_kcal").state.achieved)
    choose_in_menu(person, "energy_kcal", words)
    goal = goal_on(person, "energy_kcal")
    assert goal is not None
    assert goal.at_least == (None if below is None else now - below)
    assert goal.at_most == (None if above is None else now + above)
    choose_in_menu(person, "energy_kcal", "No goal")
    assert goal_on(person, "energy_kcal") is None


@pytest.mark.parametrize(("key", "is_offered"), [("protein_g", True), ("sodium_mg", False)])
def test_only_what_brings_energy_can_be_a_share_of_it(
    person: Person, key: str, is_offered: bool
) -> None:
    person.choose("spinach")
    person.session.edit_brief(
        lambda brief: brief.with_goal(Goal(nutrient=key, at_least=0.1)), "Ask for some"
    )
    menu = person.window.goals.cards[key]._mode.menu()
    menu.aboutToShow.emit()
    offered = {action.text(): action.isEnabled() for action in menu.actions()}
    assert offered["share of the energy"] is is_offered
    assert offered["per 100 g"]


@pytest.mark.parametrize(
    ("typed", "limit"), [("10,7", 10.7), ("10.7", 10.7), ("12", 12.0), ("", 10.5), (",", 10.5)]
)
def test_a_limit_may_be_typed_with_a_comma_and_what_is_none_is_put_back(
    person: Person, typed: str, limit: float
) -> None:
    person.choose("trout")
    person.type_into("at_least protein_g", typed)
    goal = goal_on(person, "protein_g")
    assert goal is not None
    assert goal.at_least == limit
    shown = person.field("at_least protein_g").text()
    assert float(shown.replace(",", ".")) == limit


def test_the_groove_keeps_its_span_while_a_handle_moves(person: Person) -> None:
    person.choose("trout")
    slider = person.slider("protein_g")
    spans: list[float] = []
    levels: list[float] = []

    def look() -> None:
        spans.append(slider.state.top)
        levels.append(slider.state.achieved)

    top = slider.state.top
    person.drag("protein_g", [10.5, 11.0, 12.0, 13.0, 14.0], look)
    assert set(spans) == {top}
    assert 1.3 * levels[-1] > top  # a groove made for what is there now would be wider
    assert levels[-1] > levels[0]


@pytest.mark.parametrize(
    ("reach", "scale"), [(1.0, 1.3), (1.8, 1.8), (2.1, 2.1), (9.0, 2.2), (inf, 1.3)]
)
def test_the_groove_spans_the_original_with_room_and_the_reach_as_far_as_is_sensible(
    person: Person, reach: float, scale: float
) -> None:
    person.choose("spinach")
    answer = person.session.answer
    assert answer is not None
    levels = levels_of(answer, "energy_kcal")
    span = max(levels.original, levels.achieved)
    assert replace(levels, reach_high=reach * span).scale == pytest.approx(scale * span)


@pytest.mark.parametrize(
    ("text", "shown"), [("± 7,5 %", "± 7.5 %"), ("some", "± 2 %"), ("-3", "± 2 %")]
)
def test_a_tolerance_may_be_typed_with_a_comma_and_what_is_none_is_put_back(
    person: Person, text: str, shown: str
) -> None:
    person.choose("crab")
    # Rows that have changed are made anew, and the old ones go when the event loop comes round.
    person.qtbot.waitUntil(lambda: len(fields(person, "tolerance Batch size")) == 1)
    assert person.field("tolerance Batch size").text() == "± 2 %"
    person.type_into("tolerance Batch size", text)
    person.qtbot.waitUntil(lambda: person.field("tolerance Batch size").text() == shown)
    refused = shown == "± 2 %"
    assert person.window.page.notice.isVisible() is refused


def test_what_is_held_already_is_not_offered_to_hold(person: Person) -> None:
    person.choose("crab")
    menu = person.window.holds._menu
    menu.aboutToShow.emit()
    words = [action.text() for action in menu.actions()]
    assert words
    assert "Batch size" not in words
    person.click("remove Batch size")
    menu.aboutToShow.emit()
    assert [action.text() for action in menu.actions()] == ["Batch size", *words]
