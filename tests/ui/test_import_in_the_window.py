"""Importing foods in the window: how far it is, giving it up, and all of it or nothing."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtWidgets import QApplication, QLabel, QProgressBar, QPushButton
from pytestqt.qtbot import QtBot

from reformulate import FoodStore
from tests.ui.conftest import Person
from ui import import_dialog
from ui.import_dialog import ImportDialog
from ui.main import make_window

FIGURES = (
    "^80^60^9^1^1^8^0^4^90^.1^10^120^140^40^.5^0^0^9^0^.03^.2^.1^.4^.05^10^0^10"
    "^10^15^.4^60^15^14^1^0^0^0^0^.02^0^0^.2^.6^.3^.03^4^240^~1 cup~^15^~1 tbsp~^0\r\n"
)
"""51 fields of the abbreviated file; invented."""


def rows(count: int) -> str:
    return "".join(f"~{90001 + i}~^~CURD,INVENTED,NO {i}~{FIGURES}" for i in range(count))


class Gate:
    """Lets an import come so far, and go on once it is opened."""

    def __init__(self, at: float) -> None:
        self.at, self.reached, self.opened = at, threading.Event(), threading.Event()
        self.real = import_dialog.import_release

    def __call__(self, *what: Any, progress: Any, **how: Any) -> Any:
        def tell(fraction: float, words: str) -> None:
            progress(fraction, words)
            if fraction >= self.at and not self.reached.is_set():
                self.reached.set()
                assert self.opened.wait(20)

        return self.real(*what, progress=tell, **how)


@pytest.fixture
def place(tmp_path: Path) -> Path:
    return tmp_path / "foods.sqlite"


@pytest.fixture
def kept(place: Path) -> Iterator[FoodStore]:
    with FoodStore.open(place) as store:
        yield store


@pytest.fixture
def dialog(
    qapp: QApplication, qtbot: QtBot, demo_folder: Path, store: QSettings, kept: FoodStore
) -> Iterator[ImportDialog]:
    window = make_window(qapp, store, demo_folder, imported=kept)
    with qtbot.waitExposed(window):
        window.show()
    opened = Person(window, qtbot).window.import_foods()
    assert opened is not None
    yield opened
    window.close()
    window.deleteLater()


@pytest.fixture
def download(tmp_path: Path) -> Path:
    path = tmp_path / "ABBREV.txt"
    path.write_text(rows(40), "latin-1")
    return path


def said(dialog: ImportDialog) -> str:
    label = dialog.findChild(QLabel, "import words")
    assert label is not None
    return label.text()


def bring(dialog: ImportDialog, download: Path, qtbot: QtBot) -> None:
    dialog.bring(download)
    qtbot.waitUntil(lambda: not dialog.worker.busy, timeout=20_000)


def gated(monkeypatch: pytest.MonkeyPatch, at: float) -> Gate:
    gate = Gate(at)
    monkeypatch.setattr(import_dialog, "import_release", gate)
    return gate


def cancel_button(dialog: ImportDialog) -> QPushButton:
    button = dialog.findChild(QPushButton, "cancel import")
    assert button is not None
    return button


def test_the_bar_shows_how_far_an_import_is_and_goes_when_it_is_done(
    dialog: ImportDialog, download: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    gate = gated(monkeypatch, 0.5)
    bar = dialog.findChild(QProgressBar, "import progress")
    assert bar is not None
    assert not bar.isVisible()
    dialog.bring(download)
    qtbot.waitUntil(gate.reached.is_set)
    qtbot.waitUntil(lambda: bar.value() >= 500)
    assert bar.isVisible()
    assert cancel_button(dialog).isVisible()
    gate.opened.set()
    qtbot.waitUntil(lambda: not dialog.worker.busy, timeout=20_000)
    assert not bar.isVisible()
    assert "40 foods" in said(dialog)


def test_a_first_import_that_is_given_up_leaves_no_file(
    dialog: ImportDialog,
    download: Path,
    place: Path,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    gate = gated(monkeypatch, 0.5)
    dialog.bring(download)
    qtbot.waitUntil(gate.reached.is_set)
    qtbot.mouseClick(cancel_button(dialog), Qt.MouseButton.LeftButton)
    gate.opened.set()
    qtbot.waitUntil(lambda: not dialog.worker.busy, timeout=20_000)
    assert said(dialog).startswith("The import was given up; nothing has changed.")
    assert not place.exists()


def test_a_later_import_that_is_given_up_or_broken_leaves_every_byte(
    dialog: ImportDialog,
    download: Path,
    place: Path,
    tmp_path: Path,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    bring(dialog, download, qtbot)
    before = place.read_bytes()
    other = tmp_path / "later" / "ABBREV.txt"
    other.parent.mkdir()
    other.write_text(rows(60), "latin-1")
    gate = gated(monkeypatch, 0.5)
    dialog.bring(other)
    qtbot.waitUntil(gate.reached.is_set)
    qtbot.mouseClick(cancel_button(dialog), Qt.MouseButton.LeftButton)
    gate.opened.set()
    qtbot.waitUntil(lambda: not dialog.worker.busy, timeout=20_000)
    assert "40 foods" in said(dialog)
    assert place.read_bytes() == before
    other.write_text(rows(59) + "~90099~^~CURD,CUT SHORT~^80^60", "latin-1")
    bring(dialog, other, qtbot)
    assert said(dialog).startswith("Nothing was imported. ")
    assert place.read_bytes() == before


def test_an_import_given_up_too_late_is_told_as_what_it_is(
    dialog: ImportDialog,
    download: Path,
    kept: FoodStore,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    gate = gated(monkeypatch, 1.0)  # everything is written by then
    dialog.bring(download)
    qtbot.waitUntil(gate.reached.is_set)
    qtbot.mouseClick(cancel_button(dialog), Qt.MouseButton.LeftButton)
    gate.opened.set()
    qtbot.waitUntil(lambda: not dialog.worker.busy, timeout=20_000)
    assert kept.count() == 40
    assert "nothing has changed" not in said(dialog)
    assert "40 foods" in said(dialog)


def test_importing_again_replaces_cleanly(
    dialog: ImportDialog, download: Path, kept: FoodStore, qtbot: QtBot
) -> None:
    bring(dialog, download, qtbot)
    download.write_text(rows(25), "latin-1")
    bring(dialog, download, qtbot)
    assert kept.count() == 25
    assert "40 foods of an earlier import made way." in said(dialog)
