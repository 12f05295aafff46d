"""The window: lays the panels out around one session and owns the menus."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QSettings, Qt
from PySide6.QtGui import QCloseEvent, QResizeEvent
from PySide6.QtWidgets import (
    QApplication,
    QFileDialog,
    QFrame,
    QHBoxLayout,
    QMainWindow,
    QMessageBox,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from reformulate import BadInput, Document, FileProblem, Line, OwnFood, Swap
from ui.dialogs import LineDialog, SwapDialog
from ui.goals_panel import GoalsPanel
from ui.holds_panel import HoldsPanel
from ui.import_dialog import ImportDialog
from ui.intake_dialog import IntakeDialog
from ui.menus import Menus
from ui.own_food_dialog import OwnFoodDialog
from ui.recipe_page import RecipePage
from ui.session import Session
from ui.settings import Settings, write_settings
from ui.sidebar import Sidebar
from ui.theme import Theme
from ui.widgets import named

SIDEBAR_WIDTH = 206
GOALS_WIDTH = 386


class MainWindow(QMainWindow):
    """Knows where things are, not what they do."""

    def __init__(
        self, session: Session, theme: Theme, settings: Settings, store: QSettings
    ) -> None:
        super().__init__()
        self._session, self._theme = session, theme
        self._settings, self._store = settings, store
        self._base_size = QApplication.font().pointSizeF() * 100.0 / settings.text_size
        self._may_lose_work = False
        self._intake: IntakeDialog | None = None
        self.resize(1280, 800)
        self.menus = Menus(self, self, session.undo_stack, settings)
        self._build_panels()
        session.undo_stack.cleanChanged.connect(self._on_clean_changed)
        session.set_changed.connect(self._on_set_changed)

    # Panels

    def _build_panels(self) -> None:
        """Lay the panels out; they are views of the session, so they can be made anew any time."""
        self.page = RecipePage(self._session, self._theme)
        self.page.line_wanted.connect(self.add_line)
        self.page.swap_wanted.connect(self.allow_swap)
        self.sidebar = Sidebar(self._session, self._theme)
        self.goals = GoalsPanel(self._session, self._theme)
        self.holds = HoldsPanel(self._session)
        scale = self._settings.text_size / 100.0
        self.sidebar.setFixedWidth(int(SIDEBAR_WIDTH * scale))
        wanted = QWidget()
        column = QVBoxLayout(wanted)
        column.setContentsMargins(0, 14, 14, 14)
        column.setSpacing(14)
        column.addWidget(self.goals)
        column.addWidget(self.holds)
        column.addStretch(1)
        scroll = named(QScrollArea(), "wanted")
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setWidget(wanted)
        self._wanted = scroll
        self._share_width()
        centre = QWidget()
        row = QHBoxLayout(centre)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(16)
        row.addWidget(self.sidebar)
        middle = QVBoxLayout()
        middle.setContentsMargins(0, 14, 0, 14)
        middle.addWidget(self.page)
        row.addLayout(middle, 1)
        row.addWidget(scroll)
        self.setCentralWidget(centre)

        self.page.table.setFocus()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the sliders their share of a wide window."""
        super().resizeEvent(event)
        self._share_width()

    def _share_width(self) -> None:
        least = int(GOALS_WIDTH * self._settings.text_size / 100.0)
        self._wanted.setFixedWidth(max(least, min(int(self.width() * 0.3), int(least * 1.5))))

    # What the menus do

    def show_view(self, name: str) -> None:
        """Show another view of the recipe."""
        self.page.show_view(name)

    def change_setting(self, **changes: object) -> None:
        """Change colours or text size at once, and remember it."""
        self._settings = replace(self._settings, **changes)  # type: ignore[arg-type]
        write_settings(self._store, self._settings)
        if "theme" in changes:
            self._theme.choose(self._settings.theme)
        if "text_size" in changes:
            font = QApplication.font()
            font.setPointSizeF(self._base_size * self._settings.text_size / 100.0)
            QApplication.setFont(font)
            self._build_panels()
            if self._intake is not None:
                old, self._intake = self._intake, self._make_intake()
                self._intake.take_over(old)
                old.deleteLater()
            self._session.set_changed.emit()
            self._session.show_document(self._session.current)

    def choose_set(self) -> None:
        """Ask for a folder and open it as a set."""
        dialog = QFileDialog(self, "Open set: choose its folder")
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setFileMode(QFileDialog.FileMode.Directory)
        dialog.setOption(QFileDialog.Option.ShowDirsOnly)
        dialog.fileSelected.connect(lambda folder: self.open_set(Path(folder)))
        dialog.open()

    def open_set(self, folder: Path) -> None:
        """Open a set and remember it; what cannot be opened is told, and the old one stays."""
        if not self._session.keep_drafts():
            self._ask_about_unsaved(lambda: self._open_set(folder))
            return
        self._open_set(folder)

    def _open_set(self, folder: Path) -> None:
        try:
            holder = self._session.open_set(folder)
        except BadInput as problem:
            self.tell("This set could not be opened", str(problem))
            return
        self._settings = replace(self._settings, last_set=str(folder))
        write_settings(self._store, self._settings)
        if holder:
            self.tell(
                "This set is open elsewhere",
                f"It has been open since {holder.since} on {holder.host} (process {holder.pid}). "
                "Saving here asks before it writes over what was saved there, and unsaved work is "
                "kept as a draft over there only.",
            )

    def save(self) -> None:
        """Save; a file changed elsewhere is asked about, a failed write is told."""
        try:
            self._session.save()
        except FileProblem as problem:
            box = self._box("Not saved", f"{problem}\n\nYour work is kept here and as a draft.")
            again = box.addButton("Write over it", QMessageBox.ButtonRole.DestructiveRole)
            box.addButton(QMessageBox.StandardButton.Cancel)
            again.clicked.connect(self._save_over)
            box.open()

    def _save_over(self) -> None:
        try:
            self._session.save(overwrite=True)
        except FileProblem as problem:
            self.tell("Not saved", str(problem))

    def add_line(self) -> None:
        """Ask for a food and an amount; add them as a line."""
        batch = self._session.batch
        if batch is None:
            return
        session = self._session
        dialog = LineDialog(session.foods, batch, session.system, self, session.store)
        dialog.chosen.connect(self._on_line_chosen)
        dialog.open()
        dialog.search.field.setFocus()

    def _on_line_chosen(self, line: Line) -> None:
        def add(document: Document) -> Document:
            recipe = document.recipe
            return replace(document, recipe=replace(recipe, lines=(*recipe.lines, line)))

        self._session.edit(add, f"Add {line.food}")

    def allow_swap(self, line_id: str) -> None:
        """Ask for a food that may stand in for a line; allow it."""
        batch = self._session.batch
        if batch is None:
            return
        dialog = SwapDialog(self._session.foods, batch, line_id, self, self._session.store)
        dialog.chosen.connect(self._on_swap_chosen)
        dialog.open()
        dialog.search.field.setFocus()

    def _on_swap_chosen(self, swap: Swap) -> None:
        self._session.edit_brief(
            lambda brief: replace(brief, swaps=(*brief.swaps, swap)), f"Allow {swap.food}"
        )

    def new_recipe(self) -> IntakeDialog:
        """Take a recipe in from text; what was there when it was closed is there again."""
        if self._intake is None:
            self._intake = self._make_intake()
        self._intake.open()
        return self._intake

    def _make_intake(self) -> IntakeDialog:
        dialog = IntakeDialog(self._session, self._theme, self)
        dialog.added.connect(lambda _document: self.page.table.setFocus())
        return dialog

    def new_recipe_from_file(self) -> None:
        """Take a recipe in from a file."""
        self.new_recipe().choose_file()

    def add_own_food(self) -> OwnFoodDialog:
        """Ask for a food's label; keep the food in the set."""
        taken = frozenset(food.key for food in self._session.own_foods)
        dialog = OwnFoodDialog(taken, self)
        dialog.chosen.connect(self._on_own_food)
        dialog.open()
        dialog.name.setFocus()
        return dialog

    def use_as_food(self) -> None:
        """Keep the recipe on screen as a food, to be used in another."""
        try:
            food = self._session.recipe_as_food()
        except BadInput as problem:
            self.tell("It was not kept as a food", str(problem))
            return
        if food is not None:
            self._session.notice.emit(
                f"{food.name} can now be used in other recipes of this set, as {food.key}; "
                "do this again after changing it."
            )

    def _on_own_food(self, food: OwnFood) -> None:
        try:
            self._session.add_own_food(food)
        except BadInput as problem:
            self.tell("The food was not kept", str(problem))

    def import_foods(self) -> ImportDialog | None:
        """Bring a downloaded release of foods into the user's store."""
        store = self._session.store
        if store is None:
            self.tell("No store of foods", "The store of imported foods could not be opened.")
            return None
        dialog = ImportDialog(store, self)
        dialog.open()
        return dialog

    def tell(self, title: str, words: str) -> None:
        """Tell the user something in a box of its own."""
        box = self._box(title, words)
        box.addButton(QMessageBox.StandardButton.Ok)
        box.open()

    def _box(self, title: str, words: str) -> QMessageBox:
        box = QMessageBox(self)
        box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        box.setWindowTitle(title)
        box.setText(title)
        box.setInformativeText(words)
        return box

    # What follows the session

    def _on_clean_changed(self, clean: bool) -> None:
        self.setWindowModified(not clean)
        self.menus.save.setEnabled(not clean)

    def _on_set_changed(self) -> None:
        opened = self._session.recipe_set
        self.setWindowTitle(f"{opened.title if opened else 'Reformulate'}[*]")

    def closeEvent(self, event: QCloseEvent) -> None:
        """Unsaved work is kept as a draft and comes back; where it cannot be, it is asked about."""
        if self._may_lose_work or self._session.keep_drafts():
            self._session.close_set()
            event.accept()
            return
        event.ignore()
        self._ask_about_unsaved(self._close_anyway)

    def _close_anyway(self) -> None:
        self._may_lose_work = True
        self.close()

    def _ask_about_unsaved(self, go_on: Callable[[], object]) -> None:
        titles = ", ".join(document.recipe.title for document in self._session.unsaved)
        box = self._box(
            "Unsaved work", f"{titles}: not saved, and it could not be kept as a draft."
        )
        save = box.addButton("Save", QMessageBox.ButtonRole.AcceptRole)
        lose = box.addButton("Go on without it", QMessageBox.ButtonRole.DestructiveRole)
        box.addButton(QMessageBox.StandardButton.Cancel)
        save.clicked.connect(lambda *_: self.save())
        lose.clicked.connect(lambda *_: go_on())
        box.open()
