"""Exploring swaps: what each would do, tick to allow, pin to use, search the whole table."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPoint, Qt
from PySide6.QtWidgets import QLabel, QTableView, QToolButton

from reformulate import Goal, TableSearch, taste_words
from tests.ui.conftest import Person
from ui.swaps_table import ALLOWED, NAME, PINNED, TONE_ROLE, SwapsTable
from ui.swaps_view import SwapsView


def open_swaps(person: Person, words: str) -> SwapsView:
    """Choose a recipe and look at its swaps until they are worked out."""
    person.choose(words)
    view = person.find(SwapsView, "swaps")
    assert isinstance(view, SwapsView)
    with person.qtbot.waitSignal(view.explorer.done, timeout=20_000):
        person.click("view swaps")
    return view


def table(view: SwapsView) -> SwapsTable:
    model = view.table.model()
    assert isinstance(model, SwapsTable)
    return model


def row_of(view: SwapsView, words: str) -> int:
    model = table(view)
    return next(
        r
        for r in range(model.rowCount())
        if words in model.index(r, NAME).data(Qt.ItemDataRole.DisplayRole).lower()
    )


def tick(person: Person, view: SwapsView, row: int, column: int) -> None:
    """Set the tick as the space bar does, and wait until all is worked out anew."""
    flags = view.table.selectionModel().SelectionFlag
    view.table.selectionModel().setCurrentIndex(
        table(view).index(row, column), flags.ClearAndSelect
    )
    with person.qtbot.waitSignal(view.explorer.done, timeout=20_000):
        person.qtbot.keyClick(view.table, Qt.Key.Key_Space)


def allowed(person: Person) -> set[str]:
    document = person.session.document
    assert document
    return {swap.food for swap in document.brief.swaps if swap.allowed}


def checked(index: QModelIndex) -> bool:
    return Qt.CheckState(index.data(Qt.ItemDataRole.CheckStateRole)) is Qt.CheckState.Checked


def test_each_swap_shows_what_it_would_do_to_every_goal_taste_and_cost(person: Person) -> None:
    view = open_swaps(person, "walnut")
    model = table(view)
    titles = [model.headerData(c, Qt.Orientation.Horizontal) for c in range(model.columnCount())]
    assert titles[NAME + 1 :] == ["Energy", "Fibre", "Changes", "Taste", "Cost"]
    for row in range(model.rowCount()):
        cells = [model.index(row, c).data() for c in range(NAME + 1, model.columnCount())]
        assert all(cells), cells
        assert cells[0][0] in "✓!–"


def test_a_swap_of_the_set_s_own_book_is_offered(person: Person) -> None:
    view = open_swaps(person, "walnut")
    row = table(view).row(row_of(view, "sunflower"))
    assert row.candidate.exchange is not None
    assert "invented" in table(view).about(row)


def test_ticking_allows_a_swap_and_undo_takes_it_back(person: Person) -> None:
    view = open_swaps(person, "walnut")
    row = row_of(view, "almonds")
    assert not checked(table(view).index(row, ALLOWED))
    tick(person, view, row, ALLOWED)
    assert checked(table(view).index(row_of(view, "almonds"), ALLOWED))
    assert "almonds-roasted" in allowed(person)
    person.session.undo_stack.undo()
    assert "almonds-roasted" not in allowed(person)


def test_a_pinned_swap_is_used(person: Person) -> None:
    view = open_swaps(person, "walnut")
    tick(person, view, row_of(view, "oats"), PINNED)
    answer = person.session.answer
    assert answer
    used = {amount.food: amount.after for amount in answer.amounts if amount.swap}
    assert used["oats"] > 0.0
    person.click("view amounts")
    assert "pinned" in person.cells(4)


def test_the_chosen_swap_says_what_to_take_care_of(person: Person) -> None:
    view = open_swaps(person, "spinach")
    at = table(view).index(row_of(view, "yogurt, strained"), NAME)
    person.qtbot.mouseClick(
        view.table.viewport(), Qt.MouseButton.LeftButton, pos=view.table.visualRect(at).center()
    )
    about = person.find(QLabel, "about swap")
    assert isinstance(about, QLabel)
    assert "split" in about.text()
    assert "With it:" in about.text()


def test_the_whole_table_is_searched_and_the_best_stand_first(person: Person) -> None:
    view = open_swaps(person, "trout")
    with person.qtbot.waitSignal(view.searcher.done, timeout=20_000) as found:
        view.search("cream-cheese")
    result = found.args[0]
    assert isinstance(result, TableSearch)
    person.qtbot.waitUntil(
        lambda: any(
            table(view).row(r).swap.food == result.found[0].food.key
            for r in range(table(view).rowCount())
        ),
        timeout=20_000,
    )
    assert "no other food can do better" in person.label("swaps sentence")
    # The best is chosen, so that the table shows it and not the row looked at before.
    current = view.table.currentIndex().row()
    assert table(view).row(current).swap.food == result.found[0].food.key


def test_every_column_that_needs_it_says_what_it_means(person: Person) -> None:
    model = table(open_swaps(person, "walnut"))
    titles = [model.headerData(c, Qt.Orientation.Horizontal) for c in range(model.columnCount())]
    role = Qt.ItemDataRole.ToolTipRole
    for title in ("Allow", "Pin", "Changes", "Taste", "Cost"):
        assert model.headerData(titles.index(title), Qt.Orientation.Horizontal, role)


def test_most_swaps_can_be_limited(person: Person) -> None:
    view = open_swaps(person, "spinach")
    view._set_most(1)
    answer = person.session.answer
    assert answer
    assert sum(1 for amount in answer.amounts if amount.swap and amount.after > 0) <= 1
    assert isinstance(view.table, QTableView)


def test_what_is_not_looked_at_is_not_worked_out(person: Person) -> None:
    view = open_swaps(person, "spinach")
    person.click("view amounts")
    person.drag("energy_kcal", [145, 140])
    assert not view.explorer.worker.busy


def test_one_kind_of_exchange_can_be_looked_at_alone(person: Person) -> None:
    view = open_swaps(person, "spinach")
    everything = table(view).rowCount()
    with person.qtbot.waitSignal(view.explorer.done, timeout=20_000):
        view.bar._kind.menu().aboutToShow.emit()
        menu = view.bar._kind.menu()
        next(action for action in menu.actions() if action.text() == "plant-based").trigger()
    rows = [table(view).row(r).candidate for r in range(table(view).rowCount())]
    assert 0 < len(rows) < everything
    assert all(c.in_brief or (c.exchange and c.exchange.kind == "plant-based") for c in rows)
    assert person.find(QToolButton, "swap kinds").text() == "plant-based ▾"  # type: ignore[attr-defined]


def figures(view: SwapsView) -> list[list[str]]:
    model = table(view)
    columns = range(NAME, model.columnCount())
    return [[model.index(r, c).data() for c in columns] for r in range(model.rowCount())]


def tones(view: SwapsView) -> set[str]:
    model = table(view)
    cells = [model.index(r, NAME) for r in range(model.rowCount())]
    return {cell.data(TONE_ROLE) for cell in cells}


def test_figures_of_the_brief_before_are_shown_as_such_until_the_new_ones_come(
    person: Person,
) -> None:
    view = open_swaps(person, "spinach")
    before = figures(view)
    with person.qtbot.waitSignal(view.explorer.done, timeout=20_000):
        person.drag("energy_kcal", [145, 135])
        assert tones(view) == {"muted"}
        assert figures(view) == before
    assert tones(view) == {"text"}
    assert figures(view) != before


def test_undo_before_the_new_figures_come_brings_the_old_ones_back_at_once(person: Person) -> None:
    view = open_swaps(person, "spinach")
    before = figures(view)
    person.drag("energy_kcal", [145, 135])
    person.click("button undo")
    assert figures(view) == before
    assert tones(view) == {"text"}
    assert not view.explorer.worker.busy


def test_another_goal_is_another_column_that_is_empty_until_it_is_worked_out(
    person: Person,
) -> None:
    view = open_swaps(person, "walnut")
    with person.qtbot.waitSignal(view.explorer.done, timeout=20_000):
        person.session.edit_brief(
            lambda brief: brief.with_goal(Goal(nutrient="sodium_mg", at_most=300.0)), "Less salt"
        )
        assert {cell for row in figures(view) for cell in row[1:]} == {"…"}
    titles = [title for title in headers(view) if title == "Sodium"]
    assert len(titles) == 1
    assert "…" not in {cell for row in figures(view) for cell in row}


def test_a_tick_shows_before_anything_is_worked_out(person: Person) -> None:
    view = open_swaps(person, "walnut")
    at = table(view).index(row_of(view, "almonds"), ALLOWED)
    view.table.setCurrentIndex(at)
    with person.qtbot.waitSignal(view.explorer.done, timeout=20_000):
        person.qtbot.keyClick(view.table, Qt.Key.Key_Space)
        assert checked(table(view).index(row_of(view, "almonds"), ALLOWED))


def test_a_click_in_the_middle_of_its_cell_sets_a_tick_and_beside_it_none(person: Person) -> None:
    view = open_swaps(person, "walnut")
    row = row_of(view, "almonds")
    view.table.scrollTo(table(view).index(row, NAME))
    cell = view.table.visualRect(table(view).index(row, ALLOWED))
    viewport, left = view.table.viewport(), Qt.MouseButton.LeftButton
    person.qtbot.mouseClick(viewport, left, pos=cell.topLeft() + QPoint(2, 2))
    assert "almonds-roasted" not in allowed(person)
    with person.qtbot.waitSignal(view.explorer.done, timeout=20_000):
        person.qtbot.mouseClick(viewport, left, pos=cell.center())
    assert "almonds-roasted" in allowed(person)


def headers(view: SwapsView) -> list[str]:
    model = table(view)
    return [
        model.headerData(c, Qt.Orientation.Horizontal)
        for c in range(model.columnCount())
        if not view.table.isColumnHidden(c)
    ]


def test_a_name_keeps_its_room_where_the_window_is_narrow_and_nothing_said_is_lost(
    person: Person,
) -> None:
    view = open_swaps(person, "spinach")
    view.table.resize(1200, view.table.height())
    everything = headers(view)
    assert everything[-3:] == ["Changes", "Taste", "Cost"]
    view.table.resize(470, view.table.height())
    assert len(headers(view)) < len(everything)
    letters = view.table.fontMetrics().averageCharWidth()
    assert view.table.columnWidth(NAME) >= 20 * letters
    assert "Energy" in headers(view)
    about = person.label("about swap")
    row = table(view).row(view.table.currentIndex().row())
    assert row.prospect
    assert taste_words(row.prospect) in about
    assert "costs" in about
    view.table.resize(1200, view.table.height())
    assert headers(view) == everything
