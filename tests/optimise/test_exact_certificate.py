"""Certificates in exact rational arithmetic: the floating-point ones tell the truth."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given

from reformulate import (
    SYSTEMS,
    Certificate,
    LinearProgram,
    Outcome,
    certify,
    solve_program,
    weigh_recipe,
)
from reformulate.optimise.items import collect_items
from reformulate.optimise.model import build_model
from tests.benchmarks.problem import BATCH, BRIEF, FOODS
from tests.published.catalogue import ALL
from tests.strategies import Case, cases

DUST = Fraction(1, 10**11)
"""How far floating point may be from the exact figures, beside their own size."""


def exactly(program: LinearProgram, x: list[float], duals: list[float]) -> Certificate:
    """Return the certificate of the same numbers, every sum and product exact."""
    matrix = program.matrix.toarray().tolist()
    point = [Fraction(value) for value in x]
    prices = [Fraction(value) for value in duals]
    rows = [
        sum((Fraction(a) * v for a, v in zip(row, point, strict=True)), Fraction())
        for row in matrix
    ]
    reduced = [
        Fraction(cost)
        - sum((Fraction(row[j]) * y for row, y in zip(matrix, prices, strict=True)), Fraction())
        for j, cost in enumerate(program.cost.tolist())
    ]
    primal, dual, bound = Fraction(), Fraction(), Fraction()
    for values, lower, upper, paid in (
        (rows, program.row_lower.tolist(), program.row_upper.tolist(), prices),
        (point, program.column_lower.tolist(), program.column_upper.tolist(), reduced),
    ):
        for value, low, high, price in zip(values, lower, upper, paid, strict=True):
            if low > float("-inf"):
                primal = max(primal, Fraction(low) - value)
            if high < float("inf"):
                primal = max(primal, value - Fraction(high))
            limit = low if price > 0 else high
            if abs(limit) < float("inf"):
                bound += price * Fraction(limit)
            else:
                dual = max(dual, abs(price))
    cost = sum(
        (Fraction(c) * v for c, v in zip(program.cost.tolist(), point, strict=True)), Fraction()
    )
    gap = abs(cost - bound) / (1 + abs(cost))
    return Certificate(primal=float(primal), dual=float(dual), gap=float(gap))


def check(program: LinearProgram) -> None:
    found = solve_program(program)
    exact = exactly(program, found.x.tolist(), found.row_duals.tolist())
    told = certify(program, found.x, found.row_duals)
    assert exact.holds
    for name in ("primal", "dual", "gap"):
        size = 1.0 + max(abs(v) for v in (*found.x.tolist(), *found.row_duals.tolist(), 0.0))
        assert abs(getattr(exact, name) - getattr(told, name)) <= float(DUST) * size * 100


def test_the_published_programs() -> None:
    for published in ALL:
        check(published.program)


def test_the_shared_dip() -> None:
    check(build_model(collect_items(BATCH, BRIEF, FOODS), BRIEF, BATCH.recipe).program)


@given(cases())
def test_random_briefs(case: Case) -> None:
    batch = weigh_recipe(case.recipe, FOODS, SYSTEMS["us"])
    items = collect_items(batch, case.brief, FOODS)
    program = build_model(items, case.brief, case.recipe).program
    if solve_program(program).outcome is Outcome.OPTIMAL:
        check(program)
