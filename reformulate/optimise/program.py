"""A linear program as a value: what a solver takes, and what a certificate is computed from."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class LinearProgram:
    """Minimise ``cost @ x`` where ``row_lower <= matrix @ x <= row_upper`` and ``x`` in its bounds."""

    columns: tuple[str, ...]
    """Names of the variables, (n,): position j of every column-side array is columns[j]."""
    rows: tuple[str, ...]
    """Names of the constraints, (m,): position i of every row-side array is rows[i]."""
    cost: FloatArray
    """(n,) objective [per unit of the column]."""
    matrix: csc_array
    """(m, n) sparse by columns."""
    row_lower: FloatArray
    """(m,) [row unit], ``-inf`` for none."""
    row_upper: FloatArray
    """(m,) [row unit], ``inf`` for none."""
    column_lower: FloatArray
    """(n,) [column unit], ``-inf`` for none."""
    column_upper: FloatArray
    """(n,) [column unit], ``inf`` for none."""

    def activity(self, x: FloatArray) -> FloatArray:
        """Return ``matrix @ x`` (m,), without the set-up that a sparse product of this size costs."""
        a = self.matrix
        values = a.data * np.repeat(x, np.diff(a.indptr))
        return _sums(a.indices, values, len(self.rows))

    def reduced_cost(self, row_duals: FloatArray) -> FloatArray:
        """Return ``cost - row_duals @ matrix`` (n,) [objective per unit of the column]."""
        a = self.matrix
        columns = np.repeat(np.arange(len(self.columns)), np.diff(a.indptr))
        values = a.data * row_duals[a.indices]
        return self.cost - _sums(columns, values, len(self.columns))


def _sums(places: NDArray[np.int_], values: FloatArray, size: int) -> FloatArray:
    """(size,) the sum of the values that belong to each place."""
    return np.bincount(places, weights=values, minlength=size).astype(np.float64, copy=False)


def linear_program(
    cost: FloatArray | list[float],
    matrix: object,
    row_lower: object,
    row_upper: object,
    *,
    column_lower: object = 0.0,
    column_upper: object = np.inf,
    columns: tuple[str, ...] | None = None,
    rows: tuple[str, ...] | None = None,
) -> LinearProgram:
    """Build a program from plain arrays; scalars fill a whole side, names default to numbers.

    Parameters
    ----------
    cost : (n,) array
    matrix : (m, n) array or sparse array
    row_lower, row_upper, column_lower, column_upper : arrays or scalars

    Raises
    ------
    ValueError
        If the shapes do not agree.
    """
    costs = np.asarray(cost, dtype=float)
    sparse = csc_array(matrix, dtype=float)
    m, n = sparse.shape
    if costs.shape != (n,):
        raise ValueError(f"cost has shape {costs.shape}, the matrix has {n} columns")

    def side(values: object, size: int) -> FloatArray:
        return np.array(np.broadcast_to(np.asarray(values, dtype=float), (size,)))

    return LinearProgram(
        columns=columns or tuple(f"x{j}" for j in range(n)),
        rows=rows or tuple(f"r{i}" for i in range(m)),
        cost=costs,
        matrix=sparse,
        row_lower=side(row_lower, m),
        row_upper=side(row_upper, m),
        column_lower=side(column_lower, n),
        column_upper=side(column_upper, n),
    )
