"""The trade-off curve, plotted: to be pointed at and walked along, a click loads a recipe.

Import this when the curve is first shown: the plotting library takes its time to load.
"""

from __future__ import annotations

from math import hypot

import pyqtgraph as pg
from PySide6.QtCore import QEvent, QObject, QPoint, QPointF, QRectF, QSizeF, Qt, Signal
from PySide6.QtGui import QFontMetricsF, QKeyEvent, QMouseEvent, QPainterPath, QPen
from PySide6.QtWidgets import QGraphicsPathItem, QVBoxLayout, QWidget

from reformulate import TradeOff, curve_axis
from ui.label_places import joined, place_labels
from ui.theme import Theme
from ui.widgets import SMALL, named, scaled_font

Place = tuple[float, float]

NEAR = 22.0
"""So near to a corner the pointer is at it [px]."""

ROOM = 0.09
"""Room around all that is shown, as a fraction of what it spans [1]."""

FAINT = 0.4
"""How strong a curve is while a new one is worked out [1]."""

CORNER, KNEE, CURRENT, ORIGINAL, NOW = 8, 15, 19, 13, 10
"""Sizes of the marks [px]."""


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
        self._now: Place | None = None
        self._current = -1
        self._faint = False
        self._small = scaled_font(self.font(), SMALL)
        self.view = named(pg.PlotWidget(), "trade-off plot")
        self._plot = self.view.getPlotItem()
        self._box = self._plot.getViewBox()
        self._line = pg.PlotCurveItem(antialias=True)
        self._dots = {
            name: pg.ScatterPlotItem(antialias=True, pxMode=True)
            for name in ("knee", "corners", "original", "now", "current")
        }
        self._beyond = QGraphicsPathItem()
        self._labels: list[object] = []
        self._set_up()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.view)
        theme.changed.connect(self._restyle)
        self._restyle()

    def _set_up(self) -> None:
        self._plot.setMenuEnabled(False)
        self._plot.hideButtons()
        self._plot.showGrid(x=True, y=True, alpha=0.6)
        self._box.setMouseEnabled(x=False, y=False)
        self._box.disableAutoRange()
        self._plot.addItem(self._beyond, ignoreBounds=True)
        for item in (self._line, *self._dots.values()):
            self._plot.addItem(item, ignoreBounds=True)
        for side in ("bottom", "left"):
            axis = self._plot.getAxis(side)
            axis.enableAutoSIPrefix(False)
            axis.setZValue(-1)  # the grid is the axis's, and goes under the curve
            axis.setStyle(tickFont=self._small, tickTextOffset=5, tickLength=-4)
        line = QFontMetricsF(self._small).height()
        self._plot.getAxis("bottom").setHeight(2 * line + 14)  # figures, and the name below them
        self._plot.layout.setContentsMargins(4, 8, 10, 2)
        self._box.sigResized.connect(self._place_labels)
        self.view.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setFocusProxy(self.view)
        self.view.setAccessibleName("Trade-off curve")
        self.view.installEventFilter(self)
        self.view.viewport().installEventFilter(self)

    # What is shown

    def show_curve(self, curve: TradeOff, now: Place | None) -> None:
        """Show a curve, and where the present answer is; no corner is walked to."""
        self._curve, self._now, self._current = curve, now, -1
        for side, key, more in (
            ("bottom", curve.first, curve.first_more),
            ("left", curve.second, curve.second_more),
        ):
            words = curve_axis(key, curve.per)
            self._label_axis(side, f"{words} →" if more else f"← {words}")
        self._plot_curve()
        self._fit()
        self._describe()

    def show_now(self, now: Place | None) -> None:
        """Show where the present answer is."""
        self._now = now
        self._fit()

    def set_current(self, point: int) -> None:
        """Ring a corner; -1 for none."""
        if point != self._current:
            self._current = point
            self._mark()
            self._describe()

    def set_faint(self, *, on: bool) -> None:
        """Show that the curve belongs to what was before; it cannot be chosen from meanwhile."""
        self._faint = on
        self._plot.setOpacity(FAINT if on else 1.0)

    def place_of(self, place: Place) -> QPoint:
        """Return where on the plot's viewport a place of the curve is [px]."""
        at: QPoint = self.view.mapFromScene(self._box.mapViewToScene(QPointF(*place)))
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
        if kind in (QEvent.Type.FocusIn, QEvent.Type.FocusOut):
            self._mark()
        return super().eventFilter(watched, event)

    def _on_key(self, key: Qt.Key) -> bool:
        if self._curve is None or not self._curve.points:
            return False
        rightwards = -1 if self._curve.first_more else 1
        last = len(self._curve.points) - 1
        left, right = (0, last) if rightwards > 0 else (last, 0)
        start = self._current if self._current >= 0 else None
        match key:
            case Qt.Key.Key_Left:
                self.pointed.emit(right if start is None else _within(start - rightwards, last))
            case Qt.Key.Key_Right:
                self.pointed.emit(left if start is None else _within(start + rightwards, last))
            case Qt.Key.Key_Home:
                self.pointed.emit(left)
            case Qt.Key.Key_End:
                self.pointed.emit(right)
            case Qt.Key.Key_Return | Qt.Key.Key_Enter if start is not None:
                self.chosen.emit(start)
            case _:
                return False
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
        return far.index(min(far)) if far and min(far) <= NEAR else -1

    # Painting

    def _plot_curve(self) -> None:
        curve = self._curve
        if curve is None:
            return
        first = [point.first for point in curve.points]
        second = [point.second for point in curve.points]
        self._line.setData(first, second)
        theme = self._theme
        hollow = [not point.keeps_swap_rules for point in curve.points]
        self._dots["corners"].setData(
            first,
            second,
            size=CORNER,
            pen=pg.mkPen(theme.colour("accent"), width=1.5),
            brush=[pg.mkBrush(theme.colour("surface" if empty else "accent")) for empty in hollow],
        )
        self._mark()

    def _mark(self) -> None:
        """Draw what stands out: the knee, the original, the present answer, the corner walked to."""
        curve, colour = self._curve, self._theme.colour
        if curve is None:
            return
        knee = [] if curve.knee is None else [curve.points[curve.knee]]
        current = [curve.points[self._current]] if self._current >= 0 else []
        now = [] if self._now is None else [self._now]
        width = 2.5 if self.view.hasFocus() else 1.5
        for name, places, symbol, size, pen, fill in (
            ("knee", _places(knee), "o", KNEE, pg.mkPen(colour("accent"), width=1.5), "surface"),
            (
                "original",
                [curve.original],
                "d",
                ORIGINAL,
                pg.mkPen(colour("muted"), width=1.5),
                "surface",
            ),
            ("now", now, "o", NOW, pg.mkPen(colour("surface"), width=1.5), "text"),
            (
                "current",
                _places(current),
                "o",
                CURRENT,
                pg.mkPen(colour("text"), width=width),
                None,
            ),
        ):
            self._dots[name].setData(
                [place[0] for place in places],
                [place[1] for place in places],
                symbol=symbol,
                size=size,
                pen=pen,
                brush=pg.mkBrush(None) if fill is None else pg.mkBrush(colour(fill)),
            )

    def _fit(self) -> None:
        """Show all of the curve, the original and the present answer."""
        curve = self._curve
        if curve is None:
            return
        places = [*_places(curve.points), curve.original, *([self._now] if self._now else [])]
        ranges = []
        for axis in (0, 1):
            values = [place[axis] for place in places]
            low, high = min(values), max(values)
            room = ROOM * ((high - low) or max(abs(high), 1.0))
            ranges.append((low - room, high + room))
        self._box.setRange(xRange=ranges[0], yRange=ranges[1], padding=0)
        self._shade(
            QRectF(QPointF(ranges[0][0], ranges[1][0]), QPointF(ranges[0][1], ranges[1][1]))
        )
        self._mark()
        self._place_labels()

    def _shade(self, view: QRectF) -> None:
        """Shade what no recipe reaches: the better side of the curve."""
        curve, path = self._curve, QPainterPath()
        if curve is not None and curve.points:
            x_worse, x_better = (view.left(), view.right())[:: 1 if curve.first_more else -1]
            y_worse, y_better = (view.top(), view.bottom())[:: 1 if curve.second_more else -1]
            corners = [QPointF(point.first, point.second) for point in curve.points]
            path.moveTo(corners[0].x(), y_worse)
            for corner in corners:
                path.lineTo(corner)
            path.lineTo(x_worse, corners[-1].y())
            path.lineTo(x_worse, y_better)
            path.lineTo(x_better, y_better)
            path.lineTo(x_better, y_worse)
            path.closeSubpath()
        self._beyond.setPath(path)

    def _place_labels(self, *_from_box: object) -> None:
        """Name the marks, and the side that is out of reach."""
        for label in self._labels:
            self._plot.removeItem(label)
        self._labels = []
        curve = self._curve
        if curve is None or not curve.points:
            return
        corners = [self._px(place) for place in _places(curve.points)]
        marks = [("knee", corners[curve.knee])] if curve.knee is not None else []
        if self._now:
            marks.append(("now", self._px(self._now)))
        marks = joined([*marks, ("original", self._px(curve.original))])
        metrics, inside = QFontMetricsF(self._small), self._box.sceneBoundingRect()
        sizes = [QSizeF(metrics.horizontalAdvance(name), metrics.height()) for name, _ in marks]
        places = [(place, size) for (_, place), size in zip(marks, sizes, strict=True)]
        taken = place_labels(places, corners, inside)
        for (name, _), room in zip(marks, taken, strict=True):
            self._write(name, room, "text")
        words = "out of reach"
        size = QSizeF(metrics.horizontalAdvance(words), metrics.height())
        room = QRectF(QPointF(inside.left() + 8, inside.top() + 6), size)
        if curve.first_more:
            room.moveRight(inside.right() - 8)
        if not curve.second_more:
            room.moveBottom(inside.bottom() - 6)
        if not any(room.intersects(other) for other in taken) and self._is_beyond(room):
            self._write(words, room, "muted")

    def _is_beyond(self, room: QRectF) -> bool:
        """Return whether a rectangle [px] lies in what is shaded."""
        inside: QRectF = self._box.mapSceneToView(room).boundingRect()
        return self._beyond.path().contains(inside)

    def _write(self, words: str, room: QRectF, colour: str) -> None:
        label = pg.TextItem(words, color=self._theme.colour(colour), anchor=(0, 0))
        label.setFont(self._small)
        label.textItem.document().setDocumentMargin(0)
        self._plot.addItem(label, ignoreBounds=True)
        label.setPos(self._box.mapSceneToView(room.topLeft()))
        label.setZValue(20)
        self._labels.append(label)

    def _px(self, place: Place) -> QPointF:
        at: QPointF = self._box.mapViewToScene(QPointF(*place))
        return at

    def _label_axis(self, side: str, words: str) -> None:
        size = f"{self._small.pointSizeF():.1f}pt"
        colour = self._theme.colour("muted").name()
        self._plot.getAxis(side).setLabel(words, **{"font-size": size, "color": colour})

    def _restyle(self) -> None:
        """Take the theme's colours."""
        colour = self._theme.colour
        self.view.setBackground(colour("surface"))
        self.view.setStyleSheet(
            "QGraphicsView { border: 1px solid transparent; border-radius: 4px; }"
            f"QGraphicsView:focus {{ border: 1px solid {colour('accent').name()}; }}"
        )
        for side in ("bottom", "left"):
            axis = self._plot.getAxis(side)
            axis.setPen(pg.mkPen(colour("line")))
            axis.setTickPen(pg.mkPen(colour("line")))
            axis.setTextPen(pg.mkPen(colour("muted")))
        self._line.setPen(pg.mkPen(colour("accent"), width=2))
        self._beyond.setPen(QPen(Qt.PenStyle.NoPen))
        self._beyond.setBrush(colour("window"))
        if self._curve is not None:
            current = self._current
            self.show_curve(self._curve, self._now)
            self.set_current(current)

    def _describe(self) -> None:
        curve = self._curve
        if curve is None:
            return
        at = "" if self._current < 0 else f" Point {self._current + 1} of {len(curve.points)}."
        self.view.setAccessibleDescription(
            f"{curve_axis(curve.first, curve.per)} against {curve_axis(curve.second, curve.per)}."
            f"{at} Left and Right walk along the curve, Enter loads a point."
        )


def _places(points: object) -> list[Place]:
    return [(point.first, point.second) for point in points]  # type: ignore[attr-defined]


def _within(point: int, last: int) -> int:
    return min(max(point, 0), last)
