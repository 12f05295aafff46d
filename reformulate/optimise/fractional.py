"""The extreme of a ratio of two linear forms over a program's limits, as one linear program."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array, eye_array, hstack, vstack

from reformulate.optimise.engine import Outcome, solve_program
from reformulate.optimise.program import LinearProgram, linear_program

FloatArray = NDArray[np.float64]


def least_ratio(
    program: LinearProgram, top: FloatArray, top_start: float, whole: FloatArray, whole_start: float
) -> float:
    """Return the least ``(top @ x + top_start) / (whole @ x + whole_start)`` over a program's limits.

    Only x with a denominator above 0 count. Where x may grow without end the value is the least
    limit, ``-inf`` where there is none; nan where no x has a denominator above 0.

    Source: A. Charnes and W. W. Cooper, Programming with linear fractional functionals, Naval
    Research Logistics Quarterly 9 (1962): scale x by t so that the denominator is 1.
    """
    n = len(program.columns)
    top_scale = max(float(np.abs(top).max(initial=0.0)), abs(top_start), 1e-300)
    whole_scale = max(float(np.abs(whole).max(initial=0.0)), abs(whole_start), 1e-300)
    identity = eye_array(n, format="csc")
    blocks = (
        (program.matrix, program.row_lower, 1.0),
        (program.matrix, program.row_upper, -1.0),
        (identity, program.column_lower, 1.0),
        (identity, program.column_upper, -1.0),
    )
    rows = []
    for matrix, limits, side in blocks:
        there = np.isfinite(limits)
        scaled = hstack([matrix.tocsr()[there], csc_array(-limits[there][:, None])])
        rows.append(side * scaled)
    one = csc_array(np.append(whole, whole_start)[None, :] / whole_scale)
    count = sum(row.shape[0] for row in rows)
    found = solve_program(
        linear_program(
            np.append(top, top_start) / top_scale,
            vstack([*rows, one]),
            np.append(np.zeros(count), 1.0),
            np.append(np.full(count, np.inf), 1.0),
            column_lower=np.append(np.full(n, -np.inf), 0.0),
        )
    )
    if found.outcome is Outcome.UNBOUNDED:
        return -np.inf
    return found.objective * top_scale / whole_scale
