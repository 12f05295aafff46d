"""Curves of dishes: what no recipe can be lies below them, whether or not their size is free."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import LinearProgram, linear_program
from reformulate.optimise.efficient import (
    Unbounded,
    Vertex,
    efficient_ratio_vertices,
    efficient_vertices,
)
from reformulate.optimise.items import collect_items
from reformulate.optimise.model import Model, build_model
from tests.optimise.curve_oracles import INF, FloatArray, assert_within, chords, least
from tests.recipes.plain_sums import COLUMN, FOODS
from tests.strategies import Case, cases, weighed

# Recipes: energy against another nutrient, and against the least change.


def model_of(case: Case) -> Model:
    items = collect_items(weighed(case.recipe), case.brief, FOODS)
    return build_model(items, case.brief, case.recipe)


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
