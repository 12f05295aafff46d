"""The least that the largest relative change can be; MODEL.md §4."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array, eye_array, hstack, vstack

from reformulate.optimise.certificate import Certificate, certify
from reformulate.optimise.engine import Engine, Outcome
from reformulate.optimise.program import LinearProgram

FloatArray = NDArray[np.float64]


class GentlestEngine:
    """A warm program with one more column, above which no change may go: it is made least."""

    def __init__(self, program: LinearProgram) -> None:
        self._rows = np.arange(len(program.rows), dtype=np.int32)
        self._engine = Engine(_with_largest(program))

    def set_row(self, row: int, coefficients: FloatArray) -> None:
        """Change every coefficient (n,) of one row."""
        self._engine.set_row(row, np.append(coefficients, 0.0))

    def largest_change(self, program: LinearProgram) -> tuple[float, Certificate] | None:
        """Return the least largest change [1] under a program's limits and bounds, with its proof.

        None where the solver finds no amounts within the limits.
        """
        self._engine.set_row_limits(self._rows, program.row_lower, program.row_upper)
        self._engine.set_column_limits(
            np.append(program.column_lower, 0.0), np.append(program.column_upper, np.inf)
        )
        found = self._engine.solve()
        if found.outcome is not Outcome.OPTIMAL:
            return None
        return found.objective, certify(_with_largest(program), found.x, found.row_duals)


def _with_largest(program: LinearProgram) -> LinearProgram:
    """Add the largest change as a column, and a row for each change that keeps it below that."""
    m, n = program.matrix.shape
    changes = np.flatnonzero(program.cost)
    below = hstack([eye_array(n).tocsr()[changes], np.full((len(changes), 1), -1.0)])
    return replace(
        program,
        columns=(*program.columns, "largest change"),
        rows=(*program.rows, *(f"{program.columns[j]} at most the largest" for j in changes)),
        cost=np.append(np.zeros(n), 1.0),
        matrix=csc_array(vstack([hstack([program.matrix, csc_array((m, 1))]), below])),
        row_lower=np.concatenate([program.row_lower, np.full(len(changes), -np.inf)]),
        row_upper=np.concatenate([program.row_upper, np.zeros(len(changes))]),
        column_lower=np.append(program.column_lower, 0.0),
        column_upper=np.append(program.column_upper, np.inf),
    )
