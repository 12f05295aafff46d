"""The engine against linear programs with published optima; integer programs are left out.

Sources stand beside each program, with whether data and answer were read in a public source, are
from memory, or were constructed. A dual is the change of the optimal objective per
unit increase of the right-hand side.
"""

from __future__ import annotations

import pytest

from reformulate import second_opinion
from tests.published import blends_and_diets as diets
from tests.published.catalogue import ALL
from tests.published.programs import Published, least, optimum, with_row_limit
from tests.published.stigler import NEEDS, PER_DOLLAR, stigler


@pytest.mark.parametrize("case", ALL, ids=str)
def test_the_optimum_is_the_published_one(case: Published) -> None:
    found = optimum(case.program)
    assert case.sign * found.objective == pytest.approx(case.objective, rel=case.digits)
    if case.x is not None:
        assert found.x == pytest.approx(case.x, rel=0, abs=case.x_within)


@pytest.mark.parametrize("case", ALL, ids=str)
def test_a_second_solver_finds_the_published_optimum(case: Published) -> None:
    assert case.sign * second_opinion(case.program) == pytest.approx(
        case.objective, rel=max(case.digits, 1e-6)
    )


@pytest.mark.parametrize("case", [c for c in ALL if c.duals or c.known_duals], ids=str)
def test_the_duals_are_the_published_ones(case: Published) -> None:
    duals = case.sign * optimum(case.program).row_duals
    published = dict(enumerate(case.duals)) if case.duals else case.known_duals
    for row, dual in published.items():
        assert duals[row] == pytest.approx(dual, rel=0, abs=case.dual_within), row


@pytest.mark.parametrize("case", [c for c in ALL if c.reduced], ids=str)
def test_the_reduced_costs_are_the_published_ones(case: Published) -> None:
    duals = optimum(case.program).row_duals
    assert case.program.cost - case.program.matrix.T @ duals == pytest.approx(
        case.reduced, abs=1e-9
    )


def test_stiglers_diet_is_five_foods_at_the_published_dollars_a_year() -> None:
    # Yearly dollars and daily intakes: a solver library's sample, from memory.
    found = optimum(stigler())
    assert len(PER_DOLLAR) == 77
    assert found.objective == pytest.approx(0.108662278, rel=1e-8)
    spent = {
        food: 365 * dollars
        for food, dollars in zip(PER_DOLLAR, found.x.tolist(), strict=True)
        if dollars > 1e-12
    }
    assert spent == pytest.approx(
        {
            "wheat flour (enriched)": 10.774458,
            "liver (beef)": 0.690783,
            "cabbage": 4.093269,
            "spinach": 1.827796,
            "navy beans, dried": 22.275426,
        },
        abs=1e-6,
    )
    intakes = [3.000, 147.414, 0.800, 60.467, 5.000, 4.120, 2.700, 27.316, 75.000]
    assert stigler().matrix @ found.x == pytest.approx(intakes, abs=6e-4)
    at_minimum = {
        need
        for need, intake in zip(NEEDS, stigler().matrix @ found.x, strict=True)
        if intake <= NEEDS[need] * (1 + 1e-9)
    }
    assert {need.rsplit(" [", 1)[0] for need in at_minimum} == {
        *("energy", "calcium", "vitamin A", "riboflavin", "vitamin C")
    }


def test_the_sausages_totals_are_unique_where_their_split_is_not() -> None:
    x = optimum(diets.SAUSAGES).x
    assert x[:3] + x[3:] == pytest.approx([23, 8.875, 10.625])


def test_more_energy_makes_the_library_diet_dearer_than_its_relaxation() -> None:
    # Its integer answers are 97, and 106 at 2200 kcal: the continuous ones are bounds below them.
    assert least(diets.LIBRARY_DIET) <= 97
    assert least(diets.LIBRARY_DIET) < least(with_row_limit(diets.LIBRARY_DIET, 0, 2200)) <= 106
