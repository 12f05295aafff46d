"""What gives: each limit the optimum leans on, and what moving it a little would do."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QHideEvent, QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from reformulate import (
    Answer,
    Batch,
    Brief,
    FoodTable,
    GiveWords,
    give_words,
    gives_heading,
    what_gives,
)
from ui.listed import in_a_row
from ui.progress_row import ProgressRow
from ui.session import Session
from ui.widgets import heading, muted_label, named
from ui.work import Progress, Worker

REST = 120
"""The brief has to rest this long [ms] before it is worked out anew."""

WORKING = "Working out what gives …"
ABOUT = (
    "About the exact answer in grams, before it is turned into amounts to measure. "
    "Every figure comes from solving again; the swaps in use stay the same."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """All that the figures depend on."""

    batch: Batch
    brief: Brief


class GivesView(QScrollArea):
    """Worked out only while it is on screen, on another thread; the last stays meanwhile."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.setObjectName("gives")
        self.setAccessibleName("What gives")
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setStyleSheet("QFrame#card:focus { border: 1px solid palette(link); }")
        self._session = session
        self._found: _Found | None = None
        self._shown: _Asked | None = None
        self._wanted: _Asked | None = None
        self.worker = Worker(self)
        self.rows: list[GiveRow] = []
        self._heading = named(QLabel(), "gives heading")
        self._heading.setWordWrap(True)
        self._about = muted_label(ABOUT, small=True, name="gives about")
        self._about.setWordWrap(True)
        self._progress = ProgressRow(self.worker, "gives")
        self._list = QVBoxLayout()
        self._list.setSpacing(6)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST)
        self._lay_out()
        self._rest.timeout.connect(self._begin)
        self._progress.again.connect(self._begin)
        self._progress.cancelled.connect(self._on_cancelled)
        self.worker.done.connect(self._on_done)
        self.worker.failed.connect(self._on_failed)
        session.answer_changed.connect(self._on_answer)
        session.current_changed.connect(self._on_answer)

    def showEvent(self, event: QShowEvent) -> None:
        """Begin to follow the brief."""
        super().showEvent(event)
        self._on_answer()

    def hideEvent(self, event: QHideEvent) -> None:
        """Leave off: nobody looks."""
        super().hideEvent(event)
        self._leave_off()

    @property
    def is_current(self) -> bool:
        """True while what is shown is of the brief on screen."""
        answer = self._session.answer
        if answer is None or self._shown is None:
            return False
        return self._shown == _Asked(batch=answer.batch, brief=answer.brief)

    # What is asked for

    def _on_answer(self) -> None:
        if not self.isVisible():
            return
        answer = self._session.answer
        if answer is None:
            self._drop("Nothing can be told until the problems above are solved.")
            return
        asked = _Asked(batch=answer.batch, brief=answer.brief)
        if asked == self._shown and self._found is not None:
            self._leave_off()
            self._heading.setText(self._found.heading)
            self._set_stale(on=False)
        elif answer.optimum.relaxed is not None:  # measured amounts may miss what grams can keep
            self._drop(gives_heading((), conflict=True))
        elif asked != self._wanted:
            self.worker.cancel()
            if self._shown is not None and asked.batch is not self._shown.batch:
                self._drop(WORKING)
            self._set_stale(on=True)
            self._wanted = asked
            self._progress.forget()
            self._rest.start(REST if self.rows else 0)

    def _begin(self) -> None:
        answer = self._session.answer
        if answer is None or self._wanted is None:
            return
        if not self.rows:
            self._heading.setText(WORKING)
        self.worker.start(partial(_work_out, answer, self._session.foods))

    def _leave_off(self) -> None:
        self._rest.stop()
        self.worker.cancel()
        self._wanted = None
        self._progress.forget()

    # What came of it

    def _on_cancelled(self) -> None:
        old = " What is shown belongs to the brief before." if self.rows else ""
        self._heading.setText(f"Given up.{old}")

    def _on_done(self, result: object) -> None:
        self._shown, self._wanted = self._wanted, None
        if isinstance(result, _Found):
            self._show_rows(result)

    def _on_failed(self, words: str) -> None:
        self._drop(words)

    def _drop(self, words: str) -> None:
        """Show words in the place of rows."""
        self._leave_off()
        self._shown = None
        self._show_rows(_Found(heading=words, rows=()))

    def _show_rows(self, found: _Found) -> None:
        self._found = found
        self._heading.setText(found.heading)
        focused = next((i for i, row in enumerate(self.rows) if row.hasFocus()), None)
        for row in self.rows:
            self._list.removeWidget(row)
            row.hide()
            row.deleteLater()
        self.rows = [GiveRow(words) for words in found.rows]
        width = max((row.step_width for row in self.rows), default=0)
        for row in self.rows:
            row.share_step_width(width)
            self._list.addWidget(row)
        if focused is not None and self.rows:
            self.rows[min(focused, len(self.rows) - 1)].setFocus()
        self._about.setVisible(bool(self.rows))
        self._set_stale(on=False)

    def _set_stale(self, *, on: bool) -> None:
        """Show rows of the brief before as such."""
        for row in self.rows:
            row.setEnabled(not on)

    # Looks

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and Down walk through the rows."""
        steps = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        step = steps.get(Qt.Key(event.key()))
        at = next((i for i, row in enumerate(self.rows) if row.hasFocus()), None)
        if step is None or at is None or not 0 <= at + step < len(self.rows):
            super().keyPressEvent(event)
            return
        self.rows[at + step].setFocus()
        self.ensureWidgetVisible(self.rows[at + step])

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.addWidget(self._heading, 1)
        top.addWidget(self._progress)
        inner = QWidget()
        layout = QVBoxLayout(inner)
        layout.setContentsMargins(12, 8, 12, 10)
        layout.setSpacing(8)
        layout.addLayout(top)
        layout.addWidget(self._about)
        layout.addLayout(self._list)
        layout.addStretch(1)
        self.setWidget(inner)


class GiveRow(QFrame):
    """One limit: what is asked, how far it stays true, one step and what moves with it."""

    def __init__(self, words: GiveWords) -> None:
        super().__init__()
        self.setObjectName("card")
        self.words = words
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(str(words))
        asked = heading(words.asked[:1].upper() + words.asked[1:])
        asked.setWordWrap(True)
        true = muted_label(words.true if words.possible else "", small=True)
        true.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self._step = QLabel(words.step)
        self._step.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        moves = QLabel(in_a_row(words.moves) if words.possible else _impossible(words))
        moves.setWordWrap(True)
        others = muted_label(f"per serving: {in_a_row(words.others)}" if words.others else "")
        others.setWordWrap(True)
        others.setVisible(bool(words.others))
        grid = QGridLayout(self)
        grid.setContentsMargins(12, 6, 12, 7)
        grid.setHorizontalSpacing(14)
        grid.setVerticalSpacing(2)
        top = QHBoxLayout()
        top.addWidget(asked, 1)
        top.addWidget(true)
        grid.addLayout(top, 0, 0, 1, 2)
        grid.addWidget(self._step, 1, 0)
        grid.addWidget(moves, 1, 1)
        if words.others:
            grid.addWidget(others, 2, 1)
        grid.setColumnStretch(1, 1)

    @property
    def step_width(self) -> int:
        """Width of the step's words [px]."""
        return self._step.sizeHint().width()

    def share_step_width(self, width: int) -> None:
        """Line up with the other rows."""
        self._step.setFixedWidth(width)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    heading: str
    rows: tuple[GiveWords, ...]


def _impossible(words: GiveWords) -> str:
    return words.true[:1].upper() + words.true[1:]


def _work_out(answer: Answer, foods: FoodTable, progress: Progress) -> _Found:
    brief = answer.brief
    gives = what_gives(answer.batch, brief, foods, progress=progress)
    return _Found(
        heading=gives_heading(gives),
        rows=tuple(give_words(give, answer.items, brief.shown) for give in gives),
    )
