"""A window on a copy of the demo set, driven as a person would."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPointF, QSettings, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QToolButton, QWidget
from pytestqt.qtbot import QtBot

from reformulate import working_copy
from ui.main import make_window
from ui.main_window import MainWindow
from ui.reach_slider import ReachSlider
from ui.recipe_table import RecipeTable


class Person:
    """Does what a person does at the window, and reads what a person reads."""

    def __init__(self, window: MainWindow, qtbot: QtBot) -> None:
        self.window, self.qtbot = window, qtbot
        self.session = window._session

    def choose(self, words: str) -> None:
        """Click a recipe in the list."""
        view = self.window.sidebar.view
        model = view.model()
        row = next(r for r in range(model.rowCount()) if words in model.index(r, 0).data().lower())
        place = view.visualRect(model.index(row, 0)).center()
        self.qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=place)

    def label(self, name: str) -> str:
        """Read a label."""
        return self.find(QLabel, name).text()

    def find(self, kind: type[QWidget], name: str) -> QWidget:
        """Find a widget by what it is called."""
        found = self.window.findChild(kind, name)
        assert found is not None, name
        return found

    def field(self, name: str) -> QLineEdit:
        """Find a field to type in."""
        return self.find(QLineEdit, name)  # type: ignore[return-value]

    def slider(self, key: str) -> ReachSlider:
        """Find the slider of a nutrient."""
        return self.window.goals.cards[key].slider

    @property
    def sentence(self) -> str:
        """Read the state sentence."""
        return self.label("state sentence")

    @property
    def table(self) -> RecipeTable:
        """The recipe table's model."""
        model = self.window.page.table.model()
        assert isinstance(model, RecipeTable)
        return model

    def row(self, name: str) -> int:
        """Find the row of a food."""
        return next(
            r for r in range(self.table.rowCount()) if name in self.table.index(r, 0).data().lower()
        )

    def cells(self, column: int) -> list[str]:
        """Read a column of the recipe table."""
        return [self.table.index(r, column).data() for r in range(self.table.rowCount())]

    def click_cell(self, row: int, column: int) -> None:
        """Click into the recipe table."""
        view = self.window.page.table
        index = self.table.index(row, column)
        view.scrollTo(index)
        place = view.visualRect(index).center()
        self.qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=place)

    def press(self, key: str, name: str) -> None:
        """Press a key with a slider in focus."""
        slider = self.slider(name)
        slider.setFocus()
        self.qtbot.keyClick(slider, getattr(Qt.Key, f"Key_{key}"))

    def drag(self, key: str, values: list[float], seen: Callable[[], None] | None = None) -> None:
        """Take the handle (or the groove) at the first value and move it over the others."""
        slider = self.slider(key)
        self._mouse(slider, QEvent.Type.MouseButtonPress, slider.x_of(values[0]))
        for value in values[1:]:
            self._mouse(slider, QEvent.Type.MouseMove, slider.x_of(value))
            if seen:
                seen()
        self._mouse(slider, QEvent.Type.MouseButtonRelease, slider.x_of(values[-1]))

    def type_into(self, name: str, text: str) -> None:
        """Replace what stands in a field and press Enter."""
        field = self.field(name)
        field.setFocus()
        field.selectAll()
        self.qtbot.keyClicks(field, text)
        self.qtbot.keyClick(field, Qt.Key.Key_Return)

    def click(self, name: str) -> None:
        """Click a button."""
        self.qtbot.mouseClick(self.find(QToolButton, name), Qt.MouseButton.LeftButton)

    @staticmethod
    def _mouse(slider: ReachSlider, kind: QEvent.Type, x: float) -> None:
        place = QPointF(x, slider.height() / 2)
        left = Qt.MouseButton.LeftButton
        event = QMouseEvent(
            kind, place, slider.mapToGlobal(place), left, left, Qt.KeyboardModifier.NoModifier
        )
        QApplication.sendEvent(slider, event)


@pytest.fixture
def demo_folder(tmp_path: Path) -> Path:
    return working_copy(tmp_path / "set")


@pytest.fixture
def store(tmp_path: Path) -> QSettings:
    return QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)


@pytest.fixture
def person(
    qapp: QApplication, qtbot: QtBot, demo_folder: Path, store: QSettings
) -> Iterator[Person]:
    window = make_window(qapp, store, demo_folder)
    with qtbot.waitExposed(window):
        window.show()
    yield Person(window, qtbot)
    window.close()
    window.deleteLater()
