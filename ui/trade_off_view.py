"""The trade-off view: the curve of two quantities, its numbers beside it, and what it means below."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from importlib import import_module
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSize, Qt, QTimer
from PySide6.QtGui import QHideEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QFrame,
    QGraphicsOpacityEffect,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

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
from ui.progress_row import ProgressRow
from ui.session import Session
from ui.theme import Theme
from ui.trade_off_choice import Pair, TradeOffChoice
from ui.trade_off_table import PADDING, CurveTableView
from ui.trade_off_words import TradeOffWords
from ui.widgets import muted_label
from ui.work import Progress, Worker

if TYPE_CHECKING:
    from ui.trade_off_plot import TradeOffPlot

REST = 120
"""What is asked for has to rest this long [ms] before a curve is worked out anew."""

NARROW = 62
"""Below this many average characters of width the table stands under the plot [count]."""

LEAST_HEIGHT = 11
"""Least height of plot and table [lines of text]; where there is less, the view scrolls."""

FAINT = 0.45
"""How strong the numbers of a curve are while a new one is worked out [1]."""

WORKING = "Working out the curve …"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """All that a curve depends on: the same of these is the same curve."""

    batch: Batch
    brief: Brief
    pair: Pair


class TradeOffView(QScrollArea):
    """Worked out only while it is on screen, on another thread; the last curve stays meanwhile."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__()
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._session, self._theme = session, theme
        self._curve: TradeOff | None = None
        self._shown: _Asked | None = None
        self._wanted: _Asked | None = None
        self._current = -1
        self.worker = Worker(self)
        self.choice = TradeOffChoice()
        self.plot: TradeOffPlot | None = None
        self.table = CurveTableView()
        self._split = QSplitter()
        self._split.setChildrenCollapsible(False)
        self._split.setHandleWidth(9)
        self._split.addWidget(self.table)
        self._message = muted_label(WORKING, name="trade-off message")
        self._message.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._message.setWordWrap(True)
        self._message.setMargin(24)
        self._pages = _Pages()
        self._pages.addWidget(self._message)
        self._pages.addWidget(self._split)
        self._progress = ProgressRow(self.worker, "trade-off")
        self.words = TradeOffWords(self._progress)
        self._dim = QGraphicsOpacityEffect(self.table)
        self._dim.setOpacity(FAINT)
        self._dim.setEnabled(False)
        self.table.setGraphicsEffect(self._dim)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.timeout.connect(self._begin)
        self._lay_out()
        self._connect()
        self._restyle()

    def _connect(self) -> None:
        self.choice.changed.connect(self._on_chosen)
        self.table.pointed.connect(self._walk_to)
        self.table.chosen.connect(self._load)
        self.worker.done.connect(self._on_done)
        self.worker.failed.connect(self._on_failed)
        self._progress.cancelled.connect(self._on_cancelled)
        self._progress.again.connect(self._begin)
        self._theme.changed.connect(self._restyle)
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
        self._leave_off()

    def _asked(self) -> _Asked | None:
        batch, document = self._session.batch, self._session.document
        if batch is None or document is None or self._session.answer is None:
            return None
        pair, brief = self.choice.pair, document.brief
        # The musts on the two quantities themselves are left out of the curve, and so is the manner.
        goals = tuple(
            goal
            for goal in brief.goals
            if goal.is_wish or goal.nutrient not in (pair.first, pair.second)
        )
        return _Asked(batch=batch, brief=replace(brief, goals=goals), pair=pair)

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
        asked = self._asked()
        if asked is None:
            self._leave_off()
            self._drop("There is nothing to trade off until the problems above are solved.")
            return
        if self._shown is not None and asked.batch is not self._shown.batch:
            self._drop(WORKING)
        if asked == self._shown:
            self._leave_off()
            self._show_now()
            self._set_faint(on=False)
            self.words.show_curve(self._curve, self._current)
            return
        self._show_now()
        self._set_faint(on=True)
        if asked != self._wanted:
            self.worker.cancel()
            self._wanted = asked
            self._progress.forget()
            self._rest.start(rest if self._curve else 0)

    def _begin(self) -> None:
        document, asked = self._session.document, self._wanted
        if document is None or asked is None:
            return
        if self._curve is None:
            self._message.setText(WORKING)
        self.worker.start(
            partial(_work_out, asked.batch, document.brief, self._session.foods, asked.pair)
        )

    def _leave_off(self) -> None:
        self._rest.stop()
        self.worker.cancel()
        self._wanted = None
        self._progress.forget()

    def _on_cancelled(self) -> None:
        if self._curve is None:
            self._message.setText("Given up: no curve is worked out.")
        else:
            self.words.say_given_up()

    # What came of it

    def _on_done(self, result: object) -> None:
        self._shown, self._wanted = self._wanted, None
        if not isinstance(result, TradeOff):
            self._drop(str(result), keep=self._shown)
        elif not result.points:
            self._drop(knee_sentence(result), keep=self._shown)
        elif not curve_is_known(result):
            self._drop(curve_unknown_sentence(result), keep=self._shown)
        else:
            self._show_curve(result)

    def _on_failed(self, words: str) -> None:
        self._shown, self._wanted = self._wanted, None
        self._drop(f"No curve: {words}", keep=self._shown)

    def _drop(self, words: str, *, keep: _Asked | None = None) -> None:
        """Show words in the place of a curve; ``keep`` is what they are the answer to."""
        self._shown, self._curve, self._current = keep, None, -1
        self._message.setText(words)
        self._pages.setCurrentWidget(self._message)
        self.words.show_curve(None, -1)
        self._set_faint(on=False)

    def _show_curve(self, curve: TradeOff) -> None:
        self._curve, self._current = curve, -1
        now = self._now()
        self.table.show_curve(curve, now)
        plot = self.plot or self._make_plot()
        plot.show_curve(curve, now)
        self._pages.setCurrentWidget(self._split)
        self.words.show_curve(curve, -1)
        self._set_faint(on=False)

    def _make_plot(self) -> TradeOffPlot:
        from ui.trade_off_plot import TradeOffPlot  # noqa: PLC0415 - loads its library when needed

        self.plot = plot = TradeOffPlot(self._theme)
        plot.pointed.connect(self._walk_to)
        plot.chosen.connect(self._load)
        self._split.insertWidget(0, plot)
        self._split.setStretchFactor(0, 1)
        self._split.setStretchFactor(1, 0)
        self._share_room()
        return plot

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
        if self._curve is not None and self.plot is not None:
            now = self._now()
            self.plot.drawing.show_now(now)
            self.table.show_now(self._curve, now)

    def _set_faint(self, *, on: bool) -> None:
        """Show a curve of what was before as such: to be seen, not to be loaded from."""
        faint = on and self._curve is not None
        if self.plot is not None:
            self.plot.set_faint(on=faint)
        self._dim.setEnabled(faint)
        self.words.set_faint(on=faint)

    # Walking along it

    @property
    def is_current(self) -> bool:
        """True while the curve shown is that of the brief on screen."""
        return self._curve is not None and self._shown is not None and self._shown == self._asked()

    def _walk_to(self, point: int) -> None:
        self._current = point
        words = self.words.show_point(point)
        if point >= 0:
            self.table.set_current(point)
        if self.plot is not None:
            self.plot.set_current(point, words)

    def _load(self, point: int) -> None:
        curve = self._curve
        if curve is None or not self.is_current:
            return
        chosen = curve.points[point]
        self._session.edit_brief(
            lambda brief: with_point(brief, curve, chosen), "Load point of the curve"
        )

    # Looks

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the table beside the plot, or under it where that is too narrow."""
        super().resizeEvent(event)
        self._share_room()

    def changeEvent(self, event: QEvent) -> None:
        """Take the room another text size needs."""
        super().changeEvent(event)
        if event.type() is QEvent.Type.FontChange:
            self._share_room()

    def _share_room(self) -> None:
        """Give the table what it needs and the plot the rest, or each half one above the other."""
        narrow = self.width() < NARROW * self.fontMetrics().averageCharWidth()
        self._split.setOrientation(Qt.Orientation.Vertical if narrow else Qt.Orientation.Horizontal)
        line = self.fontMetrics().lineSpacing()
        self._pages.setMinimumHeight((2 if narrow else 1) * LEAST_HEIGHT * line)
        if self.plot is not None:
            whole = self._split.height() if narrow else self._split.width()
            table = whole // 2 if narrow else self.table.minimumWidth()
            self._split.setSizes([whole - table, table])

    def _restyle(self) -> None:
        line, surface, accent = (
            self._theme.colour(name).name() for name in ("line", "surface", "accent")
        )
        self.table.setStyleSheet(
            f"QTableView {{ border: 1px solid {surface}; border-radius: 4px; }}"
            f"QTableView:focus {{ border: 1px solid {accent}; }}"
            f"QTableView::item {{ padding: 0 {PADDING}px; border-bottom: 1px solid {line}; }}"
            f"QHeaderView::section {{ padding: 3px {PADDING}px; }}"
        )

    def _lay_out(self) -> None:
        inner = QWidget()
        layout = QVBoxLayout(inner)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(6)
        layout.addWidget(self.choice)
        layout.addWidget(self._pages, 1)
        layout.addWidget(self.words)
        self.setWidget(inner)


class _Pages(QStackedWidget):
    """Asks for no more than it needs: the sentences below come first, then a large plot."""

    def sizeHint(self) -> QSize:
        """Return the least size."""
        return self.minimumSize().expandedTo(QSize(0, 1))


def _work_out(
    batch: Batch, brief: Brief, foods: FoodTable, pair: Pair, progress: Progress
) -> TradeOff | str:
    """Return a curve, or why there is none; loads the plotting library on the way."""
    import_module("pyqtgraph")
    try:
        return trade_off(
            batch,
            brief,
            foods,
            pair.first,
            pair.second,
            per=pair.per,
            more=pair.more,
            progress=progress,
        )
    except Unbounded as error:
        return unbounded_sentence(error, pair.first, pair.second)
