"""What a trade-off curve is held against: corners in fractions, least values by SciPy, chords."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.optimize import linprog

from reformulate import LinearProgram, linear_program
from reformulate.optimise.efficient import Vertex

FloatArray = NDArray[np.float64]
Pair = tuple[Fraction, Fraction]
INF = np.inf
TIGHT = {"primal_feasibility_tolerance": 1e-9, "dual_feasibility_tolerance": 1e-9}


def dot(numbers: FloatArray, x: Sequence[Fraction]) -> Fraction:
    return sum((Fraction(float(a)) * v for a, v in zip(numbers, x, strict=True)), Fraction(0))


def meeting_point(rows: Sequence[tuple[FloatArray, float]]) -> list[Fraction] | None:
    """Where n rows hold with equality, by Gauss and Jordan; None where that is no single point."""
    n = len(rows)
    table = [[Fraction(float(v)) for v in (*row, limit)] for row, limit in rows]
    for c in range(n):
        pivot = next((r for r in range(c, n) if table[r][c]), None)
        if pivot is None:
            return None
        table[c], table[pivot] = table[pivot], table[c]
        table[c] = [v / table[c][c] for v in table[c]]
        for r in range(n):
            if r != c:
                table[r] = [v - table[r][c] * w for v, w in zip(table[r], table[c], strict=True)]
    return [row[n] for row in table]


def polytope_corners(program: LinearProgram) -> set[tuple[Fraction, ...]]:
    n = len(program.columns)
    left = np.vstack([program.matrix.toarray(), np.eye(n)])
    lower = np.concatenate([program.row_lower, program.column_lower])
    upper = np.concatenate([program.row_upper, program.column_upper])
    sides = [(row, limit, 1) for row, limit in zip(left, lower, strict=True) if limit > -INF]
    sides += [(row, limit, -1) for row, limit in zip(left, upper, strict=True) if limit < INF]
    found = set()
    for chosen in itertools.combinations(sides, n):
        x = meeting_point([side[:2] for side in chosen])
        if x and all(sign * (dot(r, x) - Fraction(float(b))) >= 0 for r, b, sign in sides):
            found.add(tuple(x))
    return found


def lower_left_hull(points: set[Pair]) -> list[Pair]:
    """The extreme points that no point beats in both, by the first ascending."""
    hull: list[Pair] = []
    for p in sorted(points):
        if hull and p[1] >= hull[-1][1]:
            continue
        while len(hull) > 1:
            a, b = hull[-2:]
            if (b[0] - a[0]) * (p[1] - a[1]) > (b[1] - a[1]) * (p[0] - a[0]):
                break
            hull.pop()
        hull.append(p)
    return hull


whole_numbers = st.integers(-4, 4).map(float)


@st.composite
def small_programs(draw: st.DrawFn) -> LinearProgram:
    """One to three columns in a box of whole numbers: degenerate, infeasible and flat ones too."""
    n, m = draw(st.integers(1, 3)), draw(st.integers(0, 4))
    rows = draw(st.lists(st.lists(whole_numbers, min_size=n, max_size=n), min_size=m, max_size=m))
    lower = np.array([draw(st.sampled_from([-INF, -INF, -3.0, 0.0, 1.0])) for _ in rows])
    upper = np.array([draw(st.sampled_from([INF, 1.0, 2.0, 7.0])) for _ in rows])
    start = np.array([draw(st.sampled_from([0.0, 0.0, -2.0])) for _ in range(n)])
    size = np.array([float(draw(st.integers(0, 7))) for _ in range(n)])
    return linear_program(
        np.zeros(n),
        np.array(rows).reshape(m, n),
        lower,
        upper,
        column_lower=start,
        column_upper=start + size,
    )


def drawn(
    data: st.DataObject, program: LinearProgram, values: object = whole_numbers
) -> FloatArray:
    n = len(program.columns)
    return np.array(data.draw(st.lists(values, min_size=n, max_size=n)))  # type: ignore[arg-type]


def pairs(vertices: Sequence[Vertex]) -> list[tuple[float, float]]:
    return [(vertex.first, vertex.second) for vertex in vertices]


def same(points: Sequence[tuple[float, float]] | Sequence[Pair]) -> list[object]:
    return [pytest.approx((float(a), float(b)), rel=1e-9, abs=1e-8) for a, b in points]


# Wider programs, against SciPy.


def assert_within(program: LinearProgram, x: FloatArray) -> None:
    rows = program.matrix @ x
    for values, lower, upper in (
        (rows, program.row_lower, program.row_upper),
        (x, program.column_lower, program.column_upper),
    ):
        assert np.all(values >= lower - 1e-7)
        assert np.all(values <= upper + 1e-7)


@st.composite
def wide_programs(draw: st.DrawFn) -> tuple[LinearProgram, FloatArray, FloatArray, FloatArray]:
    """5 to 40 columns of size 1 with room around a point; two objectives in conflict, a tie-break.

    The objectives' coefficients spread over up to four powers of ten, as salt and water do.
    """
    random = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    n, m = draw(st.integers(5, 40)), draw(st.integers(1, 15))
    spread = 10.0 ** random.uniform(-draw(st.integers(0, 4)), 0.0, n)
    matrix = random.normal(size=(m, n)) * (random.random((m, n)) < 0.6)
    limit = matrix @ random.random(n) + random.random(m) * 0.5
    program = linear_program(np.zeros(n), matrix, -INF, limit, column_upper=1.0 + random.random(n))
    first = random.random(n) * spread * 1000.0
    second = random.normal(size=n) - first / first.max()
    return program, first, second, random.random(n)


def least(
    program: LinearProgram, cost: FloatArray, *rows: tuple[FloatArray, float]
) -> tuple[float, FloatArray]:
    """By SciPy, with more rows that stay at or below their limit."""
    matrix, size = program.matrix.toarray(), np.abs(cost).max() or 1.0
    left = [-matrix[program.row_lower > -INF], matrix[program.row_upper < INF]]
    limits = [
        -program.row_lower[program.row_lower > -INF],
        program.row_upper[program.row_upper < INF],
    ]
    for row, limit in rows:
        left.append(row[None, :] / np.abs(row).max())
        limits.append(np.array([limit]) / np.abs(row).max())
    found = linprog(
        cost / size,
        A_ub=np.vstack(left),
        b_ub=np.concatenate(limits),
        bounds=np.stack([program.column_lower, program.column_upper], axis=1),
        options=TIGHT,
    )
    assert found.status == 0, found.message
    return float(found.fun) * size, found.x


def chords(vertices: Sequence[Vertex]) -> list[tuple[FloatArray, float]]:
    """The normal of each chord, and its value on the chord, with the whole box as 1."""
    at = np.array(pairs(vertices))
    span = np.ptp(at, axis=0)
    found = []
    for left, right in itertools.pairwise(at):
        normal = np.abs(right - left)[::-1] / span[::-1] / span
        normal /= normal @ span
        found.append((normal, float(normal @ left)))
    return found
