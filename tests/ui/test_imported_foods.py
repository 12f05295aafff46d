"""Foods of a release: imported off the thread, searched as one types, used in a recipe."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from reformulate import FoodStore, Imported
from tests.ui.conftest import Person
from ui.dialogs import LineDialog
from ui.import_dialog import ImportDialog
from ui.main import make_window
from ui.swaps_table import PINNED, SwapsTable
from ui.swaps_view import SwapsView

ABBREV = (
    # 53 fields of the abbreviated file; the figures are invented
    "~90001~^~CURD,INVENTED,HARVEST~^80^60^9^1^1^8^0^4^90^.1^10^120^140^40^.5^0^0^9^0^.03^.2^.1^.4^.05^10^0^10"
    "^10^15^.4^60^15^14^1^0^0^0^0^.02^0^0^.2^.6^.3^.03^4^240^~1 cup~^15^~1 tbsp~^0\r\n"
)


@pytest.fixture
def download(tmp_path: Path) -> Path:
    path = tmp_path / "ABBREV.txt"
    path.write_text(ABBREV, encoding="latin-1")
    return path


@pytest.fixture
def kept(tmp_path: Path) -> Iterator[FoodStore]:
    with FoodStore.open(tmp_path / "foods.sqlite") as store:
        yield store


@pytest.fixture
def shopper(
    qapp: QApplication, qtbot: QtBot, demo_folder: Path, store: QSettings, kept: FoodStore
) -> Iterator[Person]:
    window = make_window(qapp, store, demo_folder, imported=kept)
    with qtbot.waitExposed(window):
        window.show()
    yield Person(window, qtbot)
    window.close()
    window.deleteLater()


def bring(person: Person, download: Path) -> ImportDialog:
    dialog = person.window.import_foods()
    assert dialog is not None
    with person.qtbot.waitSignal(dialog.worker.busy_changed, timeout=20_000):
        dialog.bring(download)
    person.qtbot.waitUntil(lambda: not dialog.worker.busy, timeout=20_000)
    return dialog


def test_an_imported_food_is_found_and_used(shopper: Person, download: Path, qtbot: QtBot) -> None:
    told: list[object] = []
    dialog = shopper.window.import_foods()
    assert dialog is not None
    dialog.imported.connect(told.append)
    with qtbot.waitSignal(dialog.imported, timeout=20_000):
        dialog.bring(download)
    assert isinstance(told[0], Imported)
    dialog.reject()
    shopper.window.add_line()
    line = shopper.window.findChild(LineDialog)
    assert line is not None
    line.search.field.setText("curd invented")
    view = line.search.results
    found = [view.model().index(r, 0) for r in range(view.model().rowCount())]
    view.setCurrentIndex(next(index for index in found if "invented" in index.data().lower()))
    assert line.search.food is not None
    assert line.search.food.key == "ndb:90001"
    line.amount.setText("100 g")
    line.accept()
    document = shopper.session.document
    assert document
    assert document.recipe.lines[-1].food == "ndb:90001"
    assert shopper.session.problems == ()
    assert "curd" in shopper.cells(0)[len(document.recipe.lines) - 1].lower()


def test_a_recipe_with_an_imported_food_opens_again(shopper: Person, download: Path) -> None:
    bring(shopper, download).reject()
    path = shopper.session.recipe_set.folder / "curd.toml"  # type: ignore[union-attr]
    path.write_text(
        'format = 1\ntitle = "Curd"\nservings = 2\n[[line]]\nfood = "ndb:90001"\namount = "1 cup"\n',
        "utf-8",
    )
    shopper.window.open_set(path.parent)
    shopper.choose("curd")
    assert shopper.session.problems == ()


def test_what_is_no_release_is_told_and_changes_nothing(
    shopper: Person, tmp_path: Path, kept: FoodStore
) -> None:
    wrong = tmp_path / "notes.txt"
    wrong.write_text("milk, eggs, dill", "utf-8")
    dialog = bring(shopper, wrong)
    words = dialog.findChild(QLabel, "import words")
    assert words is not None
    assert words.text().startswith("Nothing was imported. ")
    assert kept.count() == 0


def test_without_a_store_the_window_says_so(person: Person) -> None:
    assert person.window.import_foods() is None


def test_the_search_of_the_whole_table_looks_through_them_and_what_it_finds_can_be_pinned(
    shopper: Person, tmp_path: Path
) -> None:
    path = tmp_path / "ABBREV.txt"
    dried = ABBREV.replace("HARVEST~^80^60^9^1^1^8", "DRIED~^8^370^82^1^3^6")
    path.write_text(dried, encoding="latin-1")
    shopper.choose("trout")
    bring(shopper, path).reject()
    view = shopper.find(SwapsView, "swaps")
    assert isinstance(view, SwapsView)
    with shopper.qtbot.waitSignal(view.explorer.done, timeout=20_000):
        shopper.click("view swaps")
    with shopper.qtbot.waitSignal(view.explorer.done, timeout=20_000):
        view.bar.search_wanted.emit("cream-cheese")
    model = view.table.model()
    assert isinstance(model, SwapsTable)
    rows = {model.row(row).swap.food: row for row in range(model.rowCount())}
    index = model.index(rows["ndb:90001"], PINNED)
    with shopper.qtbot.waitSignal(view.explorer.done, timeout=20_000):
        model.setData(index, Qt.CheckState.Checked.value, Qt.ItemDataRole.CheckStateRole)
    answer = shopper.session.answer
    assert answer
    used = {amount.food: amount.after for amount in answer.amounts if amount.swap}
    assert used["ndb:90001"] > 0.0
    shopper.session.save()
    opened = shopper.session.recipe_set
    assert opened
    shopper.window.open_set(opened.folder)
    shopper.choose("trout")
    assert shopper.session.problems == ()
