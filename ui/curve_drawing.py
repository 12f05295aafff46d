"""How a trade-off curve is drawn: line, corners, what stands out, and what is out of reach.

Import this when a curve is first shown: the plotting library takes its time to load.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final

import pyqtgraph as pg
from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainterPath, QPen
from PySide6.QtWidgets import QGraphicsPathItem

from reformulate import TradeOff, TradeOffPoint, curve_axis
from ui.label_places import joined, place_labels
from ui.theme import Theme

Place = tuple[float, float]

ROOM = 0.09
"""Room around all that is shown, as a fraction of what it spans [1]."""

FAINT = 0.4
"""How strong a curve is while a new one is worked out [1]."""

CORNER = 8
"""Size of a corner's dot [px]."""

MARKS: Final = {
    "knee": ("o", 15, "accent", "surface"),
    "corners": ("o", CORNER, "accent", "accent"),
    "original": ("d", 13, "muted", "surface"),
    "now": ("o", 10, "surface", "text"),
    "current": ("o", 19, "text", ""),
}
"""Marks from the lowest to the topmost: symbol, size [px], colour of the line, colour inside."""

OUT_OF_REACH = "out of reach"


class CurveDrawing:
    """The items of one plot; shapes and names say what colours say."""

    def __init__(self, view: Any, theme: Theme, font: QFont) -> None:
        self._theme, self._font = theme, font
        self._curve: TradeOff | None = None
        self._now: Place | None = None
        self._current = -1
        self.has_focus = False
        self._view = view
        self._plot = view.getPlotItem()
        self._box = self._plot.getViewBox()
        self._beyond = QGraphicsPathItem()
        self._line = pg.PlotCurveItem(antialias=True)
        self._dots = {name: pg.ScatterPlotItem(antialias=True, pxMode=True) for name in MARKS}
        self._labels: list[Any] = []
        self._set_up()

    def _set_up(self) -> None:
        self._plot.setMenuEnabled(False)
        self._plot.hideButtons()
        self._plot.showGrid(x=True, y=True, alpha=0.45)
        self._box.setMouseEnabled(x=False, y=False)
        self._box.disableAutoRange()
        for item in (self._beyond, self._line, *self._dots.values()):
            self._plot.addItem(item, ignoreBounds=True)
        for side in ("bottom", "left"):
            axis = self._plot.getAxis(side)
            axis.enableAutoSIPrefix(False)
            axis.setZValue(-1)  # the grid is the axis's, and goes under the curve
            axis.setStyle(tickFont=self._font, tickTextOffset=5, tickLength=-4)
        line = QFontMetricsF(self._font).height()
        self._plot.getAxis("bottom").setHeight(2 * line + 14)  # figures, and the name below them
        self._plot.layout.setContentsMargins(4, 8, 10, 2)
        self._box.sigResized.connect(self._place_labels)

    # What is drawn

    def show_curve(self, curve: TradeOff, now: Place | None) -> None:
        """Draw a curve, and where the present answer is; no corner is walked to."""
        self._curve, self._current = curve, -1
        for side, key, more in (
            ("bottom", curve.first, curve.first_more),
            ("left", curve.second, curve.second_more),
        ):
            words = curve_axis(key, curve.per)
            self._name_axis(side, f"{words} →" if more else f"← {words}")
        self._line.setData(
            [point.first for point in curve.points], [point.second for point in curve.points]
        )
        self.show_now(now)

    def show_now(self, now: Place | None) -> None:
        """Draw where the present answer is, and make room for it."""
        self._now = now
        self._fit()
        self._mark()
        self._place_labels()

    def set_current(self, point: int) -> None:
        """Ring a corner; -1 for none."""
        self._current = point
        self._mark()

    def set_faint(self, *, on: bool) -> None:
        """Draw the curve as one that belongs to what was before."""
        self._plot.setOpacity(FAINT if on else 1.0)

    def restyle(self) -> None:
        """Take the theme's colours."""
        colour = self._theme.colour
        self._view.setBackground(colour("surface"))
        for side in ("bottom", "left"):
            axis = self._plot.getAxis(side)
            axis.setPen(pg.mkPen(colour("line")))
            axis.setTickPen(pg.mkPen(colour("line")))
            axis.setTextPen(pg.mkPen(colour("muted")))
            self._name_axis(side, axis.labelText)
        self._line.setPen(pg.mkPen(colour("accent"), width=2))
        self._beyond.setPen(QPen(Qt.PenStyle.NoPen))
        self._beyond.setBrush(colour("window"))
        self._mark()
        self._place_labels()

    def px(self, place: Place) -> QPointF:
        """Return where a place of the curve is in the scene [px]."""
        at: QPointF = self._box.mapViewToScene(QPointF(*place))
        return at

    # How

    def _mark(self) -> None:
        """Draw all marks."""
        curve = self._curve
        if curve is None:
            return
        knee = [] if curve.knee is None else [curve.points[curve.knee]]
        current = [curve.points[self._current]] if self._current >= 0 else []
        places = {
            "knee": _places(knee),
            "corners": _places(curve.points),
            "original": [curve.original],
            "now": [self._now] if self._now else [],
            "current": _places(current),
        }
        hollow = pg.mkBrush(self._theme.colour("surface"))
        for name, (symbol, size, line, inside) in MARKS.items():
            brush = pg.mkBrush(self._theme.colour(inside)) if inside else pg.mkBrush(None)
            wide = 2.5 if name == "current" and self.has_focus else 1.5
            self._dots[name].setData(
                [place[0] for place in places[name]],
                [place[1] for place in places[name]],
                symbol=symbol,
                size=size,
                pen=pg.mkPen(self._theme.colour(line), width=wide),
                brush=[brush if point.keeps_swap_rules else hollow for point in curve.points]
                if name == "corners"
                else brush,
            )

    def _fit(self) -> None:
        """Show all of the curve, the original and the present answer."""
        curve = self._curve
        if curve is None:
            return
        places = [*_places(curve.points), curve.original, *([self._now] if self._now else [])]
        ranges = []
        for values in zip(*places, strict=True):
            low, high = min(values), max(values)
            room = ROOM * ((high - low) or max(abs(high), 1.0))
            ranges.append((low - room, high + room))
        across, up = ranges
        self._box.setRange(xRange=across, yRange=up, padding=0)
        self._shade(QRectF(QPointF(across[0], up[0]), QPointF(across[1], up[1])))

    def _shade(self, view: QRectF) -> None:
        """Shade what no recipe reaches: the better side of the curve."""
        curve, path = self._curve, QPainterPath()
        if curve is not None:
            x_worse, x_better = (view.left(), view.right())[:: 1 if curve.first_more else -1]
            y_worse, y_better = (view.top(), view.bottom())[:: 1 if curve.second_more else -1]
            corners = [QPointF(*place) for place in _places(curve.points)]
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
        if curve is None:
            return
        corners = [self.px(place) for place in _places(curve.points)]
        marks = [] if curve.knee is None else [("knee", corners[curve.knee])]
        if self._now:
            marks.append(("now", self.px(self._now)))
        marks = joined([*marks, ("original", self.px(curve.original))])
        inside = self._box.sceneBoundingRect()
        taken = place_labels([(at, self._size(name)) for name, at in marks], corners, inside)
        for (name, _), room in zip(marks, taken, strict=True):
            self._write(name, room, "text")
        room = QRectF(QPointF(inside.left() + 8, inside.top() + 6), self._size(OUT_OF_REACH))
        if curve.first_more:
            room.moveRight(inside.right() - 8)
        if not curve.second_more:
            room.moveBottom(inside.bottom() - 6)
        dots = [QRectF(at, QSizeF()).adjusted(-CORNER, -CORNER, CORNER, CORNER) for at in corners]
        clear = not any(room.intersects(other) for other in (*taken, *dots))
        if clear and self._beyond.path().contains(self._box.mapSceneToView(room).boundingRect()):
            self._write(OUT_OF_REACH, room, "muted")

    def _size(self, words: str) -> QSizeF:
        metrics = QFontMetricsF(self._font)
        return QSizeF(metrics.horizontalAdvance(words), metrics.height())

    def _write(self, words: str, room: QRectF, colour: str) -> None:
        label = pg.TextItem(words, color=self._theme.colour(colour), anchor=(0, 0))
        label.setFont(self._font)
        label.textItem.document().setDocumentMargin(0)
        self._plot.addItem(label, ignoreBounds=True)
        label.setPos(self._box.mapSceneToView(room.topLeft()))
        label.setZValue(20)
        self._labels.append(label)

    def _name_axis(self, side: str, words: str) -> None:
        size = f"{self._font.pointSizeF():.1f}pt"
        colour = self._theme.colour("muted").name()
        self._plot.getAxis(side).setLabel(words, **{"font-size": size, "color": colour})


def _places(points: Iterable[TradeOffPoint]) -> list[Place]:
    return [(point.first, point.second) for point in points]
