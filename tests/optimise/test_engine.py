"""The solver behind the model: every ending has an outcome, and a warm program is the same one."""

from __future__ import annotations

import highspy
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import (
    LinearProgram,
    Outcome,
    SolverStopped,
    certify,
    linear_program,
    second_opinion,
    solve_program,
)
from reformulate.optimise.engine import OUTCOME_OF_STATUS, Engine

PROGRAM = linear_program([2.0, 3.0], [[1.0, 1.0]], 4.0, np.inf, column_upper=[3.0, np.inf])


def test_every_status_of_the_solver_has_an_outcome() -> None:
    assert set(OUTCOME_OF_STATUS) == set(highspy.HighsModelStatus.__members__.values())
    proofs = {
        status.name
        for status, outcome in OUTCOME_OF_STATUS.items()
        if outcome is not Outcome.STOPPED
    }
    assert proofs == {"kOptimal", "kModelEmpty", "kInfeasible", "kUnbounded"}


def test_a_program_with_an_answer() -> None:
    found = solve_program(PROGRAM)
    assert found.outcome is Outcome.OPTIMAL
    assert found.objective == pytest.approx(9.0)
    assert found.x.tolist() == pytest.approx([3.0, 1.0])
    assert found.row_duals.tolist() == pytest.approx([3.0])


def test_a_program_without_an_answer() -> None:
    found = solve_program(linear_program([1.0], [[1.0]], 2.0, 3.0, column_upper=1.0))
    assert found.outcome is Outcome.INFEASIBLE
    assert np.isnan(found.objective)
    assert found.x.size == found.row_duals.size == 0


def test_a_program_without_an_end() -> None:
    found = solve_program(linear_program([-1.0, 0.0], [[1.0, -1.0]], -np.inf, 1.0))
    assert found.outcome is Outcome.UNBOUNDED


def test_a_warm_program_follows_its_limits_costs_and_rows() -> None:
    engine = Engine(PROGRAM)
    assert engine.value() == (Outcome.OPTIMAL, pytest.approx(9.0))
    row = np.array([0], dtype=np.int32)
    engine.set_row_limits(row, np.array([6.0]), np.array([np.inf]))
    assert engine.value()[1] == pytest.approx(15.0)
    engine.set_cost(np.array([3.0, 2.0]))
    assert engine.value()[1] == pytest.approx(12.0)
    engine.set_row(0, np.array([1.0, 0.5]))
    assert engine.value()[1] == pytest.approx(3 * 3 + 2 * 6)
    engine.set_column_limits(np.zeros(2), np.array([1.0, 2.0]))
    assert engine.value()[0] is Outcome.INFEASIBLE
    engine.set_column_limits(np.zeros(2), np.array([6.0, 6.0]))
    assert engine.value()[1] == pytest.approx(18.0)


def test_a_solver_says_nothing_on_the_screen(capfd: pytest.CaptureFixture[str]) -> None:
    solve_program(PROGRAM)
    solve_program(linear_program([1.0], [[1.0]], 2.0, 3.0, column_upper=1.0))
    second_opinion(PROGRAM)
    told = capfd.readouterr()
    assert told.out == ""
    assert told.err == ""


def test_a_program_of_plain_arrays_fills_in_sides_and_names() -> None:
    assert PROGRAM.columns == ("x0", "x1")
    assert PROGRAM.rows == ("r0",)
    assert PROGRAM.row_lower.tolist() == [4.0]
    assert PROGRAM.column_lower.tolist() == [0.0, 0.0]


def test_a_program_whose_shapes_disagree_is_refused() -> None:
    with pytest.raises(ValueError, match="cost has shape"):
        linear_program([1.0, 2.0], [[1.0]], 0.0, 1.0)


@st.composite
def programs(draw: st.DrawFn) -> LinearProgram:
    n, m = draw(st.integers(1, 5)), draw(st.integers(1, 5))
    small = st.integers(-5, 5).map(float)
    return linear_program(
        draw(st.lists(small, min_size=n, max_size=n)),
        draw(st.lists(st.lists(small, min_size=n, max_size=n), min_size=m, max_size=m)),
        -np.inf,
        draw(st.lists(small, min_size=m, max_size=m)),
        column_upper=draw(st.sampled_from([4.0, np.inf])),
    )


@given(programs())
def test_any_small_program_is_proven_or_refused_by_both_solvers(program: LinearProgram) -> None:
    found = solve_program(program)
    if found.outcome is not Outcome.OPTIMAL:
        with pytest.raises(SolverStopped):
            second_opinion(program)
        return
    assert certify(program, found.x, found.row_duals).holds
    assert second_opinion(program) == pytest.approx(found.objective, rel=1e-6, abs=1e-6)
