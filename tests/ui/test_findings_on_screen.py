"""A finding of the review stands on its page with why, how sure it is, and what its fix would do."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtWidgets import QFrame, QLabel, QToolButton

from reformulate import Document
from tests.ui.conftest import Person
from tests.ui.test_review_view import open_review, plant
from ui.review_view import ReviewView


@pytest.fixture
def reviewed(person: Person) -> ReviewView:
    view = open_review(person, "spinach")
    with person.qtbot.waitSignal(view.worker.done, timeout=20_000):
        plant(person, "sour-cream", "1/2 cup (230 g) <b>sour</b> cream & chives")
    return view


def words_of(view: ReviewView) -> list[str]:
    return [
        label.text()
        for card in view.findChildren(QFrame, "card")
        if card.isVisible()
        for label in card.findChildren(QLabel)
    ]


def test_each_finding_is_shown_with_what_why_and_how_sure(
    reviewed: ReviewView, person: Person
) -> None:
    assert reviewed.findings
    person.qtbot.waitUntil(lambda: bool(words_of(reviewed)))
    shown = words_of(reviewed)
    for finding in reviewed.findings:
        assert finding.sureness in ("sure", "likely", "perhaps")
        assert {finding.what, finding.why, finding.sureness} <= set(shown)


def test_a_fix_says_on_its_button_what_it_does(reviewed: ReviewView) -> None:
    for number, finding in enumerate(reviewed.findings):
        button = reviewed.findChild(QToolButton, f"fix {number}")
        assert (button is not None) is (finding.fix is not None)
        if button is not None and finding.fix is not None:
            assert button.text().replace("&&", "&") == finding.fix.words


def test_a_fix_takes_its_finding_away_and_undo_brings_both_back(
    reviewed: ReviewView, person: Person
) -> None:
    before, found = person.session.document, reviewed.findings
    count = person.session.undo_stack.index()
    button = reviewed.findChild(QToolButton, "fix 0")
    assert button is not None
    with person.qtbot.waitSignal(reviewed.worker.done, timeout=20_000):
        button.click()
    assert person.session.undo_stack.index() == count + 1
    assert reviewed.findings == ()
    with person.qtbot.waitSignal(reviewed.worker.done, timeout=20_000):
        person.session.undo_stack.undo()
    assert person.session.document == before
    assert [one.what for one in reviewed.findings] == [one.what for one in found]


def test_printed_figures_that_came_with_the_recipe_are_compared_and_stay(person: Person) -> None:
    view = open_review(person, "spinach")

    def claim(document: Document) -> Document:
        recipe = replace(document.recipe, claims=(("energy_kcal", 20.0),))
        return replace(document, recipe=recipe)

    with person.qtbot.waitSignal(view.worker.done, timeout=20_000):
        person.session.edit(claim, "Claim")
    person.qtbot.waitUntil(lambda: any("20 kcal" in words for words in words_of(view)))
    document = person.session.document
    assert document is not None
    assert document.recipe.claims == (("energy_kcal", 20.0),)
