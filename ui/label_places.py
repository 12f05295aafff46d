"""Where names stand beside marked places of a plot, so that none covers another or the curve."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, hypot

from PySide6.QtCore import QPointF, QRectF, QSizeF

BESIDE = 9.0
"""From the middle of a mark to its name [px]."""

SAME = 12.0
"""Marks nearer than this share one name [px]."""

EVERY = 5.0
"""How finely the curve is looked at [px]."""


def joined(marks: Sequence[tuple[str, QPointF]]) -> list[tuple[str, QPointF]]:
    """Join the names of marks that are as good as in one place: ``knee, now``."""
    found: list[tuple[str, QPointF]] = []
    for name, place in marks:
        near = next((i for i, (_, at) in enumerate(found) if _far(at, place) < SAME), None)
        if near is None:
            found.append((name, place))
        else:
            found[near] = (f"{found[near][0]}, {name}", found[near][1])
    return found


def place_labels(
    marks: Sequence[tuple[QPointF, QSizeF]], curve: Sequence[QPointF], inside: QRectF
) -> list[QRectF]:
    """Return a rectangle for each name: beside its mark, in the clear as far as there is room.

    Parameters
    ----------
    marks : sequence of (place, size)
        The middle of each mark, and how much room its name takes [px].
    curve : sequence of QPointF
        Corners of the line no name should cover [px].
    inside : QRectF
        Where names may stand [px].
    """
    dots = [*_along(curve), *(place for place, _ in marks)]
    taken: list[QRectF] = []
    for place, size in marks:
        choices = list(_beside(place, size))
        costs = [_cost(choice, dots, taken, inside) for choice in choices]
        taken.append(choices[costs.index(min(costs))])
    return taken


def _beside(place: QPointF, size: QSizeF) -> Iterator[QRectF]:
    right, left = place.x() + BESIDE, place.x() - BESIDE - size.width()
    below, above = place.y() + BESIDE / 2, place.y() - BESIDE / 2 - size.height()
    middle = place.y() - size.height() / 2
    centre = place.x() - size.width() / 2
    for x, y in (
        (right, below),
        (right, above),
        (left, below),
        (left, above),
        (right, middle),
        (left, middle),
        (centre, place.y() + BESIDE),
        (centre, place.y() - BESIDE - size.height()),
    ):
        yield QRectF(QPointF(x, y), size)


def _cost(
    choice: QRectF, dots: Sequence[QPointF], taken: Sequence[QRectF], inside: QRectF
) -> float:
    outside = 0.0 if inside.contains(choice) else 100.0
    over = sum(choice.intersects(other) for other in taken)
    return outside + 20.0 * over + sum(choice.contains(dot) for dot in dots)


def _along(corners: Sequence[QPointF]) -> Iterator[QPointF]:
    for one, other in pairwise(corners):
        steps = max(1, ceil(_far(one, other) / EVERY))
        for step in range(steps + 1):
            yield one + (other - one) * (step / steps)


def _far(one: QPointF, other: QPointF) -> float:
    return hypot(one.x() - other.x(), one.y() - other.y())
