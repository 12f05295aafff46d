"""Opens the window: on the last set, or the demo set the first time."""

from __future__ import annotations

import logging
import sys
from pathlib import Path

from platformdirs import user_data_path
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

from reformulate import BadInput, FoodStore, ReformulateError, food_table, working_copy
from ui.main_window import MainWindow
from ui.session import Session
from ui.settings import read_settings
from ui.theme import Theme

logger = logging.getLogger(__name__)


def open_window(folder: Path | None = None) -> int:
    """Run the program until its window closes; return the exit code."""
    application = QApplication(sys.argv[:1])
    settings = QSettings("Reformulate", "Reformulate")
    window = make_window(application, settings, folder, imported=imported_foods())
    window.show()
    return application.exec()


def make_window(
    application: QApplication,
    store: QSettings,
    folder: Path | None = None,
    *,
    imported: FoodStore | None = None,
) -> MainWindow:
    """Build the window with a set open: ``folder``, else the last one, else the demo set."""
    application.setApplicationName("Reformulate")
    application.setStyle("Fusion")
    settings = read_settings(store)
    font = application.font()
    font.setPointSizeF(font.pointSizeF() * settings.text_size / 100.0)
    application.setFont(font)
    theme = Theme()
    theme.choose(settings.theme)
    session = Session(food_table(), store=imported)
    window = MainWindow(session, theme, settings, store)
    theme.setParent(window)
    session.setParent(window)
    last = Path(settings.last_set) if settings.last_set else None
    if folder is None and last is not None and last.is_dir():
        folder = last
    window.open_set(folder or demo_set())
    return window


def imported_foods() -> FoodStore | None:
    """Return the user's store of imported foods; None where it cannot be opened, which is told."""
    try:
        return FoodStore.open()
    except ReformulateError as problem:
        logger.info("the store of imported foods was not opened: %s", problem)
        return None


def demo_set() -> Path:
    """Return the user's own copy of the demo set, made the first time."""
    target = user_data_path("Reformulate", appauthor=False) / "harvest-evening"
    try:
        return working_copy(target)
    except BadInput as problem:
        logger.info("demo set not copied: %s", problem)
        raise SystemExit(f"The demo set could not be copied to {target}. {problem}") from problem
