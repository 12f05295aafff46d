"""Taste and texture: original beside now, held within a tolerance or a band; wishes and headroom."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from reformulate import CHARACTER, CharacterHold, character_of
from tests.ui.conftest import Person


def hold(person: Person, key: str, text: str) -> None:
    field = person.field(f"hold {key}")
    field.setFocus()
    field.selectAll()
    field.insert(text)  # keyClicks knows no sign beyond ASCII
    person.qtbot.keyClick(field, Qt.Key.Key_Return)


def holds_on(person: Person, key: str) -> list[CharacterHold]:
    document = person.session.document
    assert document
    return [h for h in document.brief.holds if isinstance(h, CharacterHold) and h.quality == key]


def test_every_predictor_shows_original_beside_now(person: Person) -> None:
    person.choose("spinach")
    person.click("view taste")
    answer = person.session.answer
    assert answer
    for kind, level in zip(CHARACTER, character_of(answer), strict=True):
        assert person.label(f"original {kind.key}") == f"{level.original:.{kind.decimals}f}"
        assert person.label(f"now {kind.key}") == f"{level.now:.{kind.decimals}f} {kind.unit}"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("± 10 %", CharacterHold(quality="richness", tolerance=0.1)),
        ("15%", CharacterHold(quality="richness", tolerance=0.15)),
        ("10–14", CharacterHold(quality="richness", at_least=10.0, at_most=14.0)),
        (">= 12", CharacterHold(quality="richness", at_least=12.0)),
    ],
)
def test_a_typed_hold_is_held_and_written_back(
    person: Person, text: str, expected: CharacterHold
) -> None:
    person.choose("spinach")
    person.click("view taste")
    hold(person, "richness", text)
    assert holds_on(person, "richness") == [expected]


def test_a_held_predictor_stays_within_its_band(person: Person) -> None:
    person.choose("spinach")
    person.click("view taste")
    hold(person, "sourness", "± 10 %")
    answer = person.session.answer
    assert answer
    level = next(one for one in character_of(answer) if one.key == "sourness")
    assert level.kept
    assert abs(level.now / level.original - 1.0) <= 0.1 + 1e-6


def test_what_cannot_be_read_is_refused_with_what_to_write(person: Person) -> None:
    person.choose("spinach")
    person.click("view taste")
    hold(person, "body", "a lot")
    assert holds_on(person, "body") == []
    assert person.field("hold body").text() == "free"
    assert "± 10 %" in person.label("notice")


def test_a_hold_is_let_go_by_typing_free(person: Person) -> None:
    person.choose("spinach")
    person.click("view taste")
    assert holds_on(person, "sourness")
    hold(person, "sourness", "free")
    assert holds_on(person, "sourness") == []


def test_weaker_evidence_is_marked(person: Person) -> None:
    person.choose("spinach")
    person.click("view taste")
    assert person.label("evidence saltiness") == ""
    assert person.label("evidence pungency") == "weaker evidence"


def test_the_strip_below_the_amounts_opens_the_view(person: Person) -> None:
    person.choose("spinach")
    person.qtbot.mouseClick(person.window.page.strip, Qt.MouseButton.LeftButton)
    assert person.window.page.pages.currentIndex() == 1


def test_the_closest_character_can_be_asked_for(person: Person) -> None:
    person.choose("spinach")

    def moved() -> float:
        answer = person.session.answer
        assert answer
        return sum(abs(one.change) for one in character_of(answer))

    before = moved()
    menu = person.window.page._manner.menu()
    next(a for a in menu.actions() if "character" in a.text()).trigger()
    assert moved() < before
    assert person.window.page._manner.text() == "closest character ▾"


def test_a_goal_can_become_a_wish_and_gives_way(person: Person) -> None:
    person.choose("spinach")
    card = person.window.goals.cards["energy_kcal"]
    next(a for a in card._mode.menu().actions() if a.text() == "Wish, first").trigger()
    person.drag("energy_kcal", [145, 60])
    assert person.sentence.startswith("Meets both goals. As near to its wishes as can be")
    assert person.label("reach energy_kcal").endswith(
        f"out of reach: {card._levels.reach_words}"  # type: ignore[union-attr]
    )


def test_headroom_keeps_inside_and_says_what_it_moves(person: Person) -> None:
    person.choose("spinach")
    card = person.window.goals.cards["energy_kcal"]
    menu = next(a.menu() for a in card._mode.menu().actions() if a.text() == "Headroom")
    next(a for a in menu.actions() if a.text() == "5 %").trigger()
    answer = person.session.answer
    assert answer
    result = next(r for r in answer.goals if r.goal.nutrient == "energy_kcal")
    assert result.level <= 145 * 0.95 + 1e-6
    person.qtbot.waitUntil(lambda: "5 % headroom moves" in person.label("reach energy_kcal"))
