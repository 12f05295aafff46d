"""When the musts conflict: the least that has to give; MODEL.md §6."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array, hstack, vstack

from reformulate.optimise.engine import Outcome, SolverStopped, solve_program
from reformulate.optimise.fractional import least_ratio
from reformulate.optimise.model import Model, with_share_limit
from reformulate.optimise.program import LinearProgram

FloatArray = NDArray[np.float64]

DUST = 1e-9
"""Slack below this is the solver's own tolerance, not a limit that gives way [fraction of a size]."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Relaxed:
    """A model whose limits are moved by the least that makes them fit together."""

    model: Model
    gives: FloatArray
    """(m,) how far each row gives, as a fraction of its size [1]."""
    cost: tuple[float, float]
    """Sums of what holds give and of what goals give [1]."""


def relax(model: Model) -> Relaxed:
    """Find the nearest limits that can be kept together.

    Goals give way before holds; within each, the sum of what gives, each as a fraction of its own
    size, is least. Bounds on single lines never give. A share that gives way is then moved as near
    to its limit as the others let it.
    """
    program = model.program
    m, levels = len(program.rows), np.ones(len(model.levels))
    size = np.append(np.array([row.size for row in model.rows]) / model.row_scale, levels)
    is_goal = np.arange(m) < model.goal_count
    is_hold = ~is_goal & (np.arange(m) < len(model.rows))
    found = solve_program(
        with_slack(program, size, cost=is_goal, most=np.where(is_goal, np.inf, 0.0))
    )
    if found.outcome is Outcome.INFEASIBLE:
        anything = np.where(is_goal | is_hold, np.inf, 0.0)
        holds = solve_program(with_slack(program, size, cost=is_hold, most=anything))
        if holds.outcome is not Outcome.OPTIMAL:
            raise SolverStopped("The solver found no nearest limits.")
        given = _slack(holds.x, m).max(axis=0) + DUST
        found = solve_program(
            with_slack(program, size, cost=is_goal, most=np.where(is_goal, np.inf, given))
        )
    if found.outcome is not Outcome.OPTIMAL:
        raise SolverStopped("The solver found no nearest limits.")
    short, over = _slack(found.x, m)
    relaxed = replace(
        model,
        program=replace(
            program,
            row_lower=program.row_lower - short * size,
            row_upper=program.row_upper + over * size,
        ),
    )
    gives = np.maximum(short, over)
    for i in np.flatnonzero(gives[: model.goal_count]):
        if model.rows[i].is_share:
            relaxed = _nearest_share(relaxed, int(i))
    return Relaxed(
        model=relaxed,
        gives=gives[: len(model.rows)],
        cost=(float(gives[is_hold].sum()), float(gives[is_goal].sum())),
    )


def _nearest_share(model: Model, i: int) -> Model:
    """Move a share's limit to the nearest that can be had with all other limits as they are.

    The slack of a share's row is an amount, not a share: the same slack is less of a share in a
    larger batch. So the share itself is made least, or greatest, here.
    """
    row, program = model.rows[i], model.program
    if row.top is None or row.whole is None:
        return model
    here = np.arange(len(program.rows)) == i
    free = replace(
        program,
        row_lower=np.where(here, -np.inf, program.row_lower),
        row_upper=np.where(here, np.inf, program.row_upper),
    )
    sign = -1.0 if np.isfinite(row.lower) else 1.0
    original = model.items.original
    nearest = sign * least_ratio(
        free,
        sign * row.top @ model.to_grams,
        float(sign * row.top @ original),
        row.whole @ model.to_grams,
        float(row.whole @ original),
    )
    return with_share_limit(model, i, nearest) if np.isfinite(nearest) else model


def with_slack(
    program: LinearProgram, size: FloatArray, *, cost: NDArray[Any], most: FloatArray
) -> LinearProgram:
    """Give each limit a column of its own that lets it give way, by the row's own size.

    Each row stands twice, once a side, so that limits that cross each other can both give.
    """
    m, n = program.matrix.shape
    give = csc_array((size, (np.arange(m), np.arange(m))), shape=(m, m))
    none = csc_array((m, m))
    return replace(
        program,
        columns=(
            *program.columns,
            *(f"short {row}" for row in program.rows),
            *(f"over {row}" for row in program.rows),
        ),
        rows=(*program.rows, *program.rows),
        cost=np.concatenate([np.zeros(n), cost.astype(float), cost.astype(float)]),
        matrix=csc_array(
            vstack([hstack([program.matrix, give, none]), hstack([program.matrix, none, -give])])
        ),
        row_lower=np.concatenate([program.row_lower, np.full(m, -np.inf)]),
        row_upper=np.concatenate([np.full(m, np.inf), program.row_upper]),
        column_lower=np.concatenate([program.column_lower, np.zeros(2 * m)]),
        column_upper=np.concatenate([program.column_upper, most, most]),
    )


def with_slack_on(
    program: LinearProgram, size: FloatArray, sides: tuple[tuple[int, str, float], ...]
) -> LinearProgram:
    """Let some limits give way, as little as may be: row, side, and by how much at most [of its size]."""
    m, n = program.matrix.shape
    nothing = np.zeros(m)
    elastic = with_slack(program, size, cost=nothing, most=nothing)
    cost, upper = elastic.cost.copy(), elastic.column_upper.copy()
    for i, side, most in sides:
        at = n + i if side == "lower" else n + m + i
        cost[at], upper[at] = 1.0, most
    return replace(elastic, cost=cost, column_upper=upper)


def _slack(x: FloatArray, m: int) -> FloatArray:
    """(2, m) short and over, cleared of the solver's dust."""
    slack = x[len(x) - 2 * m :].reshape(2, m)
    return np.where(slack > DUST, slack, 0.0)
