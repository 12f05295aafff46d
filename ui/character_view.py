"""Taste and texture: eight predictors, original beside now, and what holds each."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from reformulate import (
    CHARACTER,
    MEANING,
    BadInput,
    Brief,
    CharacterHold,
    CharacterLevel,
    character_change_words,
    character_of,
    quantity_named,
)
from ui.help import PREDICTORS
from ui.hold_words import read_character_hold, write_character_hold
from ui.session import Session
from ui.theme import Theme
from ui.widgets import heading, muted_label, named, set_property

WIDEST = 0.6
"""Change that fills a bar [1]."""

MARKED = 0.1
"""From here a change can be tasted, as a rule of thumb [1]: it is written bold."""


class CharacterView(QScrollArea):
    """One row a predictor; the hold is typed in."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__()
        self.setObjectName("character")
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self._session = session
        self._rows = tuple(_Row(session, theme, kind.key) for kind in CHARACTER)
        inner = QWidget()
        grid = QGridLayout(inner)
        grid.setContentsMargins(12, 6, 12, 8)
        grid.setHorizontalSpacing(14)
        grid.setVerticalSpacing(2)
        for column, words in enumerate(("", "Original", "Now", "Change", "", "Hold")):
            label = muted_label(words, small=True)
            if column in (1, 2, 5):
                label.setAlignment(Qt.AlignmentFlag.AlignRight)
            grid.addWidget(label, 0, column)
        for number, row in enumerate(self._rows, start=1):
            row.put(grid, number)
        grid.setColumnStretch(0, 1)
        self._about = muted_label(PREDICTORS, small=True)
        self._about.setWordWrap(True)
        grid.addWidget(self._about, len(self._rows) + 1, 0, 1, 6)
        grid.setRowStretch(len(self._rows) + 2, 1)
        self.setWidget(inner)
        session.answer_changed.connect(self._refresh)
        session.current_changed.connect(self._refresh)

    def _refresh(self) -> None:
        answer = self._session.answer
        self.setEnabled(answer is not None)
        if answer is None:
            return
        for row, found in zip(self._rows, character_of(answer), strict=True):
            row.show_level(found)


class _Row:
    """The widgets of one predictor, in one row of the grid."""

    def __init__(self, session: Session, theme: Theme, key: str) -> None:
        self._session, self._key = session, key
        self._level: CharacterLevel | None = None
        kind = quantity_named(key)
        self._name = heading(kind.name)
        self._meaning = muted_label(MEANING[key], small=True)
        self._meaning.setWordWrap(True)
        self._evidence = muted_label("", small=True, name=f"evidence {key}")
        self._original = muted_label("", name=f"original {key}")
        self._now = named(QLabel(), f"now {key}")
        self._change = named(QLabel(), f"change {key}")
        self._bar = ChangeBar(theme)
        self._hold = named(QLineEdit(), f"hold {key}")
        self._hold.setAccessibleName(f"Hold on {kind.spoken}")
        self._hold.setToolTip("free, ± 10 %, 0.8–1.2, ≥ 0.8 or ≤ 1.2 (per 100 g)")
        self._hold.setAlignment(Qt.AlignmentFlag.AlignRight)
        self._hold.setFixedWidth(self._hold.fontMetrics().horizontalAdvance("10.25–12.25") + 14)
        self._hold.editingFinished.connect(self._on_typed)
        for label in (self._original, self._now, self._change):
            label.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)

    def put(self, grid: QGridLayout, number: int) -> None:
        """Place the widgets in a row of the grid."""
        words = QVBoxLayout()
        words.setSpacing(0)
        words.setContentsMargins(0, 3, 0, 3)
        top = QHBoxLayout()
        top.setSpacing(8)
        top.addWidget(self._name)
        top.addWidget(self._evidence, 0, Qt.AlignmentFlag.AlignBottom)
        top.addStretch(1)
        words.addLayout(top)
        words.addWidget(self._meaning)
        grid.addLayout(words, number, 0)
        for column, widget in enumerate(
            (self._original, self._now, self._bar, self._change, self._hold), start=1
        ):
            grid.addWidget(widget, number, column, Qt.AlignmentFlag.AlignVCenter)

    def show_level(self, found: CharacterLevel) -> None:
        """Show a predictor of the answer."""
        self._level = found
        kind = quantity_named(self._key)
        least = "≥ " if found.at_least else ""
        self._original.setText(f"{found.original:.{kind.decimals}f}")
        self._now.setText(f"{least}{found.now:.{kind.decimals}f} {kind.unit}")
        self._change.setText(character_change_words(found.change))
        font = self._change.font()
        font.setBold(abs(found.change) >= MARKED)
        self._change.setFont(font)
        set_property(self._now, "bad", not found.kept)
        self._bar.show_change(found.change)
        self._evidence.setText("" if found.firm else "weaker evidence")
        self._evidence.setToolTip(
            "" if found.firm else "Most of this rests on figures from memory, not published ones."
        )
        if not self._hold.hasFocus():
            self._hold.setText(write_character_hold(found.hold))

    def _on_typed(self) -> None:
        text, level = self._hold.text(), self._level
        if level is None or text == write_character_hold(level.hold):
            return
        try:
            new = read_character_hold(self._key, text)
        except BadInput as error:
            self._session.refused.emit(error)
            self._hold.setText(write_character_hold(level.hold))
            return
        self._session.edit_brief(
            lambda brief: with_character_hold(brief, self._key, new), f"Hold {self._key}"
        )


class ChangeBar(QWidget):
    """A change as a bar from the middle: to the right more, to the left less."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme, self._change = theme, 0.0
        theme.changed.connect(self.update)

    def show_change(self, change: float) -> None:
        """Show a relative change [1]."""
        if change != self._change:
            self._change = change
            self.update()

    def sizeHint(self) -> QSize:
        """Return room for a bar."""
        return QSize(90, self.fontMetrics().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the middle and the bar."""
        painter = QPainter(self)
        middle, high = self.width() / 2, self.height()
        painter.fillRect(QRectF(middle, 2, 1, high - 4), self._theme.colour("line"))
        share = max(-1.0, min(1.0, self._change / WIDEST))
        colour = self._theme.colour("more" if share > 0 else "less")
        length = share * (middle - 1)
        painter.fillRect(QRectF(min(middle, middle + length), high / 2 - 4, abs(length), 8), colour)
        painter.end()


class CharacterStrip(QFrame):
    """The eight predictors in one line: how each moved; a click shows them in full."""

    opened = Signal()

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.setObjectName("character strip")
        self._session = session
        self._cells: dict[str, QLabel] = {}
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 3, 12, 3)
        row.setSpacing(6)
        for kind in CHARACTER:
            cell = QVBoxLayout()
            cell.setSpacing(0)
            value = named(QLabel(), f"strip {kind.key}")
            value.setToolTip(MEANING[kind.key])
            cell.addWidget(muted_label(kind.name.lower(), small=True))
            cell.addWidget(value)
            row.addLayout(cell, 1)
            self._cells[kind.key] = value
        session.answer_changed.connect(self._refresh)
        session.current_changed.connect(self._refresh)

    def _refresh(self) -> None:
        answer = self._session.answer
        if answer is None:
            return
        for found in character_of(answer):
            cell = self._cells[found.key]
            cell.setText(character_change_words(found.change))
            font = cell.font()
            font.setBold(abs(found.change) >= MARKED)
            cell.setFont(font)
            set_property(cell, "bad", not found.kept)

    def mousePressEvent(self, _event: QMouseEvent) -> None:
        """Show the predictors in full."""
        self.opened.emit()


def with_character_hold(brief: Brief, key: str, hold: CharacterHold | None) -> Brief:
    """Return a copy in which ``hold`` is the only hold on a property; None frees it."""
    old = [h for h in brief.holds if isinstance(h, CharacterHold) and h.quality == key]
    if hold is None:
        return replace(brief, holds=tuple(h for h in brief.holds if h not in old))
    if old:
        return replace(brief, holds=tuple(hold if h is old[0] else h for h in brief.holds))
    return replace(brief, holds=(*brief.holds, hold))
