"""The reach slider: groove with the reach painted on it, original, achieved, and goal handles."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QBrush,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QWidget

from ui.theme import Theme

MARGIN = 9
HANDLE_WIDTH, HANDLE_HEIGHT = 8, 20
GROOVE = 8
PAGE = 10


@dataclass(frozen=True, slots=True, kw_only=True)
class SliderState:
    """All that a reach slider shows, in the unit of the goal."""

    top: float = 1.0
    """Right end of the groove; the left end is 0."""
    step: float = 1.0
    """Distance of one arrow key."""
    reach_low: float = 0.0
    reach_high: float = 0.0
    original: float = 0.0
    achieved: float = 0.0
    at_least: float | None = None
    at_most: float | None = None

    def out_of_reach(self, side: str) -> bool:
        """Return whether nothing within the reach keeps a limit, half a step allowed."""
        slack = self.step * 0.5
        if side == "at_least":
            return self.at_least is not None and self.at_least > self.reach_high + slack
        return self.at_most is not None and self.at_most < self.reach_low - slack


class ReachSlider(QWidget):
    """Drag a handle, or anywhere on the groove; arrows, page keys, Home and End move it too."""

    moved = Signal(str, float)
    """(side, value): the goal's ``at_least`` or ``at_most`` as the handle passes over it."""
    released = Signal()
    """The handle was let go."""
    cleared = Signal()
    """Delete was pressed: no goal any more."""

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._theme = theme
        self._state = SliderState()
        self._side = "at_most"
        self._dragging = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        theme.changed.connect(self.update)

    @property
    def state(self) -> SliderState:
        """What is shown."""
        return self._state

    def set_state(self, state: SliderState) -> None:
        """Show ``state``."""
        if state == self._state:
            return
        self._state = state
        if not self._dragging and getattr(state, self._side) is None:
            self._side = (
                "at_least" if state.at_most is None and state.at_least is not None else "at_most"
            )
        self.update()

    def sizeHint(self) -> QSize:
        """Wide, and as high as a handle with its focus ring."""
        return QSize(240, HANDLE_HEIGHT + 4)

    def minimumSizeHint(self) -> QSize:
        """Still usable at half the width."""
        return QSize(120, HANDLE_HEIGHT + 4)

    def x_of(self, value: float) -> float:
        """Return where a value stands on the groove [px]."""
        share = min(max(value / self._state.top, 0.0), 1.0)
        return MARGIN + share * (self.width() - 2 * MARGIN)

    def value_at(self, x: float) -> float:
        """Return the value at a place on the groove, in whole steps."""
        share = min(max((x - MARGIN) / max(1, self.width() - 2 * MARGIN), 0.0), 1.0)
        return self._snapped(share * self._state.top)

    # Mouse

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take the nearer handle, or set a first goal on the side of what is achieved."""
        if event.button() != Qt.MouseButton.LeftButton:
            return
        x = event.position().x()
        value = self.value_at(x)
        low, high = self._state.at_least, self._state.at_most
        if low is not None and high is not None:
            nearer_low = abs(self.x_of(low) - x) < abs(self.x_of(high) - x)
            self._side = "at_least" if nearer_low else "at_most"
        elif low is None and high is None:
            self._side = "at_most" if value <= self._state.achieved else "at_least"
        else:
            self._side = "at_least" if high is None else "at_most"
        self._dragging = True
        self._move_to(value)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Follow the pointer."""
        if self._dragging:
            self._move_to(self.value_at(event.position().x()))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go."""
        if self._dragging and event.button() == Qt.MouseButton.LeftButton:
            self._dragging = False
            self.released.emit()
            self.update()

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows by a step, page keys by ten, Home and End to the ends of the reach."""
        state, key = self._state, Qt.Key(event.key())
        steps = {
            Qt.Key.Key_Left: -1,
            Qt.Key.Key_Down: -1,
            Qt.Key.Key_Right: 1,
            Qt.Key.Key_Up: 1,
            Qt.Key.Key_PageDown: -PAGE,
            Qt.Key.Key_PageUp: PAGE,
        }
        if key in steps:
            factor = PAGE if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1
            self._nudge(steps[key] * factor * state.step)
        elif key == Qt.Key.Key_Home:
            self._move_to(self._inside(state.reach_low, up=True))
        elif key == Qt.Key.Key_End and isfinite(state.reach_high):
            self._move_to(self._inside(state.reach_high, up=False))
        elif key == Qt.Key.Key_Space and None not in (state.at_least, state.at_most):
            self._side = "at_most" if self._side == "at_least" else "at_least"
            self.update()
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.cleared.emit()
        else:
            event.ignore()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show the ring."""
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Hide the ring; a run of key presses ends here."""
        super().focusOutEvent(event)
        self.released.emit()
        self.update()

    def _nudge(self, distance: float) -> None:
        limit = getattr(self._state, self._side)
        if limit is None:
            self._side = "at_most" if distance < 0 else "at_least"
            limit = self._state.achieved
        self._move_to(self._snapped(limit + distance))

    def _move_to(self, value: float) -> None:
        other = self._state.at_most if self._side == "at_least" else self._state.at_least
        if other is not None:
            value = min(value, other) if self._side == "at_least" else max(value, other)
        value = min(max(value, 0.0), self._state.top)
        if value != getattr(self._state, self._side):
            self.moved.emit(self._side, value)

    def _snapped(self, value: float) -> float:
        return round(round(value / self._state.step) * self._state.step, 6)

    def _inside(self, value: float, *, up: bool) -> float:
        """Return the nearest whole step that still lies in the reach."""
        snapped = self._snapped(value)
        if up and snapped < value:
            snapped += self._state.step
        if not up and snapped > value:
            snapped -= self._state.step
        return round(snapped, 6)

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: ARG002
        """Draw groove, reach, original, achieved and handles."""
        state = self._state
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        middle = self.height() / 2
        groove = QRectF(MARGIN - 4, middle - GROOVE / 2, self.width() - 2 * MARGIN + 8, GROOVE)
        painter.setBrush(self._theme.colour("track"))
        painter.drawRoundedRect(groove, GROOVE / 2, GROOVE / 2)
        self._paint_reach(painter, groove)
        self._paint_gap(painter, groove)
        self._paint_original(painter, middle)
        for side in ("at_least", "at_most"):
            limit = getattr(state, side)
            if limit is not None:
                self._paint_handle(painter, middle, limit, side)
        painter.setPen(QPen(self._theme.colour("surface"), 1.5))
        painter.setBrush(self._theme.colour("text"))
        painter.drawEllipse(QPointF(self.x_of(state.achieved), middle), 4.2, 4.2)
        painter.end()

    def _paint_reach(self, painter: QPainter, groove: QRectF) -> None:
        low, high = self.x_of(self._state.reach_low), self.x_of(self._state.reach_high)
        width = max(high - low, 2.0)
        painter.setBrush(self._theme.colour("accent_soft"))
        painter.drawRoundedRect(QRectF(low, groove.y(), width, GROOVE), GROOVE / 2, GROOVE / 2)

    def _paint_gap(self, painter: QPainter, groove: QRectF) -> None:
        """Hatch the stretch between the reach and a limit beyond it."""
        state = self._state
        for side, limit, end in (
            ("at_least", state.at_least, state.reach_high),
            ("at_most", state.at_most, state.reach_low),
        ):
            if limit is None or not state.out_of_reach(side):
                continue
            left, right = sorted((self.x_of(limit), self.x_of(end)))
            painter.setBrush(QBrush(self._theme.colour("bad"), Qt.BrushStyle.BDiagPattern))
            painter.drawRect(QRectF(left, groove.y(), right - left, GROOVE))

    def _paint_original(self, painter: QPainter, middle: float) -> None:
        x = self.x_of(self._state.original)
        painter.setPen(QPen(self._theme.colour("muted"), 1.5))
        painter.setBrush(self._theme.colour("surface"))
        painter.drawPolygon(
            QPolygonF(
                [
                    QPointF(x, middle - 6),
                    QPointF(x + 6, middle),
                    QPointF(x, middle + 6),
                    QPointF(x - 6, middle),
                ]
            )
        )
        painter.setPen(Qt.PenStyle.NoPen)

    def _paint_handle(self, painter: QPainter, middle: float, limit: float, side: str) -> None:
        x = self.x_of(limit)
        bad = self._state.out_of_reach(side)
        colour = self._theme.colour("bad" if bad else "accent")
        body = QRectF(x - HANDLE_WIDTH / 2, middle - HANDLE_HEIGHT / 2, HANDLE_WIDTH, HANDLE_HEIGHT)
        if self.hasFocus() and side == self._side:
            painter.setPen(QPen(colour, 1.5))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(body.adjusted(-3, -1.2, 3, 1.2), 5, 5)
            painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(colour)
        painter.drawRoundedRect(body, 3, 3)
        # A small flag points to the side the goal allows, so that the limit reads without colour.
        towards = -1 if side == "at_most" else 1
        painter.drawPolygon(
            QPolygonF(
                [
                    QPointF(x, middle - HANDLE_HEIGHT / 2),
                    QPointF(x + towards * 9, middle - HANDLE_HEIGHT / 2 + 3),
                    QPointF(x, middle - HANDLE_HEIGHT / 2 + 6),
                ]
            )
        )
