"""A certificate proves an answer, and nothing else passes for a proof."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import (
    QUANTITY_INDEX,
    BatchHold,
    Brief,
    Certificate,
    Goal,
    LinearProgram,
    Optimiser,
    Solution,
    certify,
    linear_program,
    nutrition_of,
    solve_program,
)
from reformulate.optimise.items import collect_items
from reformulate.optimise.model import build_model
from tests.optimise.dips import CREAMY, answer
from tests.recipes.plain_sums import FOODS
from tests.strategies import Case, cases, harsh_cases, weighed

# Minimise 2 x + 3 y with x + y >= 4, x <= 3: x = 3, y = 1; the row is worth 3, the bound -1.
PROGRAM = linear_program([2.0, 3.0], [[1.0, 1.0]], 4.0, np.inf, column_upper=[3.0, np.inf])
BEST, PRICE = np.array([3.0, 1.0]), np.array([3.0])


def program_of(case: Case) -> tuple[LinearProgram, Solution]:
    items = collect_items(weighed(case.recipe), case.brief, FOODS)
    program = build_model(items, case.brief, case.recipe).program
    return program, solve_program(program)


@given(cases() | harsh_cases())
def test_every_answer_carries_a_proof(case: Case) -> None:
    proof = answer(case.recipe, case.brief).certificate
    assert proof.holds
    assert max(proof.primal, proof.dual, proof.gap) <= 1e-6


@given(cases(), st.data())
def test_a_proof_does_not_survive_other_amounts(case: Case, data: st.DataObject) -> None:
    program, found = program_of(case)
    assert certify(program, found.x, found.row_duals).holds
    column = data.draw(st.integers(0, len(found.x) - 1))
    wrong = found.x.copy()
    wrong[column] += data.draw(st.sampled_from([-1.0, -0.01, 0.01, 1.0]))
    # Every column costs 1, so that any one of them moved changes the cost.
    assert not certify(program, wrong, found.row_duals).holds


@pytest.mark.parametrize("times", [0.0, 0.5, 0.99, 1.01, 2.0, -1.0])
def test_a_proof_does_not_survive_other_prices(times: float) -> None:
    goals = (Goal(nutrient="energy_kcal", at_most=150.0),)
    case = Case(recipe=CREAMY, brief=Brief(goals=goals, holds=(BatchHold(),)), witness=None)
    program, found = program_of(case)
    assert certify(program, found.x, found.row_duals).holds
    assert not certify(program, found.x, times * found.row_duals).holds


@given(cases(), st.floats(-3.0, 3.0))
def test_prices_of_any_size_prove_no_more_than_the_cost(case: Case, times: float) -> None:
    program, found = program_of(case)
    prices = times * found.row_duals
    reduced = program.reduced_cost(prices)
    proven = 0.0
    for price, low, high in (
        *zip(prices, program.row_lower, program.row_upper, strict=True),
        *zip(reduced, program.column_lower, program.column_upper, strict=True),
    ):
        limit = low if price > 0 else high
        proven += price * limit if price else 0.0
    assert proven <= found.objective + 1e-6 * (1 + found.objective)
    proof = certify(program, found.x, prices)
    if np.isfinite(proven):
        assert proof.gap == pytest.approx(
            (found.objective - proven) / (1 + found.objective), rel=1e-6, abs=1e-7
        )
    else:
        assert proof.dual > 0


@given(cases())
def test_amounts_closer_to_the_original_break_a_row(case: Case) -> None:
    program, found = program_of(case)
    if (
        found.objective <= 1e-3
    ):  # the original is the answer, so less energy than it has is asked for
        energy = float(
            nutrition_of(weighed(case.recipe)).per_serving[QUANTITY_INDEX["energy_kcal"]]
        )
        lighter = Goal(nutrient="energy_kcal", at_most=0.9 * energy)
        brief = replace(case.brief, goals=(lighter,), holds=())
        program, found = program_of(replace(case, brief=brief))
    assert found.objective > 1e-3
    closer = certify(program, 0.99 * found.x, found.row_duals)
    assert not closer.holds
    assert closer.primal > 1e-6


def test_a_proof_by_hand() -> None:
    assert certify(PROGRAM, BEST, PRICE) == Certificate(primal=0.0, dual=0.0, gap=0.0)


def test_amounts_outside_a_row_or_bound_show_as_primal() -> None:
    assert certify(PROGRAM, np.array([2.5, 1.0]), PRICE).primal == pytest.approx(0.5)
    assert certify(PROGRAM, np.array([3.25, 1.0]), PRICE).primal == pytest.approx(0.25)
    assert certify(PROGRAM, np.array([5.0, -2.0]), PRICE).primal == pytest.approx(2.0)


def test_a_price_on_a_limit_that_is_not_there_shows_as_dual() -> None:
    # A negative price would stand on the row's upper limit: it has none.
    assert certify(PROGRAM, BEST, np.array([-0.5])).dual == pytest.approx(0.5)
    # A price of 5 makes y worth less than nothing, and y has no upper bound.
    assert certify(PROGRAM, BEST, np.array([5.0])).dual == pytest.approx(2.0)


def test_a_cost_above_what_the_prices_prove_shows_as_gap() -> None:
    dear = certify(PROGRAM, np.array([1.0, 3.0]), PRICE)
    assert (dear.primal, dear.dual) == (0.0, 0.0)
    assert dear.gap == pytest.approx((11 - 9) / 12)
    assert not dear.holds


@pytest.mark.parametrize("figure", ["primal", "dual", "gap"])
def test_one_figure_out_of_tolerance_is_no_proof(figure: str) -> None:
    good = {"primal": 1e-7, "dual": 1e-7, "gap": 1e-7}
    assert Certificate(**good).holds
    assert not Certificate(**(good | {figure: 2e-6})).holds


def test_a_warm_answer_carries_the_proof_of_its_own_program() -> None:
    found = []
    brief = Brief(goals=(Goal(nutrient="energy_kcal", at_most=180.0),), holds=(BatchHold(),))
    optimiser = Optimiser(weighed(CREAMY), brief, FOODS)
    for limit in (180.0, 120.0, 20.0, 150.0, 500.0):
        goal = Goal(nutrient="energy_kcal", at_most=limit)
        found.append(optimiser.answer(brief.with_goal(goal)))
    assert all(each.certificate.holds for each in found)


def test_amounts_that_are_no_numbers_are_no_proof() -> None:
    assert not certify(PROGRAM, np.full(2, np.nan), PRICE).holds


def test_prices_that_are_no_numbers_are_no_proof() -> None:
    assert not certify(PROGRAM, BEST, np.array([np.nan])).holds
