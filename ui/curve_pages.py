"""A trade-off curve as plot and table side by side, or words in its place."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGraphicsOpacityEffect, QSplitter, QStackedWidget

from reformulate import TradeOff
from ui.theme import Theme
from ui.trade_off_table import FRAME, PADDING, CurveTableView
from ui.widgets import muted_label

if TYPE_CHECKING:
    from ui.trade_off_plot import TradeOffPlot

NARROW = 36
"""Where the plot would be narrower the table stands under it [average characters]."""

LEAST_HEIGHT = 11
"""Least height of plot and table [lines of text]."""

FAINT = 0.45
"""How strong the numbers of a curve are while a new one is worked out [1]."""


class CurvePages(QStackedWidget):
    """Asks for no more room than it needs: other sentences come first, then a large plot."""

    pointed = Signal(int)
    """The point of this number is pointed at, in the plot or the table."""
    chosen = Signal(int)
    """The point of this number is to be loaded."""

    def __init__(self, theme: Theme, words: str) -> None:
        super().__init__()
        self._theme = theme
        self.plot: TradeOffPlot | None = None
        """Made when there is a curve to show: the plotting library takes its time to load."""
        self.table = CurveTableView()
        self.table.pointed.connect(self.pointed)
        self.table.chosen.connect(self.chosen)
        self._dim = QGraphicsOpacityEffect(self.table)
        self._dim.setOpacity(FAINT)
        self._dim.setEnabled(False)
        self.table.setGraphicsEffect(self._dim)
        self._split = QSplitter()
        self._split.setChildrenCollapsible(False)
        self._split.setHandleWidth(9)
        self._split.addWidget(self.table)
        self.message = muted_label(words, name="trade-off message")
        self.message.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.message.setWordWrap(True)
        self.message.setMargin(24)
        self.addWidget(self.message)
        self.addWidget(self._split)
        theme.changed.connect(self._restyle)
        self._restyle()

    def say(self, words: str) -> None:
        """Show words in the place of a curve."""
        self.message.setText(words)
        self.setCurrentWidget(self.message)
        self.set_faint(on=False)

    def show_curve(self, curve: TradeOff, now: tuple[float, float] | None) -> None:
        """Show a curve, and where the present answer is; no point is walked to."""
        self.table.show_curve(curve, now)
        plot = self.plot or self._make_plot()
        if self._is_narrow() != (self._split.orientation() is Qt.Orientation.Vertical):
            self._share_room()
        plot.show_curve(curve, now)
        self.setCurrentWidget(self._split)
        self.set_faint(on=False)

    def show_now(self, curve: TradeOff, now: tuple[float, float] | None) -> None:
        """Show where the present answer is."""
        self.table.show_now(curve, now)
        if self.plot is not None:
            self.plot.drawing.show_now(now)

    def set_current(self, point: int, words: str) -> None:
        """Mark the point of a number, -1 for none; ``words`` say it."""
        if point >= 0:
            self.table.set_current(point)
        if self.plot is not None:
            self.plot.set_current(point, words)

    def set_faint(self, *, on: bool) -> None:
        """Show the curve as one of what was before."""
        self._dim.setEnabled(on)
        if self.plot is not None:
            self.plot.set_faint(on=on)

    def sizeHint(self) -> QSize:
        """Return the least size."""
        return self.minimumSize().expandedTo(QSize(0, 1))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the table beside the plot, or under it where that is too narrow."""
        super().resizeEvent(event)
        self._share_room()

    def changeEvent(self, event: QEvent) -> None:
        """Take the room another text size needs."""
        super().changeEvent(event)
        if event.type() is QEvent.Type.FontChange:
            self._share_room()

    def _make_plot(self) -> TradeOffPlot:
        from ui.trade_off_plot import TradeOffPlot  # noqa: PLC0415 - loads its library when needed

        self.plot = plot = TradeOffPlot(self._theme)
        plot.pointed.connect(self.pointed)
        plot.chosen.connect(self.chosen)
        self._split.insertWidget(0, plot)
        self._split.setStretchFactor(0, 1)
        self._split.setStretchFactor(1, 0)
        self._share_room()
        return plot

    def _is_narrow(self) -> bool:
        left = self.width() - self.table.minimumWidth()
        return left < NARROW * self.fontMetrics().averageCharWidth()

    def _share_room(self) -> None:
        """Give the table what it needs and the plot the rest, or each half one above the other."""
        narrow = self._is_narrow()
        self._split.setOrientation(Qt.Orientation.Vertical if narrow else Qt.Orientation.Horizontal)
        line = self.fontMetrics().lineSpacing()
        self.setMinimumHeight((2 if narrow else 1) * LEAST_HEIGHT * line)
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
            f"QHeaderView::section {{ padding: 3px {PADDING + FRAME}px; }}"
        )
