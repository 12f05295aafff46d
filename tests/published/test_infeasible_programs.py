"""Programs that cannot be met, what in them conflicts, and how far they must give.

Sources stand beside each program, with whether data and answer were read in a public source, are
from memory, or were constructed.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest

from reformulate import (
    LinearProgram,
    Outcome,
    SolverStopped,
    linear_program,
    second_opinion,
    solve_program,
)
from tests.published import blends_and_diets as diets
from tests.published import classic_programs as classics
from tests.published.catalogue import ALL
from tests.published.programs import INF, Published, infeasible, least, minimise, optimum

# The second book diet, infeasible at 40 g of sodium (AMPL, chapter 2; data from memory).


def sodium_program(*rows: str) -> LinearProgram:
    """Least sodium under the named rows and the package bounds."""
    return minimise(
        diets.BOOK_DIET["NA"],
        [diets.BOOK_DIET[row] for row in rows],
        *(diets.DIET_2_LIMITS[row] for row in rows),
        column_lower=2,
        column_upper=10,
    )


def test_the_second_book_diet_is_infeasible_at_40_g_of_sodium() -> None:
    assert infeasible(diets.book_diet_2(40000))
    with pytest.raises(SolverStopped):
        second_opinion(diets.book_diet_2(40000))


def test_the_least_sodium_of_the_second_book_diet_tells_how_far_to_relax() -> None:
    # Constructed on the same data.
    found = optimum(sodium_program(*diets.VITAMINS, "CAL"))
    assert found.objective == pytest.approx(48186)
    amounts = dict(zip(diets.BOOK_DIET_FOODS, found.x.tolist(), strict=True))
    assert amounts == pytest.approx(
        dict.fromkeys(diets.BOOK_DIET_FOODS, 2)
        | {"BEEF": 10, "HAM": 10, "MCH": 10, "MTL": 10, "SPG": 14 / 3}
    )
    assert infeasible(diets.book_diet_2(48185))
    assert least(diets.book_diet_2(48187)) > 0


@pytest.mark.parametrize(
    ("row", "sodium"),
    [("A", 19179.6), ("C", 20305.5), ("B1", 26893.2), ("B2", 48186), ("CAL", 32778)],
)
def test_riboflavin_alone_conflicts_with_the_sodium_limit(row: str, sodium: float) -> None:
    # Constructed: the irreducible set is B2, NA and the package bounds.
    found = least(sodium_program(row))
    assert found == pytest.approx(sodium, abs=0.06)
    assert (found > 40000) == (row == "B2")


# The solver diet with a limit on dairy (constructed).


def solver_diet(cost: Sequence[float], *rows: str, dairy: float = INF) -> LinearProgram:
    picked = [diets.SOLVER_DIET[row] for row in rows]
    return minimise(
        cost,
        [*(row for row, _ in picked), diets.DAIRY],
        *(limits for _, limits in picked),
        (-INF, dairy),
    )


def test_too_little_dairy_makes_the_solver_diet_infeasible() -> None:
    rows = tuple(diets.SOLVER_DIET)
    assert infeasible(solver_diet(diets.SOLVER_DIET_COST, *rows, dairy=6))
    dairy = [float(d) for d in diets.DAIRY]
    assert least(solver_diet(dairy, *rows)) == pytest.approx(9.561458, abs=1e-6)


def test_protein_sodium_and_dairy_are_an_irreducible_set() -> None:
    cost = diets.SOLVER_DIET_COST
    assert infeasible(solver_diet(cost, "protein", "sodium", dairy=6))
    assert least(solver_diet(cost, "protein", "sodium")) > 0
    assert least(solver_diet(cost, "protein", dairy=6)) > 0
    assert least(solver_diet(cost, "sodium", dairy=6)) == 0


# The lean dip (constructed).


def dip_of(*rows: str) -> LinearProgram:
    return classics.dip([0.0] * 4, *rows)


def test_the_lean_dip_is_infeasible_for_fat_and_energy_alone() -> None:
    rows = ("sum", "fat", "kcal", "protein")
    assert infeasible(dip_of(*rows))
    assert infeasible(dip_of("sum", "fat", "kcal"))
    for dropped in ("fat", "kcal"):
        assert not infeasible(dip_of(*(row for row in rows if row != dropped)))


@pytest.mark.parametrize("conflict", [("sum", "fat", "kcal"), ("fat", "kcal", "protein")])
def test_each_conflict_of_the_lean_dip_is_irreducible(conflict: tuple[str, ...]) -> None:
    assert infeasible(dip_of(*conflict))
    for dropped in conflict:
        assert not infeasible(dip_of(*(row for row in conflict if row != dropped)))


def test_the_least_energy_of_the_dip_tells_how_far_to_relax() -> None:
    program = classics.dip(classics.DIP_KCAL, "sum", "fat")
    found = optimum(program)
    assert found.objective == pytest.approx(155.084337, abs=6e-7)
    assert found.objective - 120 == pytest.approx(35.084337, abs=6e-7)
    assert found.x == pytest.approx([88.353414, 0, 0, 11.646586], abs=6e-7)
    assert second_opinion(program) == pytest.approx(155.084337, abs=1e-5)


# Outcomes other than an optimum, of any program.


def test_what_nothing_stops_is_unbounded() -> None:
    found = solve_program(linear_program([-1.0], [[1.0]], 0.0, np.inf))
    assert found.outcome is Outcome.UNBOUNDED
    assert found.x.size == 0
    assert np.isnan(found.objective)


def elastic(program: LinearProgram) -> LinearProgram:
    """Least total violation of the rows, bounds kept."""
    m, n = program.matrix.shape
    return linear_program(
        [0.0] * n + [1.0] * (2 * m),
        np.hstack([program.matrix.toarray(), np.eye(m), -np.eye(m)]),
        program.row_lower,
        program.row_upper,
        column_lower=np.concatenate([program.column_lower, np.zeros(2 * m)]),
        column_upper=np.concatenate([program.column_upper, np.full(2 * m, INF)]),
    )


@pytest.mark.parametrize("case", ALL, ids=str)
def test_a_feasible_program_needs_no_violation(case: Published) -> None:
    assert least(elastic(case.program)) == pytest.approx(0, abs=1e-8)


def test_an_infeasible_program_needs_some() -> None:
    assert least(elastic(diets.book_diet_2(40000))) > 1
    assert least(elastic(dip_of("sum", "fat", "kcal"))) > 1
