"""The trade-off view, driven by mouse and keys: what is on the curve is one click away."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt

from reformulate import Per, knee_sentence, level
from tests.ui.trade_off.conftest import Cook


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
    assert cook.curve.knee is not None
    at = cook.curve.points[cook.curve.knee]
    row = cook.row(f"{cook.curve.knee + 1} knee")
    assert cook.cells(row)[1:] == [f"{at.first:.1f}", f"{at.second:.2f}"]


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
