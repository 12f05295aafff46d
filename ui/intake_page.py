"""What is read of a recipe on its way in: title, servings, what is open, the lines, what was left out."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from reformulate import Choice, Intake, Question, Source, Topic
from ui.intake_questions import Key, QuestionCards
from ui.intake_table import IntakeView
from ui.phrases import plain_tip
from ui.theme import Theme
from ui.widgets import muted_label, named, restyle, scaled_font, set_property

MOST_NOTES = 3
SHARE = 0.5
"""Most of the height that questions take [1]; the lines they are about stay in sight."""

EMPTY = "What is read appears here, line by line, with what it weighs and what has to be asked."


class IntakePage(QWidget):
    """Shows an intake; emits through its parts, and changes nothing itself."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.title = named(QLineEdit(), "intake title")
        self.title.setAccessibleName("Title")
        self.title.setPlaceholderText("Title")
        font = scaled_font(self.title.font(), 1.2)
        font.setBold(True)
        self.title.setFont(font)
        self.servings = named(QLineEdit(), "intake servings")
        self.servings.setAccessibleName("Servings")
        self.servings.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.servings.setFixedWidth(self.servings.fontMetrics().horizontalAdvance("0000.0") + 12)
        self.questions = QuestionCards()
        self.view = IntakeView(theme)
        self._state = named(QFrame(), "state")
        self._sentence = named(QLabel(), "intake state")
        self._state.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        row = QHBoxLayout(self._state)
        row.setContentsMargins(12, 7, 12, 7)
        row.addWidget(self._sentence)
        self._notes = muted_label("", small=True, name="intake notes")
        self._notes.setWordWrap(True)
        self._notes.setTextFormat(Qt.TextFormat.PlainText)
        self._empty = muted_label(EMPTY, name="intake empty")
        self._empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._empty.setWordWrap(True)
        self._stack = QStackedWidget()
        self._lay_out()

    def _lay_out(self) -> None:
        self._head = QWidget()
        head = QHBoxLayout(self._head)
        head.setContentsMargins(0, 0, 0, 0)
        head.setSpacing(8)
        head.addWidget(self.title, 1)
        head.addWidget(muted_label("serves"))
        head.addWidget(self.servings)
        frame = named(QFrame(), "panel")
        inner = QVBoxLayout(frame)
        inner.setContentsMargins(1, 1, 1, 1)
        inner.addWidget(self.view)
        self._content = QWidget()
        column = QVBoxLayout(self._content)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(10)
        column.addWidget(self._head)
        column.addWidget(self._state)
        column.addWidget(self.questions)
        column.addWidget(frame, 1)
        column.addWidget(self._notes)
        column.addStretch(0)
        self._lines = frame
        self._stack.addWidget(self._empty)
        self._stack.addWidget(self._content)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._stack)

    def show_intake(self, intake: Intake | None, questions: Sequence[tuple[Key, Question]]) -> None:
        """Show an intake and what is open in it; None for nothing read yet."""
        if intake is None or not (intake.lines or intake.title or intake.steps):
            self._stack.setCurrentWidget(self._empty)
            self.view.table.show_intake(None)
            self.questions.show_questions(())
            return
        self._stack.setCurrentWidget(self._content)
        for part in (self._head, self._lines):
            part.show()
        if " ".join(self.title.text().split()) != intake.title:
            self.title.setText(intake.title)
        if not self.servings.hasFocus():
            self.servings.setText(f"{intake.servings:g}" if intake.servings else "")
        self.view.table.show_intake(intake)
        self._say_state(len(questions))
        self.questions.show_questions(questions)
        self._fit()
        self._say_notes(intake)

    def ask_which(self, key: Key, sources: Sequence[Source]) -> None:
        """Ask which of several recipes is meant."""
        self._stack.setCurrentWidget(self._content)
        self.view.table.show_intake(None)
        for part in (self._head, self._lines, self._notes):
            part.hide()
        choices = tuple(
            Choice(
                words=source.title or f"Recipe {number}",
                detail=f"{len(source.lines)} ingredients",
            )
            for number, source in enumerate(sources, start=1)
        )
        question = Question(
            topic=Topic.LINE,
            words=f"This page holds {len(sources)} recipes. Which one is it?",
            choices=choices,
        )
        self._say_state(1)
        self.questions.show_questions(((key, question),))
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the questions what they need, the lines the rest."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        self.questions.fit(int(SHARE * self.height()))

    def _say_state(self, left: int) -> None:
        if left:
            several = f"{left} things to settle, what matters most first"
            self._sentence.setText(f"?  {several if left > 1 else '1 thing to settle'}")
        else:
            self._sentence.setText("✓  Nothing is open. Look the lines over, then add the recipe.")
        set_property(self._state, "state", "calm" if left else "good")
        restyle(self._sentence)

    def _say_notes(self, intake: Intake) -> None:
        notes = list(intake.notes)
        if intake.steps:
            count = len(intake.steps)
            notes.insert(0, f"The method is kept: {count} step{'s' if count > 1 else ''}.")
        shown = notes[:MOST_NOTES]
        if len(notes) > MOST_NOTES:
            shown.append(f"and {len(notes) - MOST_NOTES} more …")
        self._notes.setText("   ".join(shown))
        self._notes.setToolTip(plain_tip("\n".join([*notes, *intake.steps])))
        self._notes.setVisible(bool(shown))
