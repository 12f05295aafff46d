"""The trade-off curve: exactly the corners there are, each with the amounts the tie-break likes best."""

from __future__ import annotations

import itertools
import pickle
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.optimize import linprog

from reformulate import LinearProgram, SolverStopped, linear_program
from reformulate.optimise.efficient import (
    Unbounded,
    Vertex,
    efficient_ratio_vertices,
    efficient_vertices,
    knee,
)
from reformulate.optimise.items import collect_items
from reformulate.optimise.model import Model, build_model
from tests.recipes.plain_sums import COLUMN, FOODS
from tests.strategies import Case, cases, weighed

FloatArray = NDArray[np.float64]
Pair = tuple[Fraction, Fraction]
INF = np.inf
TIGHT = {"primal_feasibility_tolerance": 1e-9, "dual_feasibility_tolerance": 1e-9}


# The exact oracle: all corners of a small polytope in fractions, and the hull of what they attain.


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


@given(small_programs(), st.data())
def test_the_corners_are_those_of_an_exact_enumeration(
    program: LinearProgram, data: st.DataObject
) -> None:
    first, second = drawn(data, program), drawn(data, program)
    exact = lower_left_hull({(dot(first, x), dot(second, x)) for x in polytope_corners(program)})
    assert pairs(efficient_vertices(program, first, second)) == same(exact)
    tie_break = np.arange(1.0, len(first) + 1)
    settled = efficient_vertices(program, first, second, tie_break=tie_break)
    assert pairs(settled) == same(exact)


@given(small_programs(), st.data(), st.booleans())
def test_the_corners_of_two_ratios_are_those_of_an_exact_enumeration(
    program: LinearProgram, data: st.DataObject, has_tie_break: bool
) -> None:
    first, second = drawn(data, program), drawn(data, program)
    whole = np.abs(drawn(data, program))
    starts = [float(data.draw(st.integers(-3, 3))) for _ in range(2)]
    whole_start = 1.0 - float(np.minimum(0.0, whole * program.column_lower).sum())
    exact = lower_left_hull(
        {
            (
                (dot(first, x) + Fraction(starts[0])) / (dot(whole, x) + Fraction(whole_start)),
                (dot(second, x) + Fraction(starts[1])) / (dot(whole, x) + Fraction(whole_start)),
            )
            for x in polytope_corners(program)
        }
    )
    found = efficient_ratio_vertices(
        program,
        first,
        starts[0],
        second,
        starts[1],
        whole,
        whole_start,
        tie_break=np.arange(1.0, len(first) + 1) if has_tie_break else None,
    )
    assert pairs(found) == same(exact)
    for vertex in found:
        assert_within(program, vertex.x)


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


@given(wide_programs())
def test_the_curve_is_what_a_dense_sweep_finds_and_no_corner_is_on_a_chord(
    case: tuple[LinearProgram, FloatArray, FloatArray, FloatArray],
) -> None:
    program, first, second, _ = case
    found = efficient_vertices(program, first, second)
    at = np.array(pairs(found))
    assert np.all(np.diff(at[:, 0]) > 0)
    assert np.all(np.diff(at[:, 1]) < 0)
    if len(at) > 1:
        slopes = np.diff(at[:, 1]) / np.diff(at[:, 0])
        assert np.all(np.diff(slopes) > 0)
    low, span = at.min(axis=0), np.ptp(at, axis=0)
    assert low == pytest.approx([least(program, c)[0] for c in (first, second)], rel=1e-7, abs=1e-7)
    for share in np.linspace(0.0, 1.0, 23)[1:-1] if len(at) > 1 else ():
        limits = low + share * span
        for one, other, own in ((first, second, 0), (second, first, 1)):
            # Between the corners of the curve by the one, the other is what SciPy finds it to be.
            order = slice(None) if own == 0 else slice(None, None, -1)
            curve = np.interp(limits[own], at[order, own], at[order, 1 - own])
            swept, _ = least(program, other, (one, limits[own]))
            assert abs(curve - swept) <= 1e-7 * span[1 - own]


@given(wide_programs())
def test_both_orders_of_the_objectives_give_the_same_corners_and_amounts(
    case: tuple[LinearProgram, FloatArray, FloatArray, FloatArray],
) -> None:
    program, first, second, tie_break = case
    found = efficient_vertices(program, first, second, tie_break=tie_break)
    turned = efficient_vertices(program, second, first, tie_break=tie_break)[::-1]
    assert pairs(found) == same([(vertex.second, vertex.first) for vertex in turned])
    for one, other in zip(found, turned, strict=True):
        assert one.x == pytest.approx(other.x, abs=1e-7)


@given(wide_programs(), st.integers(0, 3))
def test_of_all_amounts_at_a_corner_the_tie_break_likes_these_best(
    case: tuple[LinearProgram, FloatArray, FloatArray, FloatArray], blind: int
) -> None:
    program, first, second, tie_break = case
    # Columns that neither objective sees leave many amounts at each corner.
    first[: 4 * blind], second[: 4 * blind] = 0.0, 0.0
    if not first.any():
        return
    found = efficient_vertices(program, first, second, tie_break=tie_break)
    for vertex in found:
        assert_within(program, vertex.x)
        attained = (float(first @ vertex.x), float(second @ vertex.x))
        assert (vertex.first, vertex.second) == pytest.approx(attained, rel=1e-12)
        best, _ = least(
            program,
            tie_break,
            (first, vertex.first),
            (second, vertex.second),
        )
        assert tie_break @ vertex.x == pytest.approx(best, abs=1e-5)


@given(wide_programs())
def test_ratios_over_a_constant_whole_are_the_plain_curve(
    case: tuple[LinearProgram, FloatArray, FloatArray, FloatArray],
) -> None:
    program, first, second, tie_break = case
    plain = efficient_vertices(program, first, second, tie_break=tie_break)
    none = np.zeros(len(first))
    found = efficient_ratio_vertices(
        program, first, 4.0, second, 0.0, none, 2.0, tie_break=tie_break
    )
    assert pairs(found) == same([(v.first / 2.0 + 2.0, v.second / 2.0) for v in plain])
    for one, other in zip(found, plain, strict=True):
        assert one.x == pytest.approx(other.x, abs=1e-7)


# Recipes: energy against another nutrient, and against the least change.


def model_of(case: Case) -> Model:
    items = collect_items(weighed(case.recipe), case.brief, FOODS)
    return build_model(items, case.brief, case.recipe)


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


@given(cases(), st.sampled_from(["sodium_mg", "protein_g", None]))
def test_nothing_a_recipe_can_be_lies_below_a_chord_of_its_curve(
    case: Case, key: str | None
) -> None:
    model = model_of(case)
    program, items = model.program, model.items
    first = items.per_gram[:, COLUMN["energy_kcal"]] @ model.to_grams
    second = program.cost if key is None else items.per_gram[:, COLUMN[key]] @ model.to_grams
    second = -second if key == "protein_g" else second
    found = efficient_vertices(program, first, second, tie_break=np.abs(model.to_grams).sum(axis=0))
    for vertex in found:
        assert_within(program, vertex.x)
    for normal, value in chords(found):
        assert least(program, normal[0] * first + normal[1] * second)[0] >= value - 1e-7


@given(cases(), st.sampled_from(["sodium_mg", "protein_g", "fat_g"]))
def test_no_100_grams_of_a_recipe_lie_below_a_chord_of_their_curve(case: Case, key: str) -> None:
    model = model_of(case)
    program, items = model.program, model.items
    sign = -1.0 if key == "protein_g" else 1.0
    per_gram = [items.per_gram[:, COLUMN["energy_kcal"]], sign * items.per_gram[:, COLUMN[key]]]
    tops = np.array([row @ model.to_grams for row in per_gram])
    starts = np.array([row @ items.original for row in per_gram])
    whole, size = (
        items.yields / 100.0 @ model.to_grams,
        float(items.yields @ items.original) / 100.0,
    )
    tie_break = np.abs(model.to_grams).sum(axis=0)
    found = efficient_ratio_vertices(
        program, tops[0], starts[0], tops[1], starts[1], whole, size, tie_break=tie_break
    )
    for vertex in found:
        assert_within(program, vertex.x)
        ratios = np.array([vertex.first, vertex.second])
        assert (tops @ vertex.x + starts) / (whole @ vertex.x + size) == pytest.approx(ratios)
        rows = tops - ratios[:, None] * whole
        limits = ratios * size - starts
        best, _ = least(program, tie_break, (rows[0], limits[0]), (rows[1], limits[1]))
        assert tie_break @ vertex.x == pytest.approx(best, rel=1e-5, abs=1e-4)
    for normal, value in chords(found):
        below, _ = least(program, normal @ tops - value * whole)
        assert below + normal @ starts - value * size >= -1e-7 * size


# Shapes of curves, by hand.

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


# Dishes whose size is free: grams of cream, yogurt and, not in the original, a lean stand-in.

START = np.array([200.0, 100.0, 0.0])
KCAL, PROTEIN = np.array([2.0, 0.6, 0.3]), np.array([0.02, 0.1, 0.0])  # per gram; constructed
GRAMS = np.array([[1.0, 0, 0, -1.0, 0], [0, 1.0, 0, 0, -1.0], [0, 0, 1.0, 0, 0]])
"""Grams of the three per gram more of each and less of the first two."""

FREE = linear_program(
    np.ones(5), np.zeros((0, 5)), [], [], column_upper=[INF, INF, INF, *START[:2]]
)


def per_gram(
    program: LinearProgram, tie_break: FloatArray | None = FREE.cost
) -> tuple[Vertex, ...]:
    return efficient_ratio_vertices(
        program,
        KCAL @ GRAMS,
        float(KCAL @ START),
        -PROTEIN @ GRAMS,
        float(-PROTEIN @ START),
        GRAMS.sum(axis=0),
        float(START.sum()),
        tie_break=tie_break,
    )


@pytest.mark.parametrize("tie_break", [FREE.cost, None])
def test_a_dish_of_the_stand_in_alone_keeps_the_size_it_had(tie_break: FloatArray | None) -> None:
    # Least changed of all would be no dish at all, which has no ratios.
    least_kcal, most_protein = per_gram(FREE, tie_break)
    assert (least_kcal.first, least_kcal.second) == pytest.approx((0.3, 0.0))
    assert (most_protein.first, most_protein.second) == pytest.approx((0.6, -0.1))
    assert (START + GRAMS @ least_kcal.x)[:2] == pytest.approx([0.0, 0.0])
    if tie_break is not None:
        assert START + GRAMS @ least_kcal.x == pytest.approx([0.0, 0.0, 300.0])
        assert START + GRAMS @ most_protein.x == pytest.approx([0.0, 100.0, 0.0])


@pytest.mark.parametrize("tie_break", [FREE.cost, None])
def test_a_curve_that_only_a_dish_without_end_comes_near_is_refused(
    tie_break: FloatArray | None,
) -> None:
    # With the cream locked, more and more of the stand-in brings energy down towards 0.3.
    locked = replace(FREE, column_upper=np.array([0.0, INF, INF, 0.0, START[1]]))
    with pytest.raises(Unbounded):
        per_gram(locked, tie_break)


def test_a_dish_that_cannot_be_has_no_curve_however_freely_it_could_grow() -> None:
    limits = replace(FREE, column_upper=np.array([1.0, INF, INF, *START[:2]]))
    row = linear_program(np.zeros(5), [[1.0, 0, 0, 0, 0]], 2.0, 3.0)
    none = replace(
        limits, matrix=row.matrix, rows=row.rows, row_lower=row.row_lower, row_upper=row.row_upper
    )
    assert per_gram(none) == per_gram(none, None) == ()


# The knee.


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
