"""A recipe on its way in: the text at the left, what is read of it and what is open at the right."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtCore import QModelIndex, QPoint, Qt, QTimer, Signal
from PySide6.QtGui import QKeySequence, QShortcut, QShowEvent
from PySide6.QtWidgets import (
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QLabel,
    QMenu,
    QPushButton,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from reformulate import (
    BadInput,
    Intake,
    Question,
    ReformulateError,
    Source,
    Topic,
    as_text,
    carried_over,
    chosen_foods,
    open_questions,
    recipe_of,
    summary_of,
)
from ui.intake_deciding import IntakeDecisions
from ui.intake_page import IntakePage
from ui.intake_questions import Key
from ui.intake_reading import Against, Reading, file_work, text_work
from ui.intake_text import IntakeText
from ui.phrases import plain_entry
from ui.session import Session
from ui.theme import Theme
from ui.widgets import muted_label, named
from ui.work import Work, Worker

REST = 150
"""After this long without a key the text is read [ms]."""

MOST_AT_ONCE = 6_000
"""A longer text is read off the window's thread [characters]; this much takes some 20 ms."""

WHICH: Key = (Topic.LINE, "", 0, 0)
"""The question which recipe of a page is meant."""


class IntakeDialog(QDialog):
    """Reads a recipe while it is pasted or typed, asks what only a person can say, adds it to the set.

    Closed without adding, it keeps everything and shows it when it is opened again.
    """

    added = Signal(object)
    """The Document added to the set."""
    read = Signal()
    """A text or a file has been read, and is shown."""

    def __init__(self, session: Session, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.setWindowTitle("New recipe from text")
        self._origin: Source | None = None
        self._pages: tuple[Source, ...] = ()
        self._all_answered = False
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST)
        self._rest.timeout.connect(self._read_text)
        self.worker = Worker(self)
        self.worker.done.connect(self._on_read)
        self.worker.failed.connect(self._tell)
        self.text = IntakeText(theme)
        self.page = IntakePage(theme)
        self.decisions = IntakeDecisions(session, self.page, self)
        self._problem = named(QLabel(), "intake problem")
        self._problem.setProperty("bad", True)
        self._problem.setWordWrap(True)
        self._problem.setTextFormat(Qt.TextFormat.PlainText)
        self._problem.hide()
        self._summary = muted_label("", name="intake summary")
        self._theme = theme
        self.add = named(QPushButton("Add to set"), "add to set")
        self.add.setProperty("primary", True)
        self.add.setAutoDefault(False)
        self._close = named(QPushButton("Close"), "close intake")
        self._close.setAutoDefault(False)
        self._close.setToolTip("What you have here stays until it is added or the program closes")
        self._lay_out()
        self._connect()
        theme.changed.connect(self._restyle)
        self._restyle()
        self._show()

    def _restyle(self) -> None:
        track, muted = (self._theme.colour(name).name() for name in ("track", "muted"))
        self.add.setStyleSheet(f"QPushButton:disabled {{ background: {track}; color: {muted}; }}")

    def _lay_out(self) -> None:
        halves = QSplitter(Qt.Orientation.Horizontal)
        halves.setChildrenCollapsible(False)
        halves.setHandleWidth(16)
        halves.addWidget(self.text)
        halves.addWidget(self.page)
        halves.setStretchFactor(0, 3)
        halves.setStretchFactor(1, 7)
        halves.setSizes([330, 770])
        self.text.setMinimumWidth(220)
        foot = QHBoxLayout()
        foot.addWidget(self._summary, 1)
        foot.addWidget(self._close)
        foot.addWidget(self.add)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(16, 14, 16, 12)
        layout.setSpacing(10)
        layout.addWidget(halves, 1)
        layout.addWidget(self._problem)
        layout.addLayout(foot)

    def _connect(self) -> None:
        self.text.field.textChanged.connect(self._rest.start)
        self.text.open_file.clicked.connect(self.choose_file)
        self.text.other.clicked.connect(self._show_pages)
        self.text.anew.clicked.connect(self.start_anew)
        page = self.page
        self.decisions.changed.connect(self._show)
        self.decisions.refused.connect(self._tell)
        self.decisions.page_chosen.connect(self._choose_page)
        page.questions.all_answered.connect(self._on_all_answered)
        page.view.selectionModel().currentChanged.connect(self._on_current)
        self.add.clicked.connect(self.add_to_set)
        self._close.clicked.connect(self.reject)
        for keys in ("Ctrl+Return", "Ctrl+Enter"):
            QShortcut(QKeySequence(keys), self).activated.connect(self.add_to_set)

    def showEvent(self, event: QShowEvent) -> None:
        """Take the size of the window, and read again: another set may be open now."""
        window = self.parentWidget()
        if window is not None:
            self.resize(window.width() - 60, window.height() - 60)
        super().showEvent(event)
        self.text.field.setFocus()
        if self.text.text.strip():
            self._read_text()

    @property
    def intake(self) -> Intake | None:
        """What is read and decided; None for nothing yet."""
        return self.decisions.intake

    def take_over(self, other: IntakeDialog) -> None:
        """Go on where another dialog stands: this one has other sizes of text."""
        self._origin, self._pages = other._origin, other._pages
        self.decisions.intake = other.intake
        self.text.replace(other.text.text)
        self._rest.stop()
        self._show()

    # Reading

    def open_file(self, path: Path) -> None:
        """Read a file: a text, or a page that was saved."""
        self._origin, self._pages = None, ()
        self._start(file_work(path, self._against()))

    def choose_file(self) -> None:
        """Ask for a file and read it."""
        dialog = QFileDialog(self, "Open a recipe: a text, or a saved page")
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.setNameFilters(
            ["Texts and pages (*.txt *.md *.html *.htm *.xhtml *.json *.jsonld)", "All files (*)"]
        )
        dialog.fileSelected.connect(lambda name: self.open_file(Path(name)))
        dialog.open()

    def start_anew(self) -> None:
        """Empty the text; undo in it brings it back."""
        self._origin, self._pages, self.decisions.intake = None, (), None
        self.text.replace("")
        self._tell("")
        self._show()
        self.text.field.setFocus()

    def _against(self) -> Against:
        opened = self._session.recipe_set
        return Against(
            foods=self._session.foods,
            system=self._session.system,
            remembered=dict(opened.matches) if opened else {},
        )

    def _read_text(self) -> None:
        text = self.text.text
        work = text_work(text, self._origin, self._against())
        if len(text) > MOST_AT_ONCE:
            self._start(work)
            return
        self._rest.stop()
        self.worker.cancel()
        try:
            self._on_read(work(_nobody_stops))
        except ReformulateError as error:
            self._tell(str(error))

    def _start(self, work: Work) -> None:
        self._rest.stop()
        self.worker.start(work)

    def _on_read(self, result: object) -> None:
        if not isinstance(result, Reading):
            return
        self._tell("")
        if result.intake is None:
            self._pages, self.decisions.intake = result.sources, None
        else:
            self._settle_text(result)
            found = result.intake
            self.decisions.intake = carried_over(self.intake, found) if self.intake else found
        self._show()
        self.read.emit()

    def _settle_text(self, reading: Reading) -> None:
        """Show a file's text, or a page's, to be corrected; what was typed since stays as it is."""
        source = reading.sources[0]
        text = as_text(source)
        if reading.given is None or (text != reading.given and reading.given == self.text.text):
            self._origin = source
            self.text.replace(text)
            self._rest.stop()

    def _choose_page(self, number: int) -> None:
        self._origin, self.decisions.intake = self._pages[number], None
        self.text.replace(as_text(self._origin))
        self._read_text()

    def _show_pages(self) -> None:
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        for number, source in enumerate(self._pages):
            action = menu.addAction(plain_entry(source.title or f"Recipe {number + 1}"))
            action.triggered.connect(partial(_call, partial(self._choose_page, number)))
        menu.popup(self.text.other.mapToGlobal(QPoint(0, 0)))

    def _on_current(self, current: QModelIndex) -> None:
        lines = self.page.view.table.lines
        known = current.isValid() and current.row() < len(lines)
        self.text.mark(lines[current.row()].read.text.strip() if known else "")

    # Adding

    def add_to_set(self) -> None:
        """Add the recipe to the set, remember the foods that were chosen, and close."""
        if self.intake is None or not self.add.isEnabled():
            return
        try:
            document = self._session.add_recipe(recipe_of(self.intake))
        except BadInput as error:
            self._tell(str(error))
            return
        try:
            for words, food in chosen_foods(self.intake):
                self._session.remember(words, food)
        except BadInput as error:
            self._session.notice.emit(f"The foods you chose could not be remembered. {error}")
        self.start_anew()
        self.accept()
        self.added.emit(document)

    # Showing

    def _show(self) -> None:
        intake = self.intake
        if intake is None and len(self._pages) > 1:
            self.page.ask_which(WHICH, self._pages)
        else:
            self.page.show_intake(intake, _keyed(intake) if intake else ())
        self.text.other.setVisible(len(self._pages) > 1)
        left = len(open_questions(intake)) if intake else 0
        self._summary.setText(summary_of(intake) if intake and intake.lines else "")
        self.add.setEnabled(bool(intake and intake.counted and not left))
        self.add.setToolTip(
            "Add the recipe to the set (Ctrl+Enter)"
            if self.add.isEnabled()
            else "Once nothing is open"
        )
        if self._all_answered and self.add.isEnabled():
            self.add.setFocus(Qt.FocusReason.TabFocusReason)
        self._all_answered = False

    def _on_all_answered(self) -> None:
        self._all_answered = True

    def _tell(self, words: str) -> None:
        self._problem.setText(words)
        self._problem.setVisible(bool(words))


def _keyed(intake: Intake) -> tuple[tuple[Key, Question], ...]:
    """Return what is open with names that stay the same while the text around it changes."""
    seen: Counter[tuple[str, int]] = Counter()
    names = []
    for line in intake.lines:
        name = line.read.text, line.part
        names.append((*name, seen[name]))
        seen[name] += 1
    return tuple(
        ((q.topic, *(names[q.line] if q.line >= 0 else ("", 0, 0))), q)
        for q in open_questions(intake)
    )


def _nobody_stops(_fraction: float) -> bool:
    return True


def _call(run: Callable[[], object], *_from_qt: object) -> None:
    run()
