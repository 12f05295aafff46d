"""The knee: the corner from which either way costs most."""

from __future__ import annotations

import numpy as np
import pytest

from reformulate.optimise.efficient import Vertex, knee


def curve(*points: tuple[float, float]) -> list[Vertex]:
    return [Vertex(x=np.empty(0), first=a, second=b) for a, b in points]


def test_the_knee_is_the_corner_farthest_from_the_line_between_the_ends() -> None:
    assert knee(curve((0, 10), (1, 4), (2, 2), (10, 0))) == 2
    assert knee(curve((0, 10), (1, 2), (2, 1.5), (10, 0))) == 1


def test_the_knee_does_not_depend_on_units() -> None:
    assert knee(curve((0, 10), (1000, 4), (2000, 2), (10000, 0))) == 2
    assert knee(curve((5, -1e-6), (6, -1.6e-6), (7, -1.8e-6), (15, -2e-6))) == 2


def test_of_two_corners_as_far_the_first_is_the_knee() -> None:
    assert knee(curve((0, 1), (0.1, 0.3), (0.3, 0.1), (1, 0))) == 1


@pytest.mark.parametrize("points", [(), ((0.0, 1.0),), ((0.0, 1.0), (1.0, 0.0))])
def test_less_than_three_corners_have_no_knee(points: tuple[tuple[float, float], ...]) -> None:
    assert knee(curve(*points)) is None
