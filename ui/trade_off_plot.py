"""The trade-off curve, plotted: to be pointed at and walked along, a click loads a recipe."""

from __future__ import annotations

from math import hypot

import pyqtgraph as pg
from PySide6.QtCore import QEvent, QObject, QPoint, QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from reformulate import TradeOff, curve_axis
from ui.curve_drawing import CurveDrawing, Place
from ui.theme import Theme
from ui.widgets import SMALL, named, scaled_font

NEAR = 22.0
"""So near to a corner the pointer is at it [px]."""


class TradeOffPlot(QWidget):
    """Corners as dots, the knee ringed, the original a diamond, the present answer a round dot."""

    pointed = Signal(int)
    """The pointer, or an arrow key, is at the corner of this number."""
    chosen = Signal(int)
    """The corner of this number was clicked, or Enter pressed at it."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._curve: TradeOff | None = None
        self._current = -1
        self._faint = False
        self.view = named(pg.PlotWidget(), "trade-off plot")
        self.drawing = CurveDrawing(self.view, theme, scaled_font(self.font(), SMALL))
        self.view.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setFocusProxy(self.view)
        self.view.setAccessibleName("Trade-off curve")
        self.view.installEventFilter(self)
        self.view.viewport().installEventFilter(self)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.view)
        theme.changed.connect(self._restyle)
        self._restyle()

    # What is shown

    def show_curve(self, curve: TradeOff, now: Place | None) -> None:
        """Show a curve, and where the present answer is; no corner is walked to."""
        self._curve, self._current = curve, -1
        self.drawing.show_curve(curve, now)
        self.view.setAccessibleDescription(
            f"{curve_axis(curve.first, curve.per)} against {curve_axis(curve.second, curve.per)}. "
            "Left and Right walk along the curve, Enter loads a point."
        )

    def set_current(self, point: int, words: str = "") -> None:
        """Ring a corner, -1 for none; ``words`` say it to whoever cannot see it."""
        self._current = point
        self.drawing.set_current(point)
        self.view.setAccessibleDescription(words)

    def set_faint(self, *, on: bool) -> None:
        """Show that the curve belongs to what was before; it cannot be pointed at meanwhile."""
        self._faint = on
        self.drawing.set_faint(on=on)

    def place_of(self, place: Place) -> QPoint:
        """Return where on the plot's viewport a place of the curve is [px]."""
        at: QPoint = self.view.mapFromScene(self.drawing.px(place))
        return at

    # Pointing and walking

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow the pointer and the arrow keys."""
        kind = event.type()
        if kind is QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            return self._on_key(Qt.Key(event.key()))
        if isinstance(event, QMouseEvent) and watched is self.view.viewport():
            point = self._point_at(event.position())
            if kind is QEvent.Type.MouseMove:
                self._on_moved(point)
            if kind is QEvent.Type.MouseButtonPress:
                self.view.setFocus()
                if point >= 0 and event.button() == Qt.MouseButton.LeftButton:
                    self.pointed.emit(point)
                    self.chosen.emit(point)
                return True
        if kind in (QEvent.Type.FocusIn, QEvent.Type.FocusOut) and watched is self.view:
            self.drawing.has_focus = kind is QEvent.Type.FocusIn
            self.drawing.set_current(self._current)
        return super().eventFilter(watched, event)

    def _on_key(self, key: Qt.Key) -> bool:
        """Walk to the right or left of the curve as it is drawn; None walked to yet: from its end."""
        curve = self._curve
        if curve is None:
            return False
        last = len(curve.points) - 1
        left, right = (last, 0) if curve.first_more else (0, last)
        step = -1 if curve.first_more else 1
        none = self._current < 0
        match key:
            case Qt.Key.Key_Left:
                point = right if none else self._current - step
            case Qt.Key.Key_Right:
                point = left if none else self._current + step
            case Qt.Key.Key_Home:
                point = left
            case Qt.Key.Key_End:
                point = right
            case Qt.Key.Key_Return | Qt.Key.Key_Enter if not none:
                self.chosen.emit(self._current)
                return True
            case _:
                return False
        self.pointed.emit(min(max(point, 0), last))
        return True

    def _on_moved(self, point: int) -> None:
        hand = Qt.CursorShape.PointingHandCursor if point >= 0 else Qt.CursorShape.ArrowCursor
        self.view.viewport().setCursor(hand)
        if point >= 0 and point != self._current:
            self.pointed.emit(point)

    def _point_at(self, position: QPointF) -> int:
        """Return which corner is under the pointer, or -1."""
        if self._curve is None or self._faint:
            return -1
        far = []
        for point in self._curve.points:
            at = self.place_of((point.first, point.second))
            far.append(hypot(at.x() - position.x(), at.y() - position.y()))
        return far.index(min(far)) if min(far) <= NEAR else -1

    def _restyle(self) -> None:
        accent = self._theme.colour("accent").name()
        self.view.setStyleSheet(
            "QGraphicsView { border: 1px solid transparent; border-radius: 4px; }"
            f"QGraphicsView:focus {{ border: 1px solid {accent}; }}"
        )
        self.drawing.restyle()
