"""The trade-off view: the curve of two quantities, its numbers beside it, and what it means below."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import partial
from importlib import import_module

from PySide6.QtCore import Qt
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from reformulate import (
    Batch,
    Brief,
    FoodTable,
    TradeOff,
    Unbounded,
    curve_is_known,
    curve_level,
    curve_unknown_sentence,
    knee_sentence,
    trade_off,
    unbounded_sentence,
    with_point,
)
from ui.curve_pages import CurvePages
from ui.follower import REST, Follower
from ui.session import Session
from ui.theme import Theme
from ui.trade_off_choice import Pair, TradeOffChoice
from ui.trade_off_words import TradeOffWords
from ui.work import Progress, Work

WORKING = "Working out the curve …"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """All that a curve depends on: the same of these is the same curve."""

    batch: Batch
    limits: Brief
    """The brief without the musts on the two quantities, which a curve leaves out."""
    pair: Pair
    brief: Brief = field(compare=False)


class TradeOffView(QScrollArea):
    """Worked out only while it is on screen, on another thread; the last curve stays meanwhile."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__()
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._session = session
        self._curve: TradeOff | None = None
        self._current = -1
        self._follower = Follower(self._work, "trade-off", self)
        self.worker, self._progress = self._follower.worker, self._follower.progress
        self.choice = TradeOffChoice()
        self.pages = CurvePages(theme, WORKING)
        self.words = TradeOffWords(self._progress)
        self._lay_out()
        self._connect()

    def _connect(self) -> None:
        self.choice.changed.connect(self._on_chosen)
        self.pages.pointed.connect(self._walk_to)
        self.pages.chosen.connect(self._load)
        self._follower.began.connect(self._on_began)
        self._follower.given_up.connect(self._on_given_up)
        self._follower.done.connect(self._on_done)
        self._follower.failed.connect(lambda words: self._drop(f"No curve: {words}"))
        self._session.answer_changed.connect(self._on_answer)
        self._session.current_changed.connect(self._on_answer)

    # What is asked for

    def showEvent(self, event: QShowEvent) -> None:
        """Begin to follow the brief."""
        super().showEvent(event)
        self._refresh()

    def hideEvent(self, event: QHideEvent) -> None:
        """Leave off: nobody looks."""
        super().hideEvent(event)
        self._follower.leave_off()

    def _asked(self) -> _Asked | None:
        batch, document = self._session.batch, self._session.document
        if batch is None or document is None or self._session.answer is None:
            return None
        pair, brief = self.choice.pair, document.brief
        goals = tuple(
            goal
            for goal in brief.goals
            if goal.is_wish or goal.nutrient not in (pair.first, pair.second)
        )
        limits = replace(brief, goals=goals)
        return _Asked(batch=batch, limits=limits, pair=pair, brief=brief)

    def _on_answer(self) -> None:
        if self._session.document is not None:
            self.choice.follow(self._session.document.brief)
        if self.isVisible():
            self._refresh()

    def _on_chosen(self) -> None:
        if self.isVisible():
            self._refresh(rest=0)

    def _refresh(self, *, rest: int = REST) -> None:
        """Show what is asked for, at once if it is what is shown, else after a rest."""
        asked, shown = self._asked(), self._follower.shown
        if asked is None:
            self._follower.forget()
            self._drop("There is nothing to trade off until the problems above are solved.")
            return
        if shown is not None and asked.batch is not shown.batch:
            self._follower.forget()
            self._drop(WORKING)
        self._show_now()
        self._set_faint(on=asked != shown)
        if asked == shown:
            self._follower.leave_off()
            self.words.show_curve(self._curve, self._current)
        else:
            self._follower.want(asked, rest=rest if self._curve else 0)

    def _work(self, asked: _Asked) -> Work:
        return partial(_work_out, asked, self._session.foods)

    def _on_began(self) -> None:
        if self._curve is None:
            self.pages.say(WORKING)

    def _on_given_up(self) -> None:
        if self._curve is None:
            self.pages.say("Given up: no curve is worked out.")
        else:
            self.words.say_given_up()

    # What came of it

    def _on_done(self, result: object) -> None:
        if not isinstance(result, TradeOff):
            self._drop(str(result))
        elif not result.points:
            self._drop(knee_sentence(result))
        elif not curve_is_known(result):
            self._drop(curve_unknown_sentence(result))
        else:
            self._show_curve(result)

    def _drop(self, words: str) -> None:
        """Show words in the place of a curve."""
        self._curve, self._current = None, -1
        self.pages.say(words)
        self.words.show_curve(None, -1)

    def _show_curve(self, curve: TradeOff) -> None:
        self._curve, self._current = curve, -1
        self.pages.show_curve(curve, self._now())
        self.words.show_curve(curve, -1)
        self.words.set_faint(on=False)

    def _now(self) -> tuple[float, float] | None:
        """Return where the present answer is on the curve shown."""
        answer, curve = self._session.answer, self._curve
        if answer is None or curve is None:
            return None
        first, second = (
            curve_level(key, curve.per, answer.grams, answer.items, answer.original.servings)
            for key in (curve.first, curve.second)
        )
        return first, second

    def _show_now(self) -> None:
        if self._curve is not None:
            self.pages.show_now(self._curve, self._now())

    def _set_faint(self, *, on: bool) -> None:
        """Show a curve of what was before as such: to be seen, not to be loaded from."""
        faint = on and self._curve is not None
        self.pages.set_faint(on=faint)
        self.words.set_faint(on=faint)

    # Walking along it

    @property
    def is_current(self) -> bool:
        """True while the curve shown is that of the brief on screen."""
        return self._curve is not None and self._follower.shown == self._asked()

    def _walk_to(self, point: int) -> None:
        self._current = point
        self.pages.set_current(point, self.words.show_point(point))

    def _load(self, point: int) -> None:
        curve = self._curve
        if curve is None or not self.is_current:
            return
        chosen = curve.points[point]
        self._session.edit_brief(
            lambda brief: with_point(brief, curve, chosen), "Load point of the curve"
        )

    def _lay_out(self) -> None:
        inner = QWidget()
        layout = QVBoxLayout(inner)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(6)
        layout.addWidget(self.choice)
        layout.addWidget(self.pages, 1)
        layout.addWidget(self.words)
        self.setWidget(inner)


def _work_out(asked: _Asked, foods: FoodTable, progress: Progress) -> TradeOff | str:
    """Return a curve, or why there is none; loads the plotting library on the way."""
    import_module("pyqtgraph")
    pair = asked.pair
    try:
        return trade_off(
            asked.batch,
            asked.brief,
            foods,
            pair.first,
            pair.second,
            per=pair.per,
            more=pair.more,
            progress=progress,
        )
    except Unbounded as error:
        return unbounded_sentence(error, pair.first, pair.second)
