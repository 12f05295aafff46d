"""The same program written plainly and solved by another solver: an independent second opinion."""

from __future__ import annotations

import warnings
from typing import TYPE_CHECKING

import numpy as np

from reformulate.optimise.engine import SolverStopped
from reformulate.optimise.program import LinearProgram

if TYPE_CHECKING:
    import pulp


def as_pulp(program: LinearProgram) -> pulp.LpProblem:
    """Write a program in PuLP, one variable a column and one or two constraints a row."""
    import pulp  # noqa: PLC0415 - slow to import, and seldom wanted

    problem = pulp.LpProblem("brief", pulp.LpMinimize)
    variables = [
        problem.add_variable(f"x{j}", _finite(low), _finite(high))
        for j, (low, high) in enumerate(
            zip(program.column_lower, program.column_upper, strict=True)
        )
    ]
    problem += pulp.lpSum(c * v for c, v in zip(program.cost, variables, strict=True) if c)
    rows = program.matrix.tocsr()
    for i in range(len(program.rows)):
        start, stop = rows.indptr[i], rows.indptr[i + 1]
        activity = pulp.lpSum(
            float(value) * variables[j]
            for j, value in zip(rows.indices[start:stop], rows.data[start:stop], strict=True)
        )
        low, high = program.row_lower[i], program.row_upper[i]
        if low == high:
            problem += activity == low
            continue
        if np.isfinite(low):
            problem += activity >= low
        if np.isfinite(high):
            problem += activity <= high
    return problem


def second_opinion(program: LinearProgram) -> float:
    """Return the least cost of a program as CBC finds it.

    Raises
    ------
    SolverStopped
        If CBC finds no optimum.
    """
    import pulp  # noqa: PLC0415

    problem = as_pulp(program)
    with warnings.catch_warnings():
        # The CBC that comes along goes in PuLP 4; pyproject.toml keeps us below 4 for its sake.
        warnings.simplefilter("ignore", DeprecationWarning)
        status = problem.solve(pulp.PULP_CBC_CMD(msg=False))
    if pulp.LpStatus[status] != "Optimal":
        raise SolverStopped(f"The second solver says: {pulp.LpStatus[status]}.")
    return float(pulp.value(problem.objective) or 0.0)


def _finite(limit: float) -> float | None:
    return float(limit) if np.isfinite(limit) else None
