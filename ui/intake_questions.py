"""What is open about a recipe on its way in, one card a question, answered by a click or by typing."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import pairwise

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QApplication,
    QFrame,
    QLineEdit,
    QScrollArea,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from reformulate import Choice, Question, Topic
from ui.intake_flow import FlowLayout
from ui.phrases import plain_tip
from ui.widgets import SMALL, heading, muted_label, named, scaled_font, tool_button

Key = tuple[Topic, str, int, int]
"""What a question is about: topic, line as written, which of its foods, and how often before."""

_TYPED = {
    Topic.AMOUNT: "or type: 1/2 cup, 120 g",
    Topic.SERVINGS: "or type a number",
    Topic.TITLE: "a title",
}
_PADDING = 9


class ChoiceButton(QToolButton):
    """An answer on offer, and beside it what follows from it."""

    def __init__(self, choice: Choice) -> None:
        super().__init__()
        self.choice = choice
        self.setProperty("way", True)
        self.setAccessibleName(
            f"{choice.words}, {choice.detail}" if choice.detail else choice.words
        )
        self.setToolTip(plain_tip(self.accessibleName()))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def sizeHint(self) -> QSize:
        """Return room for both texts."""
        words, detail = self._widths()
        height = self.fontMetrics().height() + 10
        return QSize(words + detail + 2 * _PADDING + (8 if detail else 0), height)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the frame, the answer in the colour of links, the rest quietly."""
        super().paintEvent(event)
        painter = QPainter(self)
        room = QRectF(self.rect()).adjusted(_PADDING, 0, -_PADDING, 0)
        middle = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
        words, _ = self._widths()
        # The style sheet's palette of a button knows no quiet colour.
        palette = QApplication.palette()
        painter.setPen(palette.link().color())
        text = self.fontMetrics().elidedText(
            self.choice.words, Qt.TextElideMode.ElideRight, int(room.width())
        )
        painter.drawText(room, middle, text)
        if self.choice.detail:
            painter.setFont(scaled_font(self.font(), SMALL))
            painter.setPen(palette.placeholderText().color())
            left = room.adjusted(words + 8, 0, 0, 0)
            detail = painter.fontMetrics().elidedText(
                self.choice.detail, Qt.TextElideMode.ElideRight, int(left.width())
            )
            painter.drawText(left, middle, detail)
        painter.end()

    def _widths(self) -> tuple[int, int]:
        small = QFontMetrics(scaled_font(self.font(), SMALL))
        detail = small.horizontalAdvance(self.choice.detail) + 2 if self.choice.detail else 0
        return self.fontMetrics().horizontalAdvance(self.choice.words) + 1, detail


class QuestionCard(QFrame):
    """One question with its answers."""

    answered = Signal(object, object)
    """The Question and the Choice taken."""
    typed = Signal(object, str)
    """The Question and what was typed."""
    search_wanted = Signal(object)
    """The Question whose food is to be searched for."""

    def __init__(self, question: Question) -> None:
        super().__init__()
        self.setObjectName("card")
        self.question = question
        self._words = heading("", name="question")
        self._words.setWordWrap(True)
        self._why = muted_label("", small=True, name="question why")
        self._why.setWordWrap(True)
        for label in (self._words, self._why):
            label.setTextFormat(Qt.TextFormat.PlainText)
        self._answers = QWidget()
        self._flow = FlowLayout(self._answers)
        self.field = named(QLineEdit(), "question field")
        self.field.returnPressed.connect(self._on_typed)
        self.search = tool_button("question search", "Search all foods …")
        self.search.setProperty("way", True)
        self.search.clicked.connect(lambda: self.search_wanted.emit(self.question))
        self.buttons: list[ChoiceButton] = []
        layout = QVBoxLayout(self)
        layout.setContentsMargins(12, 8, 12, 10)
        layout.setSpacing(3)
        layout.addWidget(self._words)
        layout.addWidget(self._why)
        layout.addSpacing(2)
        layout.addWidget(self._answers)
        self._build()

    def show_question(self, question: Question) -> None:
        """Show another state of the same question; what is being typed stays."""
        if question != self.question:
            same = question.choices == self.question.choices
            self.question = question
            if not same:
                self._build()
            else:
                self._say()

    def focus(self) -> None:
        """Let the keyboard answer."""
        (self.buttons[0] if self.buttons else self.field).setFocus(Qt.FocusReason.TabFocusReason)

    def _say(self) -> None:
        self._words.setText(self.question.words)
        self._why.setText(self.question.why)
        self._why.setVisible(bool(self.question.why))

    def _build(self) -> None:
        self._say()
        while self._flow.count():
            self._flow.takeAt(0)
        for old in self.buttons:
            old.deleteLater()
        self.buttons = [ChoiceButton(choice) for choice in self.question.choices]
        for button in self.buttons:
            button.clicked.connect(partial(self._on_clicked, button))
            self._flow.addWidget(button)
            button.show()  # not first when the event loop comes to it: the height is wanted now
        topic = self.question.topic
        self.search.setFixedHeight(self.search.fontMetrics().height() + 10)
        self.search.setVisible(topic is Topic.FOOD)
        self.field.setVisible(topic in _TYPED)
        self.field.setPlaceholderText(_TYPED.get(topic, ""))
        self.field.setAccessibleName(f"{self.question.words} {_TYPED.get(topic, '')}")
        width = self.field.fontMetrics().horizontalAdvance(self.field.placeholderText()) + 24
        self.field.setFixedSize(width, self.field.fontMetrics().height() + 10)
        # Leaving a line out is the last resort: it stands after typing and searching.
        out = [button for button in self.buttons if button.choice.leaves_out]
        last = out[0] if out and self.buttons.index(out[0]) == len(self.buttons) - 1 else None
        if last is not None:
            self._flow.removeWidget(last)
        for widget in (self.search, self.field, *([last] if last else [])):
            self._flow.addWidget(widget)
        order = [item.widget() for i in range(self._flow.count()) if (item := self._flow.itemAt(i))]
        for one, other in pairwise(order):
            if one is not None and other is not None:
                QWidget.setTabOrder(one, other)

    def _on_clicked(self, button: ChoiceButton, _checked: bool = False) -> None:
        self.answered.emit(self.question, button.choice)

    def _on_typed(self) -> None:
        if self.field.text().strip():
            self.typed.emit(self.question, self.field.text())


class QuestionCards(QWidget):
    """All that is open, most consequential first."""

    answered = Signal(object, object)
    typed = Signal(object, str)
    search_wanted = Signal(object)
    all_answered = Signal()
    """The last question was answered, with the keyboard in it."""

    def __init__(self) -> None:
        super().__init__()
        self._cards: dict[Key, QuestionCard] = {}
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self._inner = QWidget()
        self._column = QVBoxLayout(self._inner)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(8)
        self._column.addStretch(1)
        self._scroll = named(QScrollArea(), "questions")
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setWidget(self._inner)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._scroll)

    @property
    def cards(self) -> tuple[QuestionCard, ...]:
        """The cards in their order."""
        return tuple(self._cards.values())

    def show_questions(self, questions: Sequence[tuple[Key, Question]]) -> None:
        """Show what is open; a card that stays open keeps what is typed into it."""
        focus = self.window().focusWidget()
        had_focus = focus is not None and self.isAncestorOf(focus)
        old, self._cards = self._cards, {}
        for place, (key, question) in enumerate(questions):
            card = old.pop(key, None)
            if card is None:
                card = QuestionCard(question)
                card.answered.connect(self.answered)
                card.typed.connect(self.typed)
                card.search_wanted.connect(self.search_wanted)
            else:
                card.show_question(question)
            self._cards[key] = card
            if self._column.indexOf(card) != place:
                self._column.removeWidget(card)
                self._column.insertWidget(place, card)
                card.show()
        for card in old.values():
            self._column.removeWidget(card)
            card.hide()
            card.deleteLater()
        self.setVisible(bool(self._cards))
        if old and had_focus and self._cards:
            self.cards[0].focus()
            self._scroll.verticalScrollBar().setValue(0)
        elif old and had_focus:
            self.all_answered.emit()

    def ensure_visible(self, card: QuestionCard) -> None:
        """Scroll to a card."""
        self._scroll.ensureWidgetVisible(card)

    def fit(self, most: int) -> None:
        """Take the height that the cards need, up to ``most`` [px]."""
        wanted = self._column.totalHeightForWidth(max(self._scroll.viewport().width(), 1))
        self._scroll.setFixedHeight(max(min(wanted, most), 1))
