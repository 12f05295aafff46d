"""The review before print: findings with why, how sure, and a fix that can be undone."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtWidgets import QLabel, QToolButton

from reformulate import Document
from tests.ui.conftest import Person
from ui.review_view import ReviewView


def open_review(person: Person, words: str) -> ReviewView:
    person.choose(words)
    view = person.find(ReviewView, "review")
    assert isinstance(view, ReviewView)
    with person.qtbot.waitSignal(view.worker.done, timeout=20_000):
        person.click("view review")
    return view


def plant(person: Person, line_id: str, text: str) -> None:
    """Give a line other words in its source than its amount says."""

    def change(document: Document) -> Document:
        line = replace(document.recipe.line(line_id), text=text)
        return replace(document, recipe=document.recipe.with_line(line))

    assert person.session.edit(change, "Plant a fault")


def test_a_clean_recipe_has_nothing_to_put_right(person: Person) -> None:
    view = open_review(person, "spinach")
    assert view.findings == ()
    assert person.label("review heading").startswith("Nothing to put right")


def test_a_metric_figure_that_disagrees_is_found_with_its_reason(person: Person) -> None:
    view = open_review(person, "spinach")
    with person.qtbot.waitSignal(view.worker.done, timeout=20_000):
        plant(person, "sour-cream", "1/2 cup (230 g) sour cream")
    assert len(view.findings) == 1
    found = view.findings[0]
    assert found.where == "sour-cream"
    assert "230 g" in found.what
    label = person.find(QLabel, "finding 0")
    assert isinstance(label, QLabel)
    assert label.text() == found.what


def test_a_fix_is_one_press_and_one_step_to_undo(person: Person) -> None:
    view = open_review(person, "spinach")
    with person.qtbot.waitSignal(view.worker.done, timeout=20_000):
        plant(person, "sour-cream", "1/2 cup (230 g) sour cream")
    before = person.session.document
    button = view.findChild(QToolButton, "fix 0")
    assert button is not None
    with person.qtbot.waitSignal(view.worker.done, timeout=20_000):
        button.click()
    assert person.session.document != before
    person.session.undo_stack.undo()
    assert person.session.document == before
