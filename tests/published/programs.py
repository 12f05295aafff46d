"""Linear programs with published answers, as values.

Tags say where the data and the answer come from: "read" in a public source, or "from memory" and
consistent with the published optimum; "constructed" for our own, hand-derivable ones.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from reformulate import (
    LinearProgram,
    Outcome,
    Solution,
    certify,
    linear_program,
    solve_program,
)

INF = np.inf


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Published:
    """A program and what is published about its optimum, in the sense it was published in."""

    name: str
    source: str
    data: str
    """Where the data come from: read, from memory, or constructed."""
    answer: str
    """Where the answer comes from: read, from memory, or constructed."""
    program: LinearProgram
    """As a minimisation."""
    objective: float
    maximised: bool = False
    x: tuple[float, ...] | None = None
    """None where the optimum is not unique."""
    duals: tuple[float, ...] | None = None
    """Change of the objective per unit increase of each row's limit; None where degenerate."""
    reduced: tuple[float, ...] | None = None
    """Reduced costs of the columns."""
    digits: float = 1e-6
    """Relative tolerance of the objective: rounding of the published figure [1]."""
    x_within: float = 1e-6
    """Absolute tolerance of the amounts [unit of the column]."""
    dual_within: float = 1e-6
    """Absolute tolerance of the duals [objective per row unit]."""
    scale: float = 1.0
    """Units of the published objective and duals per unit of the program's, as days in a year."""
    known_duals: dict[int, float] = field(default_factory=dict)
    """Published duals by row where not all are published."""

    def __str__(self) -> str:
        return self.name

    @property
    def sign(self) -> float:
        """Turns a figure of the minimisation into the published one."""
        return -self.scale if self.maximised else self.scale


def between(*limits: tuple[float, float]) -> tuple[list[float], list[float]]:
    """Row limits as (lowest, highest) a row."""
    return [low for low, _ in limits], [high for _, high in limits]


def minimise(
    cost: Sequence[float],
    matrix: Sequence[Sequence[float]],
    *limits: tuple[float, float],
    column_lower: object = 0.0,
    column_upper: object = INF,
) -> LinearProgram:
    """Build a minimisation from rows and (lowest, highest) a row."""
    return linear_program(
        list(cost), matrix, *between(*limits), column_lower=column_lower, column_upper=column_upper
    )


def maximise(
    gain: Sequence[float],
    matrix: Sequence[Sequence[float]],
    *limits: tuple[float, float],
    column_lower: object = 0.0,
    column_upper: object = INF,
) -> LinearProgram:
    """Build a maximisation, as the minimisation of its negative."""
    return minimise(
        [-g for g in gain], matrix, *limits, column_lower=column_lower, column_upper=column_upper
    )


def optimum(program: LinearProgram) -> Solution:
    """Solve and prove: every optimum of these tests carries its certificate."""
    found = solve_program(program)
    assert found.outcome is Outcome.OPTIMAL
    assert certify(program, found.x, found.row_duals).holds
    return found


def least(program: LinearProgram) -> float:
    """The proven optimum of the objective."""
    return optimum(program).objective


def infeasible(program: LinearProgram) -> bool:
    """Whether the engine proves that no amounts keep all rows."""
    return solve_program(program).outcome is Outcome.INFEASIBLE


def with_row_limit(program: LinearProgram, row: int, limit: float) -> LinearProgram:
    """The program with the one finite limit of a row moved."""
    lower, upper = program.row_lower.copy(), program.row_upper.copy()
    side = lower if np.isfinite(lower[row]) else upper
    side[row] = limit
    return replace(program, row_lower=lower, row_upper=upper)
