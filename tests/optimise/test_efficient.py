"""The trade-off curve: exactly the corners there are, each with the amounts the tie-break likes best."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import LinearProgram
from reformulate.optimise.efficient import efficient_ratio_vertices, efficient_vertices
from tests.optimise.curve_oracles import (
    FloatArray,
    assert_within,
    dot,
    drawn,
    least,
    lower_left_hull,
    pairs,
    polytope_corners,
    same,
    small_programs,
    wide_programs,
)


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
