"""When the curve is worked out anew: never a stale one, faint meanwhile, and given up on request."""

from __future__ import annotations

from threading import Event

from PySide6.QtCore import QThreadPool, QTimer
from PySide6.QtWidgets import QToolButton

from reformulate import Goal
from tests.ui.trade_off.conftest import Cook, Slow


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
