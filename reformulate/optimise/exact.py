"""The optimum of a brief, before it is turned into amounts to show."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reformulate.optimise.certificate import TOLERANCE, Certificate
from reformulate.optimise.model import Model
from reformulate.optimise.nearest import Relaxed

FloatArray = NDArray[np.float64]

ROUNDING_ROOM = 0.002
"""How much further rounding to weighable amounts may miss a limit that gave way [of its size]."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Exact:
    """The optimum of a brief before it is rounded to anything."""

    model: Model
    """The model it is the optimum of, limits that gave way moved."""
    grams: FloatArray
    """(n,) [g]: lines, then allowed swaps."""
    x: FloatArray
    """(n_columns,) the same [column unit]."""
    certificate: Certificate
    relaxed: Relaxed | None
    """How limits gave way; None where every must is kept."""

    @property
    def changes(self) -> float:
        """Sum of the relative changes of lines, and of swaps relative to what they replace [1]."""
        return float(self.model.program.cost @ self.x)

    @property
    def limits(self) -> tuple[FloatArray, FloatArray]:
        """(m,), (m,) limits of the rows [scaled row unit], counted from no grams.

        A limit that gave way is missed in any case, and a wish as far as it has to be: rounding may
        miss it by a little more. The change of character is no limit.
        """
        model, m = self.model, len(self.model.rows)
        lower = model.program.row_lower[:m] + model.start
        upper = model.program.row_upper[:m] + model.start
        sizes = np.array([row.size for row in model.rows]) / model.row_scale
        given = model.slack @ self.x
        gives = np.zeros(m) if self.relaxed is None else self.relaxed.gives
        missed = (gives > TOLERANCE) | (np.abs(given) > TOLERANCE * sizes)
        room = np.where(missed, ROUNDING_ROOM * sizes, 0.0)
        free = np.array([bool(row.quality) for row in model.rows])
        return (
            np.where(free, -np.inf, lower - np.maximum(given, 0.0) - room),
            np.where(free, np.inf, upper - np.minimum(given, 0.0) + room),
        )
