"""Shapes of curves, by hand: many corners, flat ends, no corner, no end."""

from __future__ import annotations

import pickle
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from reformulate import LinearProgram, SolverStopped, linear_program
from reformulate.optimise.efficient import Unbounded, efficient_ratio_vertices, efficient_vertices
from tests.optimise.curve_oracles import INF, FloatArray, pairs, same

ONE, OTHER = np.array([1.0, 0.0]), np.array([0.0, 1.0])


def above(points: Sequence[tuple[float, float]]) -> LinearProgram:
    """All of the plane above a falling chain of points, and in the box they span."""
    at = np.array(points)
    run = np.diff(at, axis=0)
    normals = np.stack([-run[:, 1], run[:, 0]], axis=1)
    normals /= np.abs(normals).max(axis=1, keepdims=True)
    return linear_program(
        np.zeros(2),
        normals,
        (normals * at[:-1]).sum(axis=1),
        INF,
        column_lower=at.min(axis=0),
        column_upper=at.max(axis=0),
    )


def test_a_curve_has_as_many_corners_as_the_chain_it_runs_along() -> None:
    turns = np.linspace(0.0, np.pi / 2, 200)
    chain = [(1 - np.cos(turn), 1 - np.sin(turn)) for turn in turns]
    found = efficient_vertices(above(chain), ONE, OTHER)
    assert np.array(pairs(found)) == pytest.approx(np.array(chain), abs=1e-9)


@pytest.mark.parametrize("dent", [1e-2, 1e-4, 1e-6, 1e-7])
def test_two_segments_that_are_nearly_one_stay_two(dent: float) -> None:
    chain = [(0.0, 1.0), (0.5, 0.5 - dent), (1.0, 0.0)]
    found = efficient_vertices(above(chain), ONE, OTHER, tie_break=ONE + OTHER)
    assert pairs(found) == same(chain)


def mixture(points: Sequence[tuple[float, float]]) -> tuple[LinearProgram, FloatArray, FloatArray]:
    """Mixtures of things that attain these points: each point is a corner of the polytope."""
    at = np.array(points, dtype=float)
    n = len(at)
    return linear_program(np.zeros(n), np.ones((1, n)), 1.0, 1.0), at[:, 0], at[:, 1]


@pytest.mark.parametrize("turn", range(9))
def test_what_lies_on_a_chord_is_no_corner(turn: int) -> None:
    # The chord from (1, 3) to (3, 1) runs as the one between the ends does, so that the solver may
    # stop anywhere on it; seven of the things mixed lie on it.
    corners = [(0.0, 6.0), (1.0, 3.0), (3.0, 1.0), (6.0, 0.0)]
    between = [(1.0 + step / 4, 3.0 - step / 4) for step in range(1, 8)]
    things = [*between[turn:], *corners, *between[:turn]]
    assert pairs(efficient_vertices(*mixture(things))) == same(corners)


def test_an_end_that_is_only_weakly_efficient_is_none() -> None:
    # x0 is least anywhere on the edge from (0, 1) to (0, 9), x1 from (1, 0) to (9, 0).
    program = linear_program(np.zeros(2), [[1.0, 1.0]], 1.0, INF, column_upper=9.0)
    assert pairs(efficient_vertices(program, ONE, OTHER)) == same([(0, 1), (1, 0)])


def test_a_weakly_efficient_end_far_away_does_not_blur_the_curve() -> None:
    # Columns stand for what is missing from the greatest, so that the solver starts far away.
    chain = [(0.0, 5.0), (1.0, 2.0), (2.0, 1.0), (5.0, 0.0)]
    near = above(chain)
    far = replace(
        near,
        matrix=-near.matrix,
        column_lower=np.full(2, -1e9),
        column_upper=np.zeros(2),
    )
    assert pairs(efficient_vertices(far, -ONE, -OTHER)) == same(chain)


@pytest.mark.parametrize("factors", [(1e6, 1e-6), (1e-5, 1.0), (3.0, 4e7)])
def test_units_of_the_objectives_do_not_matter(factors: tuple[float, float]) -> None:
    chain = [(0.0, 5.0), (1.0, 2.0), (2.0, 1.0), (5.0, 0.0)]
    found = efficient_vertices(above(chain), factors[0] * ONE, factors[1] * OTHER)
    assert np.array(pairs(found)) / factors == pytest.approx(np.array(chain), abs=1e-9)


@pytest.mark.parametrize("second", [2.0 * ONE, np.zeros(2), ONE + OTHER])
def test_objectives_without_conflict_have_one_corner(second: FloatArray) -> None:
    program = linear_program(
        np.zeros(2), [[1.0, 2.0]], 2.0, INF, column_lower=1.0, column_upper=3.0
    )
    (only,) = efficient_vertices(program, ONE, second, tie_break=OTHER)
    assert (only.first, only.second) == pytest.approx((1.0, second @ [1.0, 1.0]))
    assert only.x == pytest.approx([1.0, 1.0])
    (only,) = efficient_vertices(program, second, ONE, tie_break=OTHER)
    assert only.x == pytest.approx([1.0, 1.0])


def test_limits_that_nothing_keeps_have_no_curve() -> None:
    tight = linear_program(np.zeros(2), [[1.0, 1.0]], 3.0, 4.0, column_upper=1.0)
    crossed = linear_program(np.zeros(2), [[1.0, 1.0]], 3.0, 2.0)
    for program in (tight, crossed):
        assert efficient_vertices(program, ONE, OTHER, tie_break=ONE) == ()
        assert efficient_ratio_vertices(program, ONE, 0.0, OTHER, 0.0, ONE, 1.0) == ()


@pytest.mark.parametrize(("column", "which"), [(0, "first"), (1, "second")])
def test_an_objective_without_limit_is_named(column: int, which: str) -> None:
    lower = np.array([0.0, 0.0])
    lower[column] = -INF
    program = linear_program(np.zeros(2), [[1.0, -1.0]], -INF, INF, column_lower=lower)
    with pytest.raises(Unbounded, match=f"the {which} quantity gets better without end") as caught:
        efficient_vertices(program, ONE, OTHER)
    assert caught.value.objective == column
    assert pickle.loads(pickle.dumps(caught.value)).objective == column  # noqa: S301 - our own


def test_a_curve_that_starts_and_goes_on_without_end_is_refused() -> None:
    # x1 >= -x0: the first is least at the origin, and more of it makes the second ever better.
    program = linear_program(
        np.zeros(2), [[1.0, 1.0]], 0.0, INF, column_lower=np.array([0.0, -INF])
    )
    for first, second, objective in ((ONE, OTHER, 1), (OTHER, ONE, 0)):
        with pytest.raises(Unbounded) as caught:
            efficient_vertices(program, first, second)
        assert caught.value.objective == objective


def test_a_search_that_is_told_to_stop_does() -> None:
    chain = [(0.0, 5.0), (1.0, 2.0), (2.0, 1.0), (5.0, 0.0)]
    asked: list[None] = []

    def stop() -> bool:
        asked.append(None)
        return len(asked) > 3

    with pytest.raises(SolverStopped, match="given up"):
        efficient_vertices(above(chain), ONE, OTHER, stop=stop)
    assert len(asked) == 4
    assert len(efficient_vertices(above(chain), ONE, OTHER, stop=lambda: False)) == 4
