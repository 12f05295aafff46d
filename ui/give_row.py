"""One limit of the What gives view, on a card."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QLabel

from reformulate import GiveWords
from ui.phrases import in_a_row, sentence_case
from ui.widgets import heading, muted_label


class GiveRow(QFrame):
    """One limit: what is asked, how far it stays true, one step and what moves with it."""

    def __init__(self, words: GiveWords) -> None:
        super().__init__()
        self.setObjectName("card")
        self.words = words
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(str(words))
        asked = heading(sentence_case(words.asked))
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


def _impossible(words: GiveWords) -> str:
    return sentence_case(words.true)
