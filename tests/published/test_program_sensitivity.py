"""Ranges of limits and costs, and how any program answers to a change.

Sources stand beside each program, with whether data and answer were read in a public source, are
from memory, or were constructed.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.sparse import csc_array, vstack

from reformulate import Outcome, solve_program
from tests.published import blends_and_diets as diets
from tests.published import classic_programs as classics
from tests.published.catalogue import ALL
from tests.published.programs import INF, Published, least, optimum, with_row_limit

# Ranging, through re-solves: inside its range a limit moves the objective by its dual, a cost by
# its column's amount; beyond either end it does not.

STEP = 0.05


def shifts(case: classics.Range, to: float) -> tuple[float, float]:
    """What the objective gains when the limit or cost moves there, and what the prices foretell."""
    program = case.program
    base = optimum(program)
    if case.row is not None:
        lower, upper = program.row_lower[case.row], program.row_upper[case.row]
        now = float(lower if np.isfinite(lower) else upper)
        moved = with_row_limit(program, case.row, to)
        rate = base.row_duals[case.row]
    else:
        assert case.column is not None
        sign = -1.0 if case.maximised else 1.0
        cost = program.cost.copy()
        now, cost[case.column] = sign * cost[case.column], sign * to
        moved = replace(program, cost=cost)
        rate = sign * base.x[case.column]
    foretold = rate * (to - now)
    if solve_program(moved).outcome is Outcome.UNBOUNDED:  # a cost below 0 that nothing stops
        return -INF, foretold
    return least(moved) - base.objective, foretold


@pytest.mark.parametrize("case", classics.RANGES, ids=str)
def test_a_published_range_is_where_the_price_holds(case: classics.Range) -> None:
    ends = [end for end in (case.low, case.high) if np.isfinite(end)]
    assert ends
    for end in ends:
        gained, foretold = shifts(case, end)
        assert gained == pytest.approx(foretold, abs=1e-8)
        outward = STEP if end == case.high else -STEP
        gained, foretold = shifts(case, end + outward)
        assert abs(gained - foretold) > 1e-4
    for end in (case.low, case.high):
        if not np.isfinite(end):
            gained, foretold = shifts(case, 1e3 if end > 0 else -1e3)
            assert gained == pytest.approx(foretold, abs=1e-8)


# Behaviour that any linear program must show; the programs are those above.


@pytest.mark.parametrize("case", [c for c in ALL if c.duals], ids=str)
def test_scaling_every_limit_scales_the_amounts_and_leaves_the_duals(case: Published) -> None:
    program, k = case.program, 3.0
    bigger = replace(
        program,
        row_lower=k * program.row_lower,
        row_upper=k * program.row_upper,
        column_lower=k * program.column_lower,
        column_upper=k * program.column_upper,
    )
    one, many = optimum(program), optimum(bigger)
    assert many.x == pytest.approx(k * one.x, rel=1e-6, abs=1e-6)
    assert many.row_duals == pytest.approx(one.row_duals, abs=1e-9)


@pytest.mark.parametrize("case", [c for c in ALL if c.duals], ids=str)
def test_a_redundant_row_changes_nothing_and_costs_nothing(case: Published) -> None:
    program = case.program
    one = optimum(program)
    everything = np.abs(program.matrix.toarray()).sum(axis=0)
    wide = replace(
        program,
        rows=(*program.rows, "redundant"),
        matrix=csc_array(vstack([program.matrix, csc_array(everything[None, :])])),
        row_lower=np.append(program.row_lower, -1e6),
        row_upper=np.append(program.row_upper, 1e6),
    )
    two = optimum(wide)
    assert two.x == pytest.approx(one.x, abs=1e-9)
    assert two.row_duals == pytest.approx([*one.row_duals, 0.0], abs=1e-12)


def test_relaxing_a_binding_row_by_one_moves_the_objective_by_its_dual() -> None:
    # Winston's diet: 6 may go to 10, and 10 to infinity.
    base = optimum(diets.WINSTON_DIET)
    for row, limit in ((1, 7.0), (2, 11.0)):
        assert least(with_row_limit(diets.WINSTON_DIET, row, limit)) - base.objective == (
            pytest.approx(base.row_duals[row])
        )
