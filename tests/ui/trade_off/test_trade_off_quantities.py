"""What the curve is between: quantities chosen, turned round, per what, and none at all; and its looks."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QToolButton

from reformulate import CHANGE, Goal, LineHold, Per
from tests.ui.trade_off.conftest import Cook
from ui.trade_off_table import CurveTable


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


def test_a_point_that_breaks_the_rules_on_swaps_is_marked_and_says_why(cook: Cook) -> None:
    cook.open()
    points = cook.curve.points
    loose = replace(points[2], keeps_swap_rules=False)
    table = CurveTable()
    table.show_curve(replace(cook.curve, points=(*points[:2], loose, *points[3:])), None)
    marked = [row for row in range(table.rowCount()) if table.index(row, 0).data().endswith(" *")]
    told = [
        row
        for row in range(table.rowCount())
        if table.index(row, 1).data(Qt.ItemDataRole.ToolTipRole)
    ]
    assert marked == told == [table.before + 2]


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
