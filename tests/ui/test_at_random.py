"""A restless person: edits, undoes, saves, switches and drags at random; the window keeps up."""

from __future__ import annotations

import os
import random
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt

from reformulate import LineHold, Per, read_document
from tests.ui.conftest import Person

STEPS = 60


class Restless:
    """Picks what to do next; everything is done through the session or the widgets."""

    def __init__(self, person: Person, seed: int) -> None:
        self.person, self.random = person, random.Random(seed)  # noqa: S311 - no secret
        self.session = person.session

    def step(self) -> None:
        """Do one thing."""
        self.random.choice(
            [
                self.drag,
                self.drag,
                self.press,
                self.switch,
                self.undo,
                self.redo,
                self.unit,
                self.sides,
                self.hold,
                self.toggle,
                self.amount,
                self.save,
                self.show,
            ]
        )()

    def card(self) -> object:
        return self.random.choice(list(self.person.window.goals.cards.values()))

    def drag(self) -> None:
        card = self.card()
        top = card.slider.state.top  # type: ignore[attr-defined]
        self.person.drag(
            card.key,  # type: ignore[attr-defined]
            [self.random.uniform(-0.1, 1.1) * top for _ in range(4)],
        )

    def press(self) -> None:
        key = self.random.choice(["Left", "Right", "Home", "End", "PageUp", "Delete", "Space"])
        self.person.press(key, self.card().key)  # type: ignore[attr-defined]

    def switch(self) -> None:
        self.session.show_document(self.random.randrange(len(self.session.documents)))

    def undo(self) -> None:
        for _ in range(self.random.randint(1, 4)):
            self.session.undo_stack.undo()

    def redo(self) -> None:
        self.session.undo_stack.redo()

    def unit(self) -> None:
        menu = self.card()._mode.menu()  # type: ignore[attr-defined]
        menu.aboutToShow.emit()
        self.random.choice([a for a in menu.actions() if a.isEnabled() and a.text()]).trigger()

    def sides(self) -> None:
        self.card()._set_sides(  # type: ignore[attr-defined]
            (self.random.random() < 0.5, self.random.random() < 0.5)
        )

    def hold(self) -> None:
        line = self.random.choice(self.session.document.recipe.lines).id  # type: ignore[union-attr]
        hold = self.random.choice(
            [
                None,
                LineHold(line=line, tolerance=self.random.choice([0.0, 0.1, 0.5])),
                LineHold(line=line, least=self.random.uniform(0, 300)),
                LineHold(line=line, most=self.random.uniform(0, 300)),
            ]
        )
        self.session.edit_brief(lambda brief: brief.with_line_hold(line, hold), "hold")

    def toggle(self) -> None:
        table = self.person.table
        table.toggle(self.random.randrange(table.rowCount()))

    def amount(self) -> None:
        document = self.session.document
        assert document is not None
        text = self.random.choice(["1 cup", "2 tbsp", "30 g", "nonsense", "1/2 tsp", "1 kg"])
        line = self.random.choice(document.recipe.lines)
        self.person.table.set_amount(line, text)

    def save(self) -> None:
        self.session.save()

    def show(self) -> None:
        brief_change = {"shown_per": self.random.choice([Per.SERVING, Per.HUNDRED_GRAMS])}
        self.session.edit_brief(lambda brief: replace(brief, **brief_change), "show")


@pytest.mark.parametrize("seed", range(int(os.environ.get("RESTLESS", "6"))))
def test_the_window_keeps_up_with_a_restless_person(person: Person, seed: int) -> None:
    restless = Restless(person, seed)
    for _ in range(STEPS):
        restless.step()
        answer = person.session.answer
        assert answer is not None
        assert answer.brief == person.session.document.brief  # type: ignore[union-attr]
        assert answer.certificate.holds
        for result in answer.goals:
            if result.met and result.goal.at_most is not None:
                assert result.level <= result.goal.at_most * (1 + 1e-6) + 1e-5
    person.qtbot.keyClick(person.window, Qt.Key.Key_S, Qt.KeyboardModifier.ControlModifier)
    assert not person.session.unsaved
    for document in person.session.documents:
        assert read_document(document.path) == document
