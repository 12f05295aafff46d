"""The menus, and the three buttons at the right of them."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Protocol

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QActionGroup, QKeySequence, QUndoStack
from PySide6.QtWidgets import QHBoxLayout, QMainWindow, QMenu, QToolButton, QWidget

from ui.help import ABOUT, CAUTIONS
from ui.recipe_page import VIEWS
from ui.settings import TEXT_SIZES, Settings


class Does(Protocol):
    """What the menus ask for."""

    def new_recipe(self) -> object:
        """Take a recipe in from text."""

    def new_recipe_from_file(self) -> None:
        """Take a recipe in from a file."""

    def choose_set(self) -> None:
        """Open a set."""

    def save(self) -> None:
        """Save what is edited."""

    def import_foods(self) -> object:
        """Bring in a release of foods."""

    def add_own_food(self) -> object:
        """Add a food from its label."""

    def use_as_food(self) -> None:
        """Keep the recipe on screen as a food."""

    def add_line(self) -> None:
        """Add a line to the recipe on screen."""

    def show_view(self, name: str) -> None:
        """Show another view of the recipe."""

    def change_setting(self, **changes: object) -> None:
        """Change colours or text size."""

    def tell(self, title: str, words: str) -> None:
        """Tell something in a box."""


class Menus:
    """Says what there is to do and by which keys; the window does it."""

    def __init__(
        self, window: QMainWindow, does: Does, stack: QUndoStack, settings: Settings
    ) -> None:
        self._window, self._does, self._settings = window, does, settings
        undo = stack.createUndoAction(window, "Undo")
        undo.setShortcuts(QKeySequence.StandardKey.Undo)
        redo = stack.createRedoAction(window, "Redo")
        redo.setShortcuts(QKeySequence.StandardKey.Redo)
        self.save = self._action("Save", does.save, QKeySequence.StandardKey.Save)
        self.save.setEnabled(False)
        bar = window.menuBar()
        self._fill_file(bar.addMenu("&File"))
        edit = bar.addMenu("&Edit")
        edit.addActions([undo, redo])
        edit.addSeparator()
        edit.addAction(self._action("Add a line …", does.add_line))
        self._fill_view(bar.addMenu("&View"))
        about = bar.addMenu("&Help")
        about.addAction(self._action("Cautions", partial(does.tell, "Cautions", CAUTIONS)))
        about.addAction(self._action("About", partial(does.tell, "About Reformulate", ABOUT)))
        corner = QWidget(bar)
        row = QHBoxLayout(corner)
        row.setContentsMargins(0, 2, 8, 2)
        for action, word in ((undo, "Undo"), (redo, "Redo"), (self.save, "Save")):
            row.addWidget(_ActionButton(action, word))
        bar.setCornerWidget(corner)
        self._corner = corner

    def _fill_file(self, file: QMenu) -> None:
        does, keys = self._does, QKeySequence.StandardKey
        file.addAction(self._action("New recipe from text …", does.new_recipe, keys.New))
        file.addAction(self._action("New recipe from file …", does.new_recipe_from_file))
        file.addSeparator()
        file.addAction(self._action("Open set …", does.choose_set, keys.Open))
        file.addAction(self.save)
        file.addSeparator()
        file.addAction(self._action("Import foods …", does.import_foods))
        file.addAction(self._action("Food of your own …", does.add_own_food))
        file.addAction(self._action("Use this recipe as a food", does.use_as_food))
        file.addSeparator()
        file.addAction(self._action("Quit", self._window.close, keys.Quit))

    def _fill_view(self, view: QMenu) -> None:
        for number, name in enumerate(VIEWS, start=1):
            view.addAction(
                self._action(name, partial(self._does.show_view, name), f"Ctrl+{number}")
            )
        view.addSeparator()
        self._add_choices(view.addMenu("Colours"), ("system", "light", "dark"), "theme")
        self._add_choices(view.addMenu("Text size"), TEXT_SIZES, "text_size")

    def _action(
        self,
        text: str,
        run: Callable[[], object],
        shortcut: QKeySequence.StandardKey | str | None = None,
    ) -> QAction:
        action = QAction(text, self._window)
        action.triggered.connect(lambda *_: run())
        if shortcut is not None:
            action.setShortcut(QKeySequence(shortcut))
        return action

    def _add_choices(self, menu: QMenu, choices: tuple[object, ...], setting: str) -> None:
        group = QActionGroup(menu)
        for choice in choices:
            words = f"{choice} %" if isinstance(choice, int) else str(choice).capitalize()
            choose = partial(self._does.change_setting, **{setting: choice})
            action = self._action(words, choose)
            action.setCheckable(True)
            action.setChecked(getattr(self._settings, setting) == choice)
            group.addAction(action)
            menu.addAction(action)


class _ActionButton(QToolButton):
    """A button for an action, under its own short word: the action's grows with the edit's name."""

    def __init__(self, action: QAction, word: str) -> None:
        super().__init__()
        self.setObjectName(f"button {word.lower()}")
        self.setText(word)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self._action = action
        self.clicked.connect(action.trigger)
        action.changed.connect(self._follow)
        self._follow()

    def _follow(self) -> None:
        self.setEnabled(self._action.isEnabled())
        keys = self._action.shortcut().toString(QKeySequence.SequenceFormat.NativeText)
        self.setToolTip(f"{self._action.text()} ({keys})" if keys else self._action.text())
