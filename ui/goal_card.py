"""One nutrient: its goal, its reach, what is achieved."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from math import ceil, floor, isfinite, log10

from PySide6.QtCore import QRegularExpression, QSize, Qt
from PySide6.QtGui import QAction, QActionGroup, QFont, QRegularExpressionValidator
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QMenu,
    QToolButton,
    QVBoxLayout,
)

from reformulate import Brief, Goal, Per
from ui.levels import Levels
from ui.reach_slider import ReachSlider, SliderState
from ui.session import Session
from ui.theme import Theme
from ui.widgets import muted_label, named, set_property, tool_button

SIDES = (
    ("no goal", (False, False)),
    ("at most", (False, True)),
    ("at least", (True, False)),
    ("between", (True, True)),
)
"""Words for which limits a goal has: (at_least, at_most)."""

TYPED = r"\d{0,7}(?:[.,]\d{0,3})?"
"""A limit as it may be typed: a validator for numbers drops the comma, or the point, by the system's
language, and makes 107 of 10,7."""

PER_WORDS = (
    (Per.SERVING, "per serving"),
    (Per.HUNDRED_GRAMS, "per 100 g"),
    (Per.ENERGY, "share of the energy"),
    (Per.ORIGINAL, "against the original"),
)

RANK_WORDS = ((0, "Must"), (1, "Wish, first"), (2, "Wish, second"), (3, "Wish, third"))
"""Musts come before wishes, and wishes in the order of their ranks."""

HEADROOMS = (0.0, 0.02, 0.05, 0.1)
"""Headrooms to choose from [1]."""


class GoalCard(QFrame):
    """A reach slider with its words; edits the brief through the session."""

    def __init__(self, session: Session, theme: Theme, nutrient_key: str) -> None:
        super().__init__()
        self.setObjectName("card")
        self._session = session
        self.key = nutrient_key
        self._levels: Levels | None = None
        self._top = 0.0
        self._drag = 0
        self._name = named(QLabel(), f"name {nutrient_key}")
        bold = QFont(self._name.font())
        bold.setBold(True)
        self._name.setFont(bold)
        self._mode = tool_button(f"mode {nutrient_key}")
        self._mode.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self._mode.setMenu(self._build_menu())
        self._mode.setFixedWidth(self._mode.fontMetrics().horizontalAdvance("between ▾") + 18)
        self._low = self._limit_edit("at_least")
        self._high = self._limit_edit("at_most")
        self._dash = muted_label("–")
        self._unit = muted_label("")
        self._achieved = named(QLabel(), f"achieved {nutrient_key}")
        self._achieved.setFont(bold)
        self._achieved.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.slider = ReachSlider(theme)
        self.slider.setObjectName(f"slider {nutrient_key}")
        self._reach = muted_label("", small=True, name=f"reach {nutrient_key}")
        self._original = muted_label("", small=True, name=f"original {nutrient_key}")
        self._lay_out()
        self.slider.moved.connect(self._on_moved)
        self.slider.released.connect(self._on_released)
        self.slider.cleared.connect(self._clear)

    # What is shown

    def show_levels(self, levels: Levels) -> None:
        """Show the goal, reach and levels of this card's nutrient."""
        before, self._levels = self._levels, levels
        if before is None or before.scale_key != levels.scale_key:
            self._top = _round_up(levels.scale)
        for limit in (levels.at_least, levels.at_most):
            if limit is not None and limit > self._top:
                self._top = _round_up(limit * 1.1)
        state = SliderState(
            top=self._top,
            step=10.0**-levels.decimals,
            reach_low=levels.reach_low,
            reach_high=levels.reach_high,
            original=levels.original,
            achieved=levels.achieved,
            at_least=levels.at_least,
            at_most=levels.at_most,
        )
        self.slider.set_state(state)
        self._show_words(levels, state)

    def _show_words(self, levels: Levels, state: SliderState) -> None:
        has = (levels.at_least is not None, levels.at_most is not None)
        word = next(word for word, sides in SIDES if sides == has)
        self._name.setText(levels.name)
        self._mode.setText(f"{word} ▾")
        set_property(self._mode, "quiet", word == "no goal")
        for edit, limit in ((self._low, levels.at_least), (self._high, levels.at_most)):
            edit.setVisible(limit is not None)
            if limit is not None and not edit.hasFocus():
                edit.setText(levels.write_limit(limit))
        self._dash.setVisible(all(has))
        self._unit.setVisible(any(has))
        self._unit.setText(levels.unit)
        mark = "" if not any(has) else "✓ " if levels.met else "! "
        self._achieved.setText(f"{mark}{levels.achieved_words}")
        set_property(self._achieved, "bad", any(has) and not levels.met)
        self._achieved.setToolTip(levels.unknown_words)
        far = [side for side in ("at_least", "at_most") if state.out_of_reach(side)]
        if far:
            beyond = levels.write_limit(getattr(levels, far[0]))
            self._reach.setText(f"{beyond} is out of reach: {levels.reach_words}")
        else:
            self._reach.setText(levels.goal_notes + levels.reach_words)
        set_property(self._reach, "bad", bool(far))
        self._original.setText(levels.original_words)
        self.slider.setAccessibleName(f"{levels.name} {levels.per_words}")
        self.slider.setAccessibleDescription(
            f"{word} {self._low.text() if has[0] else ''} {self._high.text() if has[1] else ''} "
            f"{levels.unit}; now {levels.achieved_words}; {self._reach.text()}; "
            f"{self._original.text()}"
        )
        self.slider.setToolTip(
            f"{levels.name} {levels.per_words}. Bar: reach. Diamond: original. Dot: now. "
            "Handle: your goal, its flag points where you allow it. Arrows move it, Delete removes it."
        )

    # Editing

    def _on_moved(self, side: str, value: float) -> None:
        levels = self._levels
        if levels is None:
            return

        def move(brief: Brief) -> Brief:
            goal = brief.goal_on(self.key) or Goal(nutrient=self.key, per=levels.per)
            if side == "at_least":
                return brief.with_goal(replace(goal, at_least=value))
            return brief.with_goal(replace(goal, at_most=value))

        self._session.edit_brief(
            move, f"Move {levels.name.lower()} goal", key=("goal", self.key, self._drag)
        )

    def _on_released(self) -> None:
        self._drag += 1

    def _clear(self) -> None:
        self._session.edit_brief(
            lambda brief: brief.without_goal(self.key), f"Remove {self._name.text().lower()} goal"
        )

    def _set_sides(self, sides: tuple[bool, bool]) -> None:
        levels = self._levels
        if levels is None:
            return
        if not any(sides):
            self._clear()
            return
        low, high = levels.at_least, levels.at_most
        now = round(levels.achieved, levels.decimals)
        step = 10.0**-levels.decimals
        if sides[0]:
            low = low if low is not None else max(0.0, now - (step if sides[1] else 0.0))
        if sides[1]:
            high = high if high is not None else max(now, low or 0.0) + (step if sides[0] else 0.0)
        goal = replace(
            levels.goal or Goal(nutrient=self.key, per=levels.per),
            at_least=low if sides[0] else None,
            at_most=high if sides[1] else None,
        )
        self._session.edit_brief(
            lambda brief: brief.with_goal(goal), f"Change {levels.name.lower()} goal"
        )

    def _set_per(self, per: Per, _checked: bool = True) -> None:
        """Keep the limits' meaning for the original: a limit moves with the original's level."""
        levels = self._levels
        if levels is None or per is levels.per:
            return
        goal = levels.converted(per)
        self._session.edit_brief(
            lambda brief: brief.with_goal(goal), f"Change unit of {levels.name.lower()} goal"
        )

    def _on_typed(self, side: str, edit: QLineEdit) -> None:
        levels = self._levels
        text = edit.text().strip().replace(",", ".")
        try:
            value = float(text)
        except ValueError:
            value = float("nan")
        if levels is None or not isfinite(value) or value < 0:
            if levels is not None:
                limit = getattr(levels, side)
                edit.setText("" if limit is None else levels.write_limit(limit))
            return
        self._on_released()
        self._on_moved(side, value)
        self._on_released()

    # Building

    def _limit_edit(self, side: str) -> QLineEdit:
        edit = named(QLineEdit(), f"{side} {self.key}")
        edit.setValidator(QRegularExpressionValidator(QRegularExpression(TYPED), edit))
        edit.setAlignment(Qt.AlignmentFlag.AlignRight)
        edit.setFixedWidth(edit.fontMetrics().horizontalAdvance("0000.0") + 10)
        edit.setAccessibleName(f"{side.replace('_', ' ')}")
        edit.editingFinished.connect(lambda: self._on_typed(side, edit))
        return edit

    def _build_menu(self) -> QMenu:
        menu = QMenu(self)
        for word, sides in SIDES:
            menu.addAction(word.capitalize(), partial(self._set_sides, sides))
        menu.addSeparator()
        units = QActionGroup(menu)
        for per, words in PER_WORDS:
            action = QAction(words, menu, checkable=True)
            action.setData(per)
            action.triggered.connect(partial(self._set_per, per))
            units.addAction(action)
            menu.addAction(action)
        menu.addSeparator()
        ranks = QActionGroup(menu)
        for rank, words in RANK_WORDS:
            self._add_choice(menu, ranks, words, {"rank": rank}, "Change rank")
        rooms = QActionGroup(menu)
        sub = menu.addMenu("Headroom")
        for room in HEADROOMS:
            words = f"{room * 100:g} %" if room else "None"
            self._add_choice(sub, rooms, words, {"headroom": room}, "Change headroom")
        menu.aboutToShow.connect(lambda: self._refresh_units(units))
        menu.aboutToShow.connect(lambda: self._refresh_choices(ranks, rooms))
        return menu

    def _add_choice(
        self, menu: QMenu, group: QActionGroup, words: str, change: dict[str, float], text: str
    ) -> None:
        action = QAction(words, menu, checkable=True)
        action.setData(change)
        action.triggered.connect(lambda: self._change_goal(change, text))
        group.addAction(action)
        menu.addAction(action)

    def _change_goal(self, change: dict[str, float], text: str) -> None:
        levels = self._levels
        if levels is None or levels.goal is None:
            return
        goal = replace(levels.goal, **change)  # type: ignore[arg-type]
        self._session.edit_brief(lambda brief: brief.with_goal(goal), text)

    def _refresh_choices(self, *groups: QActionGroup) -> None:
        goal = self._levels.goal if self._levels else None
        for group in groups:
            for action in group.actions():
                key, value = next(iter(action.data().items()))
                action.setChecked(goal is not None and getattr(goal, key) == value)
                action.setEnabled(goal is not None)

    def _refresh_units(self, units: QActionGroup) -> None:
        levels = self._levels
        for action in units.actions():
            per = Per(action.data())
            action.setChecked(levels is not None and levels.per is per)
            has_goal = levels is not None and levels.has_goal
            action.setEnabled(has_goal and levels is not None and levels.can_be(per))

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.setSpacing(4)
        self._name.setMinimumWidth(self._name.fontMetrics().horizontalAdvance("Saturated fat  "))
        for widget in (self._name, self._mode, self._low, self._dash, self._high, self._unit):
            top.addWidget(widget)
        top.addSpacing(8)
        top.addStretch(1)
        top.addWidget(self._achieved)
        bottom = QHBoxLayout()
        bottom.addWidget(self._reach)
        bottom.addStretch(1)
        bottom.addWidget(self._original)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(12, 3, 12, 4)
        layout.setSpacing(0)
        layout.addLayout(top)
        layout.addWidget(self.slider)
        layout.addLayout(bottom)

    def minimumSizeHint(self) -> QSize:
        """Wide enough for the longest row."""
        return QSize(340, super().minimumSizeHint().height())


def _round_up(value: float) -> float:
    """Return the next number of the form 1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8 times a power of ten."""
    if value <= 0 or not isfinite(value):
        return 1.0
    power = 10.0 ** floor(log10(value))
    for lead in (1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10):
        if value <= lead * power * (1 + 1e-9):
            return float(lead * power)
    return float(ceil(value))
