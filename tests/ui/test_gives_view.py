"""The what-gives view: every limit that binds, what a step of it moves, and how far that is true."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from threading import Event

import numpy as np
import pytest
from PySide6.QtCore import Qt, QThreadPool, QTimer
from PySide6.QtWidgets import QLabel, QToolButton

import ui.gives_view
from reformulate import Give, Goal, Optimiser, Stopped, what_gives
from tests.ui.conftest import Person
from ui.gives_view import GivesView
from ui.phrases import NO_BREAK


class Cook:
    """A person at the what-gives view of a recipe."""

    def __init__(self, person: Person, words: str = "spinach") -> None:
        self.person, self.qtbot = person, person.qtbot
        person.choose(words)
        found = person.window.page.findChild(GivesView)
        assert isinstance(found, GivesView)
        self.view = found

    def open(self) -> None:
        self.person.click("view what gives")
        self.wait()

    def wait(self) -> None:
        """Until what is on screen is of the brief on screen."""
        self.qtbot.waitUntil(lambda: self.view.is_current)

    @property
    def heading(self) -> str:
        return self.person.label("gives heading")

    def texts(self, number: int) -> list[str]:
        """All a row says."""
        labels = self.view.rows[number].findChildren(QLabel)
        return [label.text().replace(NO_BREAK, " ") for label in labels]


@pytest.fixture
def cook(person: Person) -> Cook:
    return Cook(person)


class Slow:
    """What gives, not worked out before it is let through."""

    def __init__(self) -> None:
        self.gate, self.begun, self.stopped, self.is_deaf = Event(), 0, 0, False

    def __call__(self, *args: object, progress: Callable[[float], bool]) -> tuple[Give, ...]:
        self.begun += 1
        gate, deaf = self.gate, self.is_deaf
        while not gate.wait(0.005):
            if not deaf and not progress(0.4):
                self.stopped += 1
                raise Stopped("Given up.")
        go_on = (lambda _: True) if deaf else progress
        return what_gives(*args, progress=go_on)  # type: ignore[arg-type]


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch) -> Iterator[Slow]:
    found = Slow()
    monkeypatch.setattr(ui.gives_view, "what_gives", found)
    yield found
    found.gate.set()


def ask_for_less(cook: Cook, kcal: float = 140.0) -> None:
    cook.person.session.edit_brief(
        lambda brief: brief.with_goal(Goal(nutrient="energy_kcal", at_most=kcal)), "Move energy"
    )


def test_every_limit_that_binds_has_a_row_goals_first(cook: Cook) -> None:
    cook.open()
    count = len(cook.view.rows)
    assert cook.heading.startswith(f"{count} limits keep the amounts where they are.")
    first = cook.texts(0)
    assert first[0] == "Energy at most 145 kcal per serving"
    assert re.fullmatch(r"true from \d+ down to \d+ kcal", first[1])
    assert first[2].endswith("kcal less")
    assert re.match(r"[+−][\d.]+ g [a-z]", first[3])
    asked = [cook.texts(number)[0] for number in range(count)]
    assert any("within ±" in words for words in asked)
    assert cook.person.label("gives about").startswith("About the exact answer in grams")


def test_the_moves_told_are_those_of_solving_again_with_the_goal_a_step_lower(cook: Cook) -> None:
    ask_for_less(cook)
    cook.open()
    _, true, step, moves, *_ = cook.texts(0)
    size = float(step.split()[0])
    low = float(re.findall(r"[\d.]+", true)[1])
    assert 140.0 - size >= low - 1.0
    session = cook.person.session
    answer, batch, document = session.answer, session.batch, session.document
    assert answer is not None
    assert batch is not None
    assert document is not None
    asked = document.brief.with_goal(Goal(nutrient="energy_kcal", at_most=140.0 - size))
    again = Optimiser(batch, asked, session.foods).exact(asked).grams - answer.exact
    largest = int(np.argmax(np.abs(again)))
    figure = float(re.findall(r"[+−]([\d.]+) g", moves)[0])
    assert figure == pytest.approx(abs(again[largest]), rel=0.06)
    assert len(moves.split(" · ")) == int((np.abs(again) > 0.005).sum())


def test_a_row_says_all_of_it_to_whoever_cannot_see_it(cook: Cook) -> None:
    cook.open()
    told = cook.view.rows[0].accessibleName()
    assert told.startswith("energy at most 145 kcal per serving. ")
    assert "kcal less: " in told
    assert "true from" in told


def test_up_and_down_walk_through_the_rows(cook: Cook) -> None:
    cook.open()
    rows = cook.view.rows
    cook.person.window.activateWindow()
    cook.qtbot.waitUntil(cook.person.window.isActiveWindow)
    rows[0].setFocus()
    cook.qtbot.keyClick(rows[0], Qt.Key.Key_Up)
    assert rows[0].hasFocus()
    for number in range(1, len(rows)):
        cook.qtbot.keyClick(rows[number - 1], Qt.Key.Key_Down)
        assert rows[number].hasFocus()
    bar = cook.view.verticalScrollBar()
    assert bar.value() == bar.maximum() or rows[-1].geometry().bottom() < cook.view.height()


def test_a_change_of_the_brief_is_worked_out_anew_and_meanwhile_shown_as_old(cook: Cook) -> None:
    cook.open()
    rows = list(cook.view.rows)
    ask_for_less(cook)
    assert not cook.view.is_current
    assert cook.view.rows == rows
    assert not any(row.isEnabled() for row in rows)
    cook.wait()
    assert cook.texts(0)[0] == "Energy at most 140 kcal per serving"
    assert all(row.isEnabled() for row in cook.view.rows)


def test_musts_in_conflict_and_nothing_that_binds_are_said(cook: Cook) -> None:
    cook.open()
    ask_for_less(cook, 70.0)
    assert cook.heading.startswith("The musts and holds cannot all be kept")
    assert cook.view.rows == []
    assert not cook.person.find(QLabel, "gives about").isVisible()
    cook.person.click("button undo")
    cook.wait()
    assert cook.view.rows
    cook.person.choose("crab")
    cook.wait()
    assert cook.heading == "Nothing binds: no goal or hold keeps the amounts from the original's."
    assert cook.view.rows == []


def test_a_limit_at_the_end_of_its_reach_cannot_go_further(cook: Cook) -> None:
    cook.person.session.edit_brief(lambda brief: replace(brief, swaps=()), "Let no swap in")
    answer = cook.person.session.answer
    assert answer is not None
    reach = answer.reach_of("energy_kcal")
    assert reach is not None
    ask_for_less(cook, reach.low + 1e-6)
    cook.open()
    row = cook.texts(0)
    assert row[0].startswith("Energy at most ")
    assert row[-1] == "Cannot go further"


def test_a_stale_result_is_never_shown(cook: Cook, slow: Slow) -> None:
    slow.is_deaf = True
    told: list[int] = []
    cook.view.worker._came.connect(lambda number, *_: told.append(number))
    cook.person.click("view what gives")
    cook.qtbot.waitUntil(lambda: slow.begun == 1)
    old, slow.gate = slow.gate, Event()
    slow.gate.set()
    ask_for_less(cook)
    cook.wait()
    assert cook.texts(0)[0] == "Energy at most 140 kcal per serving"
    old.set()
    cook.qtbot.waitUntil(lambda: QThreadPool.globalInstance().activeThreadCount() == 0)
    later = QTimer()
    later.setSingleShot(True)
    with cook.qtbot.waitSignal(later.timeout):  # what the old work told has been told by then
        later.start(0)
    assert len(told) == 2
    assert cook.texts(0)[0] == "Energy at most 140 kcal per serving"


def test_slow_work_can_be_given_up_and_begun_again(cook: Cook, slow: Slow) -> None:
    cook.person.click("view what gives")
    cook.qtbot.waitUntil(cook.person.find(QToolButton, "gives cancel").isVisible)
    cook.person.click("gives cancel")
    assert cook.heading == "Given up."
    assert not cook.view.worker.busy
    cook.qtbot.waitUntil(lambda: slow.stopped == 1)
    slow.gate.set()
    cook.person.click("gives again")
    cook.wait()
    assert cook.view.rows


def test_after_giving_up_and_undoing_the_rows_are_current_again(cook: Cook, slow: Slow) -> None:
    slow.gate.set()
    cook.open()
    heading = cook.heading
    slow.gate.clear()
    ask_for_less(cook)
    cook.qtbot.waitUntil(cook.person.find(QToolButton, "gives cancel").isVisible)
    cook.person.click("gives cancel")
    assert cook.heading == "Given up. What is shown belongs to the brief before."
    cook.person.click("button undo")
    assert cook.view.is_current
    assert cook.heading == heading
    assert all(row.isEnabled() for row in cook.view.rows)


def test_nothing_is_worked_out_while_the_view_is_hidden(cook: Cook, slow: Slow) -> None:
    ask_for_less(cook)
    assert slow.begun == 0
    cook.person.click("view what gives")
    cook.qtbot.waitUntil(lambda: slow.begun == 1)
    cook.person.click("view amounts")
    cook.qtbot.waitUntil(lambda: slow.stopped == 1)
    assert not cook.view.worker.busy
