"""Which two quantities are traded off, which way each is better, and per what."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QHBoxLayout,
    QSizePolicy,
    QToolButton,
    QWidget,
)

from reformulate import (
    CHANGE,
    CHARACTER,
    COST,
    NUTRIENTS,
    Brief,
    Per,
    curve_name,
    more_is_better,
)
from ui.choice_box import ChoiceBox
from ui.widgets import muted_label, named, tool_button

LEAST_CHOICE, USUAL_CHOICE = 9, 16
"""Least and usual width of a choice [characters]."""

BUTTON = 36
"""What a choice adds to its text [px]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """Two quantities to be traded off."""

    first: str
    second: str
    per: Per
    more: frozenset[str]
    """Those of the two of which more is better."""


class TradeOffChoice(QWidget):
    """Two choices of quantity, each with the way it is better, and the whole they are counted in."""

    changed = Signal()
    """Another pair, or another way, was chosen."""

    def __init__(self) -> None:
        super().__init__()
        self._brief = Brief()
        self._shown: tuple[str, ...] = ()
        self._chosen: tuple[str, str] | None = None
        self._per: Per | None = None
        self._ways: dict[str, bool] = {}
        self._boxes = tuple(self._box(side) for side in ("first", "second"))
        self._arrows = tuple(self._arrow(side) for side in ("first", "second"))
        self._whole = tool_button("trade-off per")
        self._whole.setToolTip("Count both per serving or per 100 g of the finished dish")
        self._whole.clicked.connect(self._change_per)
        self._halves = tuple(
            self._half(words, box, arrow)
            for words, box, arrow in zip(("", "against"), self._boxes, self._arrows, strict=True)
        )
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(12, 4, 12, 0)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(2)
        self._grid.setColumnStretch(2, 1)
        self._is_wide: bool | None = None
        self._place(wide=True)

    @property
    def pair(self) -> Pair:
        """What is chosen."""
        first, second = self._keys()
        per = self._brief.shown_per if self._per is None else self._per
        if per not in (Per.SERVING, Per.HUNDRED_GRAMS) or CHANGE in (first, second):
            per = Per.SERVING
        more = frozenset(key for key in (first, second) if self._more(key))
        return Pair(first=first, second=second, per=per, more=more)

    def follow(self, brief: Brief) -> None:
        """Offer the quantities of a brief; what the user chose stays chosen."""
        self._brief = brief
        if brief.shown != self._shown:
            self._shown = brief.shown
            for box in self._boxes:
                self._fill(box)
        self._refresh()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Stand in one row where that fits, else in two."""
        super().resizeEvent(event)
        self._place(wide=self.width() >= self._widths()[0])

    def minimumSizeHint(self) -> QSize:
        """Two rows are narrow enough anywhere."""
        return QSize(self._widths()[1], super().minimumSizeHint().height())

    def choose(self, first: str, second: str) -> None:
        """Trade one quantity off against another."""
        self._chosen = (first, second)
        self._refresh()
        self.changed.emit()

    def _keys(self) -> tuple[str, str]:
        """Return the two chosen, else what the brief is about: its goals, then energy and protein."""
        if self._chosen:
            return self._chosen
        goals = [goal.nutrient for goal in self._brief.goals]
        keys = list(dict.fromkeys([*goals, "energy_kcal", "protein_g"]))
        return keys[0], keys[1]

    def _more(self, key: str) -> bool:
        if key == CHANGE:
            return False
        return self._ways.get(key, more_is_better(key, self._brief))

    def _refresh(self) -> None:
        pair = self.pair
        for key, box, arrow in zip(
            (pair.first, pair.second), self._boxes, self._arrows, strict=True
        ):
            box.setCurrentIndex(box.findData(key))
            more = key in pair.more
            arrow.setText("↑ more" if more else "↓ less")
            arrow.setEnabled(key != CHANGE)
            way = "More" if more else "Less"
            arrow.setAccessibleName(f"{way} {curve_name(key).lower()} is better")
            arrow.setToolTip(f"{way} is better. Press to turn it round.")
        self._whole.setText(f"{'per serving' if pair.per is Per.SERVING else 'per 100 g'} ⇄")
        self._whole.setEnabled(CHANGE not in (pair.first, pair.second))

    def _on_chosen(self, side: int) -> None:
        keys = list(self._keys())
        chosen = str(self._boxes[side].currentData())
        if chosen == keys[1 - side]:  # both the same is no pair: they change places
            keys.reverse()
        else:
            keys[side] = chosen
        self.choose(keys[0], keys[1])

    def _turn(self, side: int) -> None:
        key = self._keys()[side]
        self._ways[key] = not self._more(key)
        self._refresh()
        self.changed.emit()

    def _change_per(self) -> None:
        is_serving = self.pair.per is Per.SERVING
        self._per = Per.HUNDRED_GRAMS if is_serving else Per.SERVING
        self._refresh()
        self.changed.emit()

    def _fill(self, box: QComboBox) -> None:
        """Offer what the brief shows, then all other nutrients, character, cost, and change."""
        nutrients = [kind.key for kind in NUTRIENTS]
        character = [kind.key for kind in CHARACTER]
        shown = list(self._shown)
        rest = [key for key in nutrients if key not in shown]
        groups = (
            shown,
            rest,
            [key for key in character if key not in shown],
            [key for key in (COST.key, CHANGE) if key not in shown],
        )
        box.clear()
        for group in groups:
            if group and box.count():
                box.insertSeparator(box.count())
            for key in group:
                box.addItem("Change" if key == CHANGE else curve_name(key), key)

    def _box(self, side: str) -> QComboBox:
        box = named(ChoiceBox(), f"trade-off {side}")
        box.setAccessibleName(f"{side.capitalize()} quantity to trade off")
        box.setMinimumContentsLength(USUAL_CHOICE)
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        box.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        box.setMinimumWidth(LEAST_CHOICE * box.fontMetrics().averageCharWidth() + BUTTON)
        box.setMaxVisibleItems(16)
        number = 0 if side == "first" else 1
        box.activated.connect(lambda _index: self._on_chosen(number))
        return box

    def _half(self, words: str, box: QComboBox, arrow: QToolButton) -> QWidget:
        half = QWidget()
        row = QHBoxLayout(half)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(4)
        if words:
            row.addWidget(muted_label(words))
        row.addWidget(box)
        row.addWidget(arrow)
        return half

    def _widths(self) -> tuple[int, int]:
        """Return what one row takes, and what two take [px]."""
        first, second = (half.minimumSizeHint().width() for half in self._halves)
        whole = self._whole.sizeHint().width()
        margins = self._grid.contentsMargins()
        around = margins.left() + margins.right() + 3 * self._grid.horizontalSpacing()
        return first + second + whole + around, max(first + whole, second) + around

    def _place(self, *, wide: bool) -> None:
        if wide == self._is_wide:
            return
        self._is_wide = wide
        first, second = self._halves
        self._grid.addWidget(first, 0, 0)
        if wide:
            self._grid.addWidget(second, 0, 1)
        else:
            self._grid.addWidget(second, 1, 0, 1, 3)
        self._grid.addWidget(self._whole, 0, 3)

    def _arrow(self, side: str) -> QToolButton:
        arrow = tool_button(f"trade-off way {side}")
        number = 0 if side == "first" else 1
        arrow.clicked.connect(lambda: self._turn(number))
        return arrow
