"""The proof that comes with an answer, computed here and from the program alone."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reformulate.optimise.program import LinearProgram

FloatArray = NDArray[np.float64]

TOLERANCE = 1e-6
"""Largest residual and gap under which an answer counts as proven [1]; rows are scaled to size 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Certificate:
    """How far a pair of amounts and prices is from proving itself optimal; all zero is a proof."""

    primal: float
    """Largest violation of a row or bound by the amounts [scaled row unit]."""
    dual: float
    """Largest price on a limit that does not exist [objective per scaled row unit]."""
    gap: float
    """|cost of the amounts - bound the prices prove| / (1 + |cost|) [1]."""

    @property
    def holds(self) -> bool:
        """True where every figure is within the tolerance."""
        return all(figure <= TOLERANCE for figure in (self.primal, self.dual, self.gap))


UNPROVEN = Certificate(primal=float("inf"), dual=float("inf"), gap=float("inf"))
"""What stands where nothing was proven."""


def worst(*certificates: Certificate) -> Certificate:
    """Return the largest of each figure of one or more certificates."""
    return Certificate(
        primal=max(one.primal for one in certificates),
        dual=max(one.dual for one in certificates),
        gap=max(one.gap for one in certificates),
    )


def certify(program: LinearProgram, x: FloatArray, row_duals: FloatArray) -> Certificate:
    r"""Check amounts ``x`` (n,) against prices ``row_duals`` (m,) by weak duality.

    .. math:: c^T x \;\ge\; \sum_i y_i b_i(y_i) + \sum_j d_j l_j(d_j), \qquad d = c - A^T y

    where a positive price stands on the lower limit and a negative one on the upper. Reduced costs
    are computed from the prices, so nothing but the prices is taken from the solver.

    Source: weak duality of linear programming, as in any textbook (Chvatal, Linear Programming,
    1983, chapter 5; from memory).
    """
    activity = program.activity(x)
    primal = np.maximum(
        _excess(activity, program.row_lower, program.row_upper),
        _excess(x, program.column_lower, program.column_upper),
    )
    reduced = program.reduced_cost(row_duals)
    row_bound, row_stray = _bound(row_duals, program.row_lower, program.row_upper)
    column_bound, column_stray = _bound(reduced, program.column_lower, program.column_upper)
    cost = float(program.cost @ x)
    gap = abs(cost - row_bound - column_bound) / (1.0 + abs(cost))
    return Certificate(
        primal=float(primal), dual=float(np.maximum(row_stray, column_stray)), gap=gap
    )


def proven_bound(program: LinearProgram, row_duals: FloatArray, but: int) -> float:
    """Return the cost that no ``x`` with column ``but`` at 0 can undercut [objective unit], by prices."""
    reduced = program.reduced_cost(row_duals)
    others = np.arange(len(reduced)) != but
    rows, _ = _bound(row_duals, program.row_lower, program.row_upper)
    columns, _ = _bound(reduced[others], program.column_lower[others], program.column_upper[others])
    return rows + columns


def _excess(values: FloatArray, lower: FloatArray, upper: FloatArray) -> float:
    return float(np.maximum(lower - values, values - upper).max(initial=0.0))


def _bound(prices: FloatArray, lower: FloatArray, upper: FloatArray) -> tuple[float, float]:
    """Return what the prices prove, and the largest price on a limit that is not there."""
    limits = np.where(prices > 0, lower, upper)
    there = np.isfinite(limits)
    stray = np.abs(prices[~there]).max(initial=0.0)
    return float(prices[there] @ limits[there]), float(stray)
