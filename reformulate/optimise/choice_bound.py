"""The least that choices can cost, proven by prices on the limits: a linear program's, checked here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from reformulate.optimise.choice_task import Task
from reformulate.optimise.engine import Engine
from reformulate.optimise.program import linear_program

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]

MUST: Final = 1e3
"""Price of missing a must in the program, beside what options and misses differ in [1]. The program then
always has an optimum; whatever the price, the bound computed from it is true."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Prices:
    """Prices on the limits, and what follows from them for every choice among the open options."""

    row: FloatArray
    """(m,) per unit of each row's limit, positive for the lower one [1 per row unit]."""
    bound: float
    """No choice costs less [1]."""
    excess: FloatArray
    """(N,) a choice that takes an option costs at least ``bound`` and this, added up over all items
    [1]; inf for options that are not open."""
    share: FloatArray
    """(N,) how much of each option the program takes [1]."""


class Relaxation:
    """The task with options that may be mixed, in a solver of its own."""

    def __init__(self, task: Task) -> None:
        self._task = task
        rows, options = task.adds.shape
        slack, sums = np.eye(rows), len(task.most)
        one_each = np.arange(len(task.first))[:, None] == task.item
        price, beyond = _finite(task)
        self._engine = Engine(
            linear_program(
                np.concatenate([task.cost, price, price, np.full(sums, beyond)]),
                np.block(
                    [
                        [task.adds, slack, -slack, np.zeros((rows, sums))],
                        [one_each.astype(float), np.zeros((len(one_each), 2 * rows + sums))],
                        [np.zeros((sums, options)), task.shares, task.shares, -np.eye(sums)],
                    ]
                ),
                np.concatenate([task.lower, np.ones(len(one_each)), np.full(sums, -np.inf)]),
                np.concatenate([task.upper, np.ones(len(one_each)), task.most]),
            )
        )
        self._slack = np.full(2 * rows + sums, np.inf)

    def prices(self, is_open: BoolArray) -> Prices:
        """Return the prices that prove most for the open options (N,), at least one an item."""
        task, rows = self._task, len(self._task.lower)
        upper = np.concatenate([is_open.astype(float), self._slack])
        self._engine.set_column_limits(np.zeros(len(upper)), upper)
        found = self._engine.solve()
        of_sums = np.minimum(found.row_duals[rows + len(task.first) :], 0.0)
        # Whatever the solver's tolerance left over is cut off: any prices within these bounds prove.
        most = task.price - of_sums @ task.shares
        row = np.clip(found.row_duals[:rows], -most, most)
        row[(row > 0.0) & np.isinf(task.lower) | (row < 0.0) & np.isinf(task.upper)] = 0.0
        limit = np.where(row > 0.0, task.lower, task.upper)
        reduced = np.where(is_open, task.cost - row @ task.adds, np.inf)
        least = np.minimum.reduceat(reduced, task.first)
        paid = row[row != 0.0] @ limit[row != 0.0] + of_sums @ task.most
        return Prices(
            row=row,
            bound=float(least.sum() + paid),
            excess=reduced - least[task.item],
            share=found.x[: len(is_open)],
        )


def _finite(task: Task) -> tuple[FloatArray, float]:
    """Return prices of misses (m,), high ones for musts [1 per row unit], and that of a sum's [1]."""

    def spread(values: FloatArray) -> FloatArray:
        ends = np.maximum.reduceat, np.minimum.reduceat
        high, low = (end(values, task.first, axis=-1) for end in ends)
        widest: FloatArray = (high - low).max(axis=-1)
        return widest

    of_rows, soft = spread(task.adds), ~task.musts
    of_misses = task.price[soft] * of_rows[soft]
    unit = max(float(spread(task.cost)), float(of_misses.max(initial=0.0)))
    high = MUST * (unit or 1.0)
    return np.where(soft, task.price, high / np.where(of_rows > 0.0, of_rows, 1.0)), high
