"""When the musts conflict: the least that has to give; MODEL.md §6."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array, hstack

from reformulate.optimise.engine import Engine, Outcome
from reformulate.optimise.model import Model
from reformulate.optimise.program import LinearProgram

FloatArray = NDArray[np.float64]

CUSHION = 1e-9
"""Slack on top of a limit that gives way [scaled row unit]: the solver's own tolerance."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Relaxed:
    """Limits moved by the least that makes them fit together."""

    lower: FloatArray
    """(m,) [scaled row unit]."""
    upper: FloatArray
    """(m,) [scaled row unit]."""
    gives: FloatArray
    """(m,) how far each row gives, as a fraction of its size [1]."""


def relax(model: Model) -> Relaxed:
    """Find the nearest limits that can be kept together.

    Goals give way before holds; within each, the sum of what gives, each as a fraction of its own
    size, is least. Bounds on single lines never give.
    """
    program = model.program
    m = len(program.rows)
    size = np.array([row.size for row in model.rows]) / model.row_scale
    is_goal = np.arange(m) < model.goal_count
    goals_only = _with_slack(program, size, cost=is_goal, most=np.where(is_goal, np.inf, 0.0))
    engine = Engine(goals_only)
    found = engine.solve()
    if found.outcome is Outcome.INFEASIBLE:
        holds_first = _with_slack(program, size, cost=~is_goal, most=np.full(m, np.inf))
        holds = _slack(Engine(holds_first).solve().x, m).max(axis=0)
        most = np.where(is_goal, np.inf, holds + CUSHION)
        found = Engine(_with_slack(program, size, cost=is_goal, most=most)).solve()
    short, over = _slack(found.x, m) * size
    return Relaxed(
        lower=program.row_lower - np.where(short > 0, short + CUSHION, 0.0),
        upper=program.row_upper + np.where(over > 0, over + CUSHION, 0.0),
        gives=np.maximum(short, over) / size,
    )


def _with_slack(
    program: LinearProgram, size: FloatArray, *, cost: NDArray[np.bool_], most: FloatArray
) -> LinearProgram:
    """Add to each row a column that lifts it and one that lowers it by its own size."""
    m, n = program.matrix.shape
    identity = csc_array((size, (np.arange(m), np.arange(m))), shape=(m, m))
    return replace(
        program,
        columns=(
            *program.columns,
            *(f"short {row}" for row in program.rows),
            *(f"over {row}" for row in program.rows),
        ),
        cost=np.concatenate([np.zeros(n), cost.astype(float), cost.astype(float)]),
        matrix=csc_array(hstack([program.matrix, identity, -identity])),
        column_lower=np.concatenate([program.column_lower, np.zeros(2 * m)]),
        column_upper=np.concatenate([program.column_upper, most, most]),
    )


def _slack(x: FloatArray, m: int) -> FloatArray:
    """(2, m) short and over, cleared of the solver's dust."""
    slack = x[-2 * m :].reshape(2, m)
    return np.where(slack > CUSHION, slack, 0.0)
