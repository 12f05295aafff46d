"""What gives: each limit the optimum leans on, and what moving it a little would do."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QHideEvent, QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QFrame,
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
from ui.follower import REST, Follower
from ui.give_row import GiveRow
from ui.session import Session
from ui.widgets import muted_label, named
from ui.work import Progress, Work

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
    answer: Answer = field(compare=False)

    @classmethod
    def of(cls, answer: Answer) -> _Asked:
        """Return what the figures of an answer depend on."""
        return cls(batch=answer.batch, brief=answer.brief, answer=answer)


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
        self._follower = Follower(self._work, "gives", self)
        self.worker = self._follower.worker
        self.rows: list[GiveRow] = []
        self._heading = named(QLabel(), "gives heading")
        self._heading.setWordWrap(True)
        self._about = muted_label(ABOUT, small=True, name="gives about")
        self._about.setWordWrap(True)
        self._list = QVBoxLayout()
        self._list.setSpacing(6)
        self._lay_out()
        self._follower.began.connect(self._on_began)
        self._follower.given_up.connect(self._on_given_up)
        self._follower.done.connect(self._on_done)
        self._follower.failed.connect(self._drop)
        session.answer_changed.connect(self._on_answer)
        session.current_changed.connect(self._on_answer)

    def showEvent(self, event: QShowEvent) -> None:
        """Begin to follow the brief."""
        super().showEvent(event)
        self._on_answer()

    def hideEvent(self, event: QHideEvent) -> None:
        """Leave off: nobody looks."""
        super().hideEvent(event)
        self._follower.leave_off()

    @property
    def is_current(self) -> bool:
        """True while what is shown is of the brief on screen."""
        answer = self._session.answer
        return answer is not None and self._follower.shown == _Asked.of(answer)

    # What is asked for

    def _on_answer(self) -> None:
        if not self.isVisible():
            return
        answer = self._session.answer
        if answer is None:
            self._drop("Nothing can be told until the problems above are solved.")
            return
        asked, shown = _Asked.of(answer), self._follower.shown
        if asked == shown and self._found is not None:
            self._follower.leave_off()
            self._heading.setText(self._found.heading)
            self._set_stale(on=False)
        elif answer.optimum.relaxed is not None:  # measured amounts may miss what grams can keep
            self._drop(gives_heading((), conflict=True))
        else:
            if shown is not None and asked.batch is not shown.batch:
                self._drop(WORKING)
            self._set_stale(on=True)
            self._follower.want(asked, rest=REST if self.rows else 0)

    def _work(self, asked: _Asked) -> Work:
        return partial(_work_out, asked, self._session.foods)

    def _on_began(self) -> None:
        if not self.rows:
            self._heading.setText(WORKING)

    # What came of it

    def _on_given_up(self) -> None:
        old = " What is shown belongs to the brief before." if self.rows else ""
        self._heading.setText(f"Given up.{old}")

    def _on_done(self, result: object) -> None:
        if isinstance(result, _Found):
            self._show_rows(result)

    def _drop(self, words: str) -> None:
        """Show words in the place of rows."""
        self._follower.forget()
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
        top.addWidget(self._follower.progress)
        inner = QWidget()
        layout = QVBoxLayout(inner)
        layout.setContentsMargins(12, 8, 12, 10)
        layout.setSpacing(8)
        layout.addLayout(top)
        layout.addWidget(self._about)
        layout.addLayout(self._list)
        layout.addStretch(1)
        self.setWidget(inner)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    heading: str
    rows: tuple[GiveWords, ...]


def _work_out(asked: _Asked, foods: FoodTable, progress: Progress) -> _Found:
    gives = what_gives(asked.batch, asked.brief, foods, progress=progress)
    return _Found(
        heading=gives_heading(gives),
        rows=tuple(give_words(give, asked.answer.items, asked.brief.shown) for give in gives),
    )
