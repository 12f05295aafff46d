"""The trade-off view, driven by mouse and keys: what is on the curve is one click away."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from threading import Event

import pytest
from PySide6.QtCore import QPoint, Qt, QThreadPool, QTimer
from PySide6.QtWidgets import QComboBox, QToolButton

import ui.trade_off_view
from reformulate import (
    CHANGE,
    Goal,
    LineHold,
    Per,
    Stopped,
    TradeOff,
    knee_sentence,
    level,
    trade_off,
)
from tests.ui.conftest import Person
from ui.phrases import NO_BREAK
from ui.trade_off_plot import TradeOffPlot
from ui.trade_off_view import TradeOffView


class Cook:
    """A person at the trade-off view of a recipe."""

    def __init__(self, person: Person, words: str = "spinach") -> None:
        self.person, self.qtbot = person, person.qtbot
        person.choose(words)
        found = person.window.page.findChild(TradeOffView)
        assert isinstance(found, TradeOffView)
        self.view = found

    def open(self) -> None:
        self.person.click("view trade-offs")
        self.wait()

    def wait(self) -> None:
        """Until the curve on screen is that of the brief on screen."""
        self.qtbot.waitUntil(lambda: self.view.is_current)

    @property
    def curve(self) -> TradeOff:
        curve = self.view._curve
        assert curve is not None
        return curve

    @property
    def plot(self) -> TradeOffPlot:
        assert self.view.pages.plot is not None
        return self.view.pages.plot

    def place(self, point: int) -> QPoint:
        at = self.curve.points[point]
        return self.plot.place_of((at.first, at.second))

    def lone(self) -> int:
        """A corner that no other is so near to that a click could mean it."""
        places = [self.place(number) for number in range(len(self.curve.points))]

        def room(number: int) -> float:
            others = [at for i, at in enumerate(places) if i != number]
            return min((places[number] - at).manhattanLength() for at in others)

        return max(range(1, len(places) - 1), key=room)

    def click(self, point: int) -> None:
        viewport = self.plot.view.viewport()
        self.qtbot.mouseClick(viewport, Qt.MouseButton.LeftButton, pos=self.place(point))

    def key(self, name: str) -> None:
        self.plot.view.setFocus()
        self.qtbot.keyClick(self.plot.view, getattr(Qt.Key, f"Key_{name}"))

    def choose(self, side: str, words: str) -> None:
        """Choose a quantity by the keyboard."""
        box = self.person.find(QComboBox, f"trade-off {side}")
        assert isinstance(box, QComboBox)
        at = next(i for i in range(box.count()) if box.itemText(i) == words)
        box.setFocus()
        box.setCurrentIndex(at)
        box.activated.emit(at)

    def row(self, name: str) -> int:
        model = self.view.pages.table.model()
        return next(r for r in range(model.rowCount()) if model.index(r, 0).data().startswith(name))

    def cells(self, row: int) -> list[str]:
        model = self.view.pages.table.model()
        return [model.index(row, column).data() for column in range(3)]

    def text(self, name: str) -> str:
        return self.person.label(f"trade-off {name}").replace(NO_BREAK, " ")


@pytest.fixture
def cook(person: Person) -> Cook:
    return Cook(person)


@dataclass
class Slow:
    """Curves that are not worked out before they are let through, each by its first quantity."""

    gates: dict[str, Event] = field(default_factory=dict)
    begun: list[str] = field(default_factory=list)
    stopped: list[str] = field(default_factory=list)
    is_deaf: bool = False
    """Whether it goes on to the end though nobody waits for it any more."""

    def __call__(
        self,
        *args: object,
        progress: Callable[[float], bool],
        **options: object,
    ) -> TradeOff:
        first = str(args[3])
        gate = self.gates.setdefault(first, Event())
        self.begun.append(first)
        while not gate.wait(0.005):
            if not self.is_deaf and not progress(0.4):
                self.stopped.append(first)
                raise Stopped("Given up.")
        go_on = (lambda _: True) if self.is_deaf else progress
        return trade_off(*args, progress=go_on, **options)  # type: ignore[arg-type]


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch) -> Iterator[Slow]:
    found = Slow()
    monkeypatch.setattr(ui.trade_off_view, "trade_off", found)
    yield found
    for gate in found.gates.values():
        gate.set()


def test_the_view_opens_on_what_the_brief_is_about(cook: Cook) -> None:
    cook.open()
    assert (cook.curve.first, cook.curve.second) == ("energy_kcal", "protein_g")
    assert not cook.curve.first_more
    assert cook.curve.second_more
    assert cook.text("knee") == knee_sentence(cook.curve)
    assert cook.text("exactness")
    assert cook.view.pages.table.model().rowCount() == len(cook.curve.points) + 2
    assert cook.cells(0)[0] == "Original"
    answer = cook.person.session.answer
    assert answer is not None
    energy = level("energy_kcal", Per.SERVING, answer.grams, answer.items, 10)
    assert cook.cells(1)[:2] == ["Now", f"{energy:.1f}"]
    assert cook.cells(cook.row(f"{(cook.curve.knee or 0) + 1} knee"))


def test_a_click_on_the_curve_loads_the_recipe_and_undo_takes_it_back(cook: Cook) -> None:
    cook.open()
    session = cook.person.session
    before, point = session.document, cook.lone()
    at = cook.curve.points[point]
    cook.click(point)
    document, answer = session.document, session.answer
    assert document is not None
    assert answer is not None
    energy, protein = (document.brief.goal_on(key) for key in ("energy_kcal", "protein_g"))
    assert energy is not None
    assert protein is not None
    assert energy.at_most is not None
    assert protein.at_least is not None
    assert 0.0 <= energy.at_most - at.first < 1.0
    assert 0.0 <= at.second - protein.at_least < 0.1
    assert cook.person.sentence.startswith("Meets all 3 goals.")
    assert cook.person.field("at_most energy_kcal").text() == f"{energy.at_most:.0f}"
    assert session.undo_stack.undoText() == "Load point of the curve"
    now = [float(cell) for cell in cook.cells(cook.row("Now"))[1:]]
    assert now == pytest.approx([at.first, at.second], rel=0.02)
    cook.person.click("button undo")
    assert session.document == before


def test_the_pointer_over_a_corner_shows_its_recipe_in_words_and_in_the_table(cook: Cook) -> None:
    cook.open()
    assert cook.text("point") == "No point chosen"
    point = cook.lone()
    cook.qtbot.mouseMove(cook.plot.view.viewport(), cook.place(point))
    cook.qtbot.waitUntil(lambda: cook.text("point") != "No point chosen")
    at = cook.curve.points[point]
    assert cook.text("point").startswith(f"Point {point + 1} of {len(cook.curve.points)}: ")
    assert f"{at.first:.1f} kcal and {at.second:.2f} g protein" in cook.text("point")
    assert f"cream cheese 227 → {at.grams[0]:.0f} g" in cook.text("recipe")
    assert cook.cells(cook.view.pages.table.currentIndex().row())[0].split()[0] == str(point + 1)
    tip = cook.view.words._recipe.toolTip().splitlines()
    assert len(tip) == sum(abs(at.grams - cook.curve.items.original) > 0.005)
    assert cook.plot.view.accessibleDescription().startswith(f"Point {point + 1} of")
    assert cook.person.session.undo_stack.count() == 0


def test_a_click_beside_the_curve_loads_nothing(cook: Cook) -> None:
    cook.open()
    viewport = cook.plot.view.viewport()
    far = QPoint(viewport.width() - 30, viewport.height() // 2)
    assert min((cook.place(i) - far).manhattanLength() for i in range(len(cook.curve.points))) > 60
    cook.qtbot.mouseClick(viewport, Qt.MouseButton.LeftButton, pos=far)
    assert cook.person.session.undo_stack.count() == 0


def test_the_arrow_keys_walk_along_the_curve_and_enter_loads(cook: Cook) -> None:
    cook.open()
    cook.key("Return")
    assert cook.person.session.undo_stack.count() == 0
    cook.key("Home")
    assert cook.text("point").startswith("Point 1 of")
    cook.key("Left")
    assert cook.text("point").startswith("Point 1 of")
    cook.key("Right")
    cook.key("Right")
    assert cook.text("point").startswith("Point 3 of")
    cook.key("End")
    last = len(cook.curve.points)
    assert cook.text("point").startswith(f"Point {last} of {last}")
    cook.key("Left")
    cook.key("Return")
    document = cook.person.session.document
    assert document is not None
    goal = document.brief.goal_on("energy_kcal")
    assert goal is not None
    assert goal.at_most == pytest.approx(cook.curve.points[last - 2].first, abs=1.0)


def test_keys_go_the_way_the_curve_is_drawn_where_more_is_better(cook: Cook) -> None:
    cook.open()
    cook.choose("first", "Protein")  # the two change places
    cook.wait()
    assert (cook.curve.first, cook.curve.second) == ("protein_g", "energy_kcal")
    xs = []
    for key in ("Home", "Right", "Right", "End"):
        cook.key(key)
        xs.append(cook.place(cook.view._current).x())
    assert xs == sorted(xs)


def test_the_table_walks_the_same_points_and_loads_them(cook: Cook) -> None:
    cook.open()
    table, stack = cook.view.pages.table, cook.person.session.undo_stack
    table.setFocus()
    table.setCurrentIndex(table.model().index(cook.row("Original"), 0))
    cook.qtbot.keyClick(table, Qt.Key.Key_Return)
    assert stack.count() == 0
    for _ in range(3):
        cook.qtbot.keyClick(table, Qt.Key.Key_Down)
    assert cook.text("point").startswith("Point 2 of")
    assert cook.plot.drawing._current == 1
    cook.qtbot.keyClick(table, Qt.Key.Key_Return)
    assert stack.count() == 1
    index = table.model().index(cook.row("4"), 1)
    table.scrollTo(index)
    place = table.visualRect(index).center()
    cook.qtbot.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert stack.count() == 1
    assert cook.text("point").startswith("Point 4 of")
    cook.qtbot.mouseDClick(table.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert stack.count() == 2
    cook.qtbot.keyClick(cook.person.window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert stack.index() == 1


def test_while_a_handle_moves_on_an_axis_the_curve_stays_and_the_dot_follows(cook: Cook) -> None:
    cook.open()
    curve, seen = cook.curve, []

    def look() -> None:
        assert cook.view.is_current
        assert not cook.view.worker.busy
        seen.append(float(cook.cells(1)[1]))

    cook.person.drag("energy_kcal", [145, 142, 139, 136, 133], look)
    assert seen == sorted(seen, reverse=True)
    assert len(set(seen)) == len(seen)
    assert cook.curve is curve


def test_a_change_of_anything_else_is_worked_out_anew_and_meanwhile_shown_faint(
    cook: Cook,
) -> None:
    cook.open()
    old = cook.curve
    cook.key("Home")
    cook.person.session.edit_brief(
        lambda brief: brief.with_goal(Goal(nutrient="fat_g", at_most=9.0)), "Ask for less fat"
    )
    assert not cook.view.is_current
    assert cook.curve is old
    assert cook.plot._faint
    stack = cook.person.session.undo_stack
    cook.key("Return")
    cook.click(3)
    assert stack.count() == 1
    cook.wait()
    assert cook.curve is not old
    assert not cook.plot._faint
    assert max(point.first for point in cook.curve.points) < max(p.first for p in old.points)


def test_undo_before_the_new_curve_is_there_brings_the_old_one_back_at_once(
    cook: Cook, slow: Slow
) -> None:
    slow.gates["energy_kcal"] = Event()
    slow.gates["energy_kcal"].set()
    cook.open()
    old = cook.curve
    slow.gates["energy_kcal"].clear()
    cook.person.session.edit_brief(
        lambda brief: brief.with_goal(Goal(nutrient="fat_g", at_most=9.0)), "Ask for less fat"
    )
    cook.qtbot.waitUntil(lambda: len(slow.begun) == 2)
    cook.person.click("button undo")
    assert cook.view.is_current
    assert cook.curve is old
    assert not cook.plot._faint
    assert not cook.view.worker.busy
    cook.qtbot.waitUntil(lambda: slow.stopped == ["energy_kcal"])
    assert cook.curve is old


def test_a_stale_curve_never_takes_the_place_of_a_newer_one(cook: Cook, slow: Slow) -> None:
    slow.is_deaf = True
    told: list[object] = []
    cook.view.worker._came.connect(lambda number, *_: told.append(number))
    cook.person.click("view trade-offs")
    cook.qtbot.waitUntil(lambda: slow.begun == ["energy_kcal"])
    slow.gates["fat_g"] = Event()
    slow.gates["fat_g"].set()
    cook.choose("first", "Fat")
    cook.wait()
    assert (cook.curve.first, cook.curve.second) == ("fat_g", "protein_g")
    newer = cook.curve
    slow.gates["energy_kcal"].set()
    cook.qtbot.waitUntil(lambda: QThreadPool.globalInstance().activeThreadCount() == 0)
    later = QTimer()
    later.setSingleShot(True)
    with cook.qtbot.waitSignal(later.timeout):  # what the old work told has been told by then
        later.start(0)
    assert len(told) == 2  # both came, the newer one first
    assert cook.curve is newer
    assert cook.view.is_current


def test_slow_work_shows_how_far_it_is_and_can_be_given_up_and_begun_again(
    cook: Cook, slow: Slow
) -> None:
    cook.person.window.activateWindow()
    cook.qtbot.waitUntil(cook.person.window.isActiveWindow)
    cook.person.click("view trade-offs")
    cancel = cook.person.find(QToolButton, "trade-off cancel")
    again = cook.person.find(QToolButton, "trade-off again")
    assert not cancel.isVisible()
    cook.qtbot.waitUntil(cancel.isVisible)
    cook.qtbot.waitUntil(lambda: cook.view._progress.bar.value() == 40)
    cook.person.click("trade-off cancel")
    assert not cook.view.worker.busy
    assert not cancel.isVisible()
    assert cook.text("message") == "Given up: no curve is worked out."
    cook.qtbot.waitUntil(lambda: slow.stopped == ["energy_kcal"])
    slow.gates["energy_kcal"].set()
    assert again.isVisible()
    assert again.hasFocus()
    cook.person.click("trade-off again")
    cook.wait()
    assert not again.isVisible()
    assert cook.curve.points


def test_after_giving_up_the_old_curve_says_that_it_is_old(cook: Cook, slow: Slow) -> None:
    slow.gates["energy_kcal"] = Event()
    slow.gates["energy_kcal"].set()
    cook.open()
    exact = cook.text("exactness")
    slow.gates["energy_kcal"].clear()
    cook.person.session.edit_brief(
        lambda brief: brief.with_goal(Goal(nutrient="fat_g", at_most=9.0)), "Ask for less fat"
    )
    cook.qtbot.waitUntil(cook.person.find(QToolButton, "trade-off cancel").isVisible)
    cook.person.click("trade-off cancel")
    assert cook.text("exactness") == "Given up. The curve shown belongs to the brief before."
    assert cook.plot._faint
    cook.person.click("button undo")
    assert cook.view.is_current
    assert cook.text("exactness") == exact
    assert not cook.person.find(QToolButton, "trade-off again").isVisible()


def test_nothing_is_worked_out_while_the_view_is_hidden(cook: Cook, slow: Slow) -> None:
    cook.person.choose("trout")
    cook.person.drag("energy_kcal", [145, 140])
    assert slow.begun == []
    cook.person.click("view trade-offs")
    cook.qtbot.waitUntil(lambda: len(slow.begun) == 1)
    cook.person.click("view amounts")
    cook.qtbot.waitUntil(lambda: len(slow.stopped) == 1)
    assert not cook.view.worker.busy


def test_another_recipe_has_another_curve_and_never_the_old_one(cook: Cook) -> None:
    cook.open()
    old = cook.curve
    cook.person.choose("walnut")
    assert cook.view._curve is None
    cook.wait()
    assert cook.curve.items is not old.items
    assert cook.view._current == -1


def test_the_way_a_quantity_is_better_can_be_turned_round(cook: Cook) -> None:
    cook.open()
    arrow = cook.person.find(QToolButton, "trade-off way second")
    assert isinstance(arrow, QToolButton)
    assert arrow.text() == "↑ more"
    assert arrow.accessibleName() == "More protein is better"
    cook.person.click("trade-off way second")
    assert arrow.text() == "↓ less"
    cook.wait()
    assert not cook.curve.second_more
    cook.choose("first", "Sodium")
    cook.wait()
    assert not cook.curve.second_more


def test_change_goes_per_serving_and_one_way_only(cook: Cook) -> None:
    cook.open()
    cook.person.click("trade-off per")
    cook.wait()
    assert cook.curve.per is Per.HUNDRED_GRAMS
    cook.choose("second", "Change")
    cook.wait()
    assert (cook.curve.second, cook.curve.per) == (CHANGE, Per.SERVING)
    assert not cook.person.find(QToolButton, "trade-off way second").isEnabled()
    assert not cook.person.find(QToolButton, "trade-off per").isEnabled()
    assert cook.curve.original[1] == 0.0
    assert "in percent of what it weighs" in cook.text("exactness")
    cook.choose("second", "Sodium")
    cook.wait()
    assert cook.curve.per is Per.HUNDRED_GRAMS


def test_every_quantity_is_offered_once_those_of_the_brief_first(cook: Cook) -> None:
    box = cook.person.find(QComboBox, "trade-off first")
    assert isinstance(box, QComboBox)
    keys = [box.itemData(i) for i in range(box.count()) if box.itemData(i)]
    document = cook.person.session.document
    assert document is not None
    assert tuple(keys[: len(document.brief.shown)]) == document.brief.shown
    assert len(keys) == len(set(keys)) == 40
    assert {"saltiness", "cost", CHANGE} <= set(keys)


def test_musts_in_conflict_are_said_in_the_place_of_a_curve(cook: Cook) -> None:
    cook.open()
    cook.person.session.edit_brief(
        lambda brief: brief.with_goal(Goal(nutrient="sodium_mg", at_most=1.0)), "Ask too much"
    )
    cook.qtbot.waitUntil(lambda: cook.text("message").startswith("No curve: even with no goal on"))
    assert cook.person.find(type(cook.view.pages.message), "trade-off message").isVisible()
    assert cook.text("knee") == ""
    cook.person.click("button undo")
    cook.wait()
    assert cook.plot.isVisible()


def test_a_quantity_without_end_is_said_in_the_place_of_a_curve(cook: Cook) -> None:
    def free(brief):  # type: ignore[no-untyped-def]
        kept = tuple(hold for hold in brief.holds if isinstance(hold, LineHold) and hold.locked)
        return replace(brief, holds=kept, swaps=(), goals=())

    cook.person.session.edit_brief(free, "Let all go")
    cook.person.click("view trade-offs")
    cook.choose("first", "Protein")
    cook.choose("second", "Energy")
    cook.qtbot.waitUntil(lambda: "without end" in cook.text("message"))
    assert cook.text("message").startswith("No curve: protein gets better without end.")


def test_the_curve_takes_the_colours_of_the_theme(cook: Cook) -> None:
    cook.open()
    theme = cook.person.window._theme

    def colours() -> tuple[str, str]:
        view = cook.plot.view
        return view.backgroundBrush().color().name(), cook.plot.drawing._line.opts[
            "pen"
        ].color().name()

    for scheme in ("dark", "light"):
        cook.person.window.change_setting(theme=scheme)
        assert colours() == (theme.colour("surface").name(), theme.colour("accent").name())


def test_larger_text_keeps_the_choice_of_quantities_possible(cook: Cook) -> None:
    cook.open()
    with cook.qtbot.waitSignal(cook.view.destroyed):
        cook.person.window.change_setting(text_size=150)
    other = Cook(cook.person)
    other.open()
    try:
        assert other.curve.points
        assert other.view.choice.width() <= other.view.viewport().width()
    finally:  # the font is the application's, and other tests read the same
        cook.person.window.change_setting(text_size=100)
