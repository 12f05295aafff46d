"""One linear program kept warm in HiGHS: limits change, the basis stays."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from typing import Any, Final

import highspy
import numpy as np
from numpy.typing import NDArray

from reformulate.errors import ReformulateError
from reformulate.optimise.program import LinearProgram

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int32]


class Outcome(Enum):
    """What became of a solve."""

    OPTIMAL = "optimal"
    INFEASIBLE = "infeasible"
    UNBOUNDED = "unbounded"
    STOPPED = "stopped"


_Status = highspy.HighsModelStatus

OUTCOME_OF_STATUS: Final = {
    _Status.kOptimal: Outcome.OPTIMAL,
    _Status.kModelEmpty: Outcome.OPTIMAL,
    _Status.kInfeasible: Outcome.INFEASIBLE,
    _Status.kUnbounded: Outcome.UNBOUNDED,
} | {
    status: Outcome.STOPPED
    for status in _Status.__members__.values()
    if status
    not in (_Status.kOptimal, _Status.kModelEmpty, _Status.kInfeasible, _Status.kUnbounded)
}
"""An outcome for every status the solver has; whatever proves nothing is STOPPED."""

FEASIBILITY = 1e-9
"""Tolerance on rows and prices [scaled row unit]; tighter than the solver's own 1e-7 because a goal
called met has to be met by the grams shown."""

USUAL: Final[Mapping[str, object]] = {
    "threads": 1,
    "parallel": "off",
    "presolve": "off",
    "solver": "simplex",
    "random_seed": 0,
    "primal_feasibility_tolerance": FEASIBILITY,
    "dual_feasibility_tolerance": FEASIBILITY,
}

SECOND_TRIES: Final[tuple[Mapping[str, object], ...]] = (
    {"presolve": "on"},
    {"presolve": "on", "primal_feasibility_tolerance": 1e-7, "dual_feasibility_tolerance": 1e-7},
)
"""What is tried, from cold, when a warm basis has led simplex astray: presolve, then the solver's own
tolerances. A certificate is computed all the same, and says how good the answer is."""


class SolverStopped(ReformulateError):  # noqa: N818
    """The solver gave up without proving anything."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Solution:
    """What the solver found."""

    outcome: Outcome
    objective: float
    """Cost at the solution [objective unit]; nan unless OPTIMAL."""
    x: FloatArray
    """(n,) values of the columns [column unit]; empty unless OPTIMAL."""
    row_duals: FloatArray
    """(m,) change of the objective per unit of each row's limit [objective unit per row unit]; empty
    unless OPTIMAL."""


class _QuietHighs(highspy.Highs):
    """HiGHS that is told to be silent before it has anything to say."""

    def enableCallbacks(self) -> None:  # noqa: N802 - HiGHS calls it
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()  # type: ignore[no-untyped-call]


class Engine:
    """A program in a solver of its own, so that each re-solve starts from its last basis."""

    def __init__(self, program: LinearProgram) -> None:
        self._highs: Any = _QuietHighs()  # type: ignore[no-untyped-call]
        self._set(USUAL)
        if self._highs.passModel(_as_highs(program)) == highspy.HighsStatus.kError:
            raise SolverStopped("The solver refused the program: a coefficient is out of range.")
        self._columns = np.arange(len(program.columns), dtype=np.int32)

    def set_row_limits(self, rows: IntArray, lower: FloatArray, upper: FloatArray) -> None:
        """Change the limits of the numbered rows."""
        self._highs.changeRowsBounds(len(rows), rows, lower, upper)

    def set_column_limits(self, lower: FloatArray, upper: FloatArray) -> None:
        """Change the bounds of every column."""
        self._highs.changeColsBounds(len(self._columns), self._columns, lower, upper)

    def set_row(self, row: int, coefficients: FloatArray) -> None:
        """Change every coefficient (n,) of one row."""
        for column, value in enumerate(coefficients):
            self._highs.changeCoeff(row, column, value)

    def set_column(self, column: int, coefficients: FloatArray) -> None:
        """Change every coefficient (m,) of one column."""
        for row, value in enumerate(coefficients):
            self._highs.changeCoeff(row, column, value)

    def set_cost(self, cost: FloatArray) -> None:
        """Change the objective (n,)."""
        self._highs.changeColsCost(len(self._columns), self._columns, cost)

    def value(self) -> tuple[Outcome, float]:
        """Solve; return the outcome and the objective, nan unless OPTIMAL."""
        outcome = self._run()
        if outcome is not Outcome.OPTIMAL:
            return outcome, np.nan
        return outcome, self._highs.getObjectiveValue()

    def solve(self) -> Solution:
        """Solve; return the whole solution."""
        outcome, objective = self.value()
        if outcome is not Outcome.OPTIMAL:
            empty = np.empty(0)
            return Solution(outcome=outcome, objective=np.nan, x=empty, row_duals=empty)
        found = self._highs.getSolution()
        return Solution(
            outcome=outcome,
            objective=objective,
            x=np.array(found.col_value),
            row_duals=np.array(found.row_dual),
        )

    def _run(self) -> Outcome:
        self._highs.run()
        outcome = OUTCOME_OF_STATUS[self._highs.getModelStatus()]
        for options in SECOND_TRIES if outcome is Outcome.STOPPED else ():
            self._highs.clearSolver()
            self._set({**USUAL, **options})
            self._highs.run()
            self._set(USUAL)
            outcome = OUTCOME_OF_STATUS[self._highs.getModelStatus()]
            if outcome is not Outcome.STOPPED:
                break
        if outcome is Outcome.STOPPED:
            status = self._highs.modelStatusToString(self._highs.getModelStatus())
            raise SolverStopped(f"The solver stopped without an answer ({status}).")
        return outcome

    def _set(self, options: Mapping[str, object]) -> None:
        for option, value in options.items():
            self._highs.setOptionValue(option, value)


def solve_program(program: LinearProgram) -> Solution:
    """Solve one program from cold."""
    return Engine(program).solve()


def _as_highs(program: LinearProgram) -> highspy.HighsLp:
    lp = highspy.HighsLp()
    lp.num_row_, lp.num_col_ = program.matrix.shape
    lp.col_cost_ = program.cost
    lp.col_lower_, lp.col_upper_ = program.column_lower, program.column_upper
    lp.row_lower_, lp.row_upper_ = program.row_lower, program.row_upper
    lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    lp.a_matrix_.start_ = program.matrix.indptr
    lp.a_matrix_.index_ = program.matrix.indices
    lp.a_matrix_.value_ = program.matrix.data
    return lp
