"""Pictures of the window in the states a cook lives in, to be looked at.

Run from the top of the project: ``QT_QPA_PLATFORM=offscreen python -m tests.screenshots FOLDER``.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QEventLoop, QSettings, QTimer
from PySide6.QtWidgets import QApplication

from reformulate import Goal, working_copy
from ui.main import make_window
from ui.main_window import MainWindow

SIZES = ((1280, 800), (1920, 1080))


def _choose(window: MainWindow, title: str) -> None:
    session = window._session
    titles = [document.recipe.title for document in session.documents]
    session.show_document(next(i for i, name in enumerate(titles) if title in name.lower()))


def _lighten(window: MainWindow) -> None:
    _choose(window, "spinach")


def _conflict(window: MainWindow) -> None:
    _choose(window, "spinach")
    window._session.edit_brief(
        lambda brief: brief.with_goal(Goal(nutrient="energy_kcal", at_most=70.0)), "Move energy"
    )


def _protein(window: MainWindow) -> None:
    _choose(window, "trout")


def _nutrients(window: MainWindow) -> None:
    _choose(window, "walnut")
    window.page.show_view("Nutrients")


def _substitutions(window: MainWindow) -> None:
    _choose(window, "walnut")


def _wait(milliseconds: int) -> None:
    """Let the event loop run; QTest.qWait would keep Python's other threads waiting."""
    loop = QEventLoop()
    QTimer.singleShot(milliseconds, loop.quit)
    loop.exec()


def _view(title: str, name: str) -> Callable[[MainWindow], None]:
    def arrange(window: MainWindow) -> None:
        _choose(window, title)
        window.page.show_view(name)

    return arrange


STATES: tuple[tuple[str, Callable[[MainWindow], None]], ...] = (
    ("lighten", _lighten),
    ("conflict", _conflict),
    ("protein", _protein),
    ("substitutions", _substitutions),
    ("nutrients", _nutrients),
    ("taste", _view("spinach", "Taste")),
    ("swaps", _view("walnut", "Swaps")),
    ("trade-offs", _view("spinach", "Trade-offs")),
    ("what-gives", _view("trout", "What gives")),
)


def take(folder: Path) -> None:
    """Save one picture a state, size and colour scheme into ``folder``."""
    folder.mkdir(parents=True, exist_ok=True)
    application = QApplication([])
    for name, arrange in STATES:
        for scheme in ("light", "dark"):
            with tempfile.TemporaryDirectory() as scratch:
                store = QSettings(f"{scratch}/settings.ini", QSettings.Format.IniFormat)
                store.setValue("theme", scheme)
                window = make_window(application, store, working_copy(Path(scratch) / "set"))
                for width, height in SIZES:
                    window.resize(width, height)
                    window.show()
                    arrange(window)
                    _wait(1500)  # what follows at rest, and painting
                    window.grab().save(str(folder / f"{name}-{scheme}-{width}.png"))
                window.close()


if __name__ == "__main__":
    take(Path(sys.argv[1] if len(sys.argv) > 1 else "screenshots"))
