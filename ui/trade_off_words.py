"""What stands below a trade-off curve: the point walked to, the knee, and how exact it all is."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from reformulate import (
    CHANGE,
    TradeOff,
    curve_unknown_sentence,
    exactness_sentence,
    knee_sentence,
    moved_words,
    point_words,
)
from ui.phrases import in_a_row
from ui.progress_row import ProgressRow
from ui.widgets import heading, muted_label, named

LINES, MORE_LINES = 2, 4
"""Lines of text kept for the recipe of a point, usually and where they are short [count]."""

SHORT = 62
"""Below this many average characters lines are short [count]."""

HINT = (
    "Point at a corner, or walk along the curve with the arrow keys, to see its recipe. "
    "A click or Enter loads it."
)
HOLLOW = "They are hollow, and marked *."
CHANGE_WORDS = (
    "Change adds up how far every line is from the original, in percent of what it weighs."
)


class TradeOffWords(QWidget):
    """Keeps its height while points are walked through, so that nothing above it moves."""

    def __init__(self, progress: ProgressRow) -> None:
        super().__init__()
        self._curve: TradeOff | None = None
        self._moves: tuple[str, ...] = ()
        self._point = heading("", name="trade-off point")
        self._point.setWordWrap(True)
        self._recipe = named(QLabel(), "trade-off recipe")
        self._recipe.setWordWrap(True)
        self._recipe.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self._knee = named(QLabel(), "trade-off knee")
        self._knee.setWordWrap(True)
        self._exact = muted_label("", small=True, name="trade-off exactness")
        self._exact.setWordWrap(True)
        foot = QHBoxLayout()
        foot.setSpacing(8)
        foot.addWidget(self._exact, 1)
        foot.addWidget(progress)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(12, 0, 12, 8)
        layout.setSpacing(4)
        for label in (self._point, self._recipe, self._knee):
            layout.addWidget(label)
        layout.addLayout(foot)

    def show_curve(self, curve: TradeOff | None, point: int) -> None:
        """Say all there is to say of a curve and the point of a number, -1 for none."""
        self._curve = curve
        if curve is None:
            for label in (self._point, self._recipe, self._knee, self._exact):
                label.clear()
            return
        self._knee.setText(knee_sentence(curve))
        words = (
            exactness_sentence(curve),
            "" if all(point.keeps_swap_rules for point in curve.points) else HOLLOW,
            curve_unknown_sentence(curve),
            CHANGE_WORDS if CHANGE in (curve.first, curve.second) else "",
        )
        self._exact.setText(" ".join(filter(None, words)))
        self.show_point(point)

    def show_point(self, point: int) -> str:
        """Say the levels and the recipe of a point, as far as there is room; return all of it."""
        curve = self._curve
        if curve is None:
            return ""
        if point < 0:
            self._moves = ()
            self._point.setText("No point chosen")
            self._recipe.setText(HINT)
            self._recipe.setToolTip("")
            return HINT
        at = curve.points[point]
        self._moves = moved_words(curve.items, at.grams)
        place = point_words(curve, at, finer=1)
        self._point.setText(f"Point {point + 1} of {len(curve.points)}: {place}")
        self._recipe.setText(self._fitted(self._moves))
        self._recipe.setToolTip("\n".join(self._moves))
        return f"{self._point.text()}. {', '.join(self._moves)}"

    def say_given_up(self) -> None:
        """Say that the curve above is an old one."""
        self._exact.setText("Given up. The curve shown belongs to the brief before.")

    def set_faint(self, *, on: bool) -> None:
        """Show that all of it belongs to what was before."""
        for label in (self._point, self._recipe, self._knee):
            label.setEnabled(not on)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take the room there is."""
        super().resizeEvent(event)
        metrics = self._recipe.fontMetrics()
        short = self.width() < SHORT * metrics.averageCharWidth()
        self._recipe.setFixedHeight((MORE_LINES if short else LINES) * metrics.lineSpacing() + 2)
        if self._moves:
            self._recipe.setText(self._fitted(self._moves))

    def _fitted(self, moves: Sequence[str]) -> str:
        """Return as many of the moves as there is room for, the largest first."""
        words = "Nothing changes."
        metrics, flags = self._recipe.fontMetrics(), int(Qt.TextFlag.TextWordWrap)
        room = QRect(0, 0, max(self._recipe.width(), 100), 10_000)
        for count in range(len(moves), 0, -1):
            left = len(moves) - count
            rest = [f"{left} smaller change{'' if left == 1 else 's'}"] if left else []
            words = in_a_row([*moves[:count], *rest])
            if metrics.boundingRect(room, flags, words).height() <= self._recipe.height():
                break
        return words
