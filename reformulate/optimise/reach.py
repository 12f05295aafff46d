"""Reach: the lowest and highest level of a nutrient, every other must and hold kept; MODEL.md §7."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import Per
from reformulate.optimise.engine import Engine, Outcome
from reformulate.optimise.model import Model
from reformulate.optimise.rows import nutrient_per_gram, reference_per_gram, share_factor

FloatArray = NDArray[np.float64]

ROUNDS = 50
"""Most rounds of a ratio's reach [count]; three or four are usual, as convergence is superlinear."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """How low and how high a nutrient can go, in the unit its goal is in."""

    nutrient: str
    per: Per
    low: float
    high: float
    """inf where nothing stops it."""


class ReachEngine:
    """Two warm programs that answer for one nutrient."""

    def __init__(self, model: Model, key: str, per: Per, servings: float) -> None:
        items = model.items
        self.nutrient, self.per = key, per
        self._own = np.array([row.nutrient == key for row in model.rows])
        self._rows = np.arange(len(model.rows), dtype=np.int32)
        top = share_factor(key, per) * nutrient_per_gram(key, items)
        self._is_ratio = per in (Per.HUNDRED_GRAMS, Per.ENERGY)
        if self._is_ratio:
            whole = reference_per_gram(per, items)
        elif per is Per.ORIGINAL:
            top = 100.0 * top
            whole = np.zeros_like(top)
        else:
            whole = np.zeros_like(top)
        self._unit = {
            Per.SERVING: servings,
            Per.ORIGINAL: float(nutrient_per_gram(key, items) @ items.original),
        }.get(per, 1.0)
        self._scale = max(float(np.abs(top @ model.to_grams).max()), 1e-12)
        self._top = top @ model.to_grams / self._scale
        self._top_start = float(top @ items.original) / self._scale
        self._whole = whole @ model.to_grams / self._scale
        self._whole_start = float(whole @ items.original) / self._scale
        self._engines = tuple(
            Engine(replace(model.program, cost=sign * self._top)) for sign in (1.0, -1.0)
        )

    def set_row(self, row: int, coefficients: FloatArray) -> None:
        """Pass a changed row on to both programs."""
        for engine in self._engines:
            engine.set_row(row, coefficients)

    def reach(self, lower: FloatArray, upper: FloatArray) -> Reach:
        """Return the reach under the scaled row limits (m,), this nutrient's own goals left out."""
        lower = np.where(self._own, -np.inf, lower)
        upper = np.where(self._own, np.inf, upper)
        low, high = (
            self._extreme(engine, sign, lower, upper)
            for engine, sign in zip(self._engines, (1.0, -1.0), strict=True)
        )
        return Reach(nutrient=self.nutrient, per=self.per, low=low, high=high)

    def _extreme(self, engine: Engine, sign: float, lower: FloatArray, upper: FloatArray) -> float:
        engine.set_row_limits(self._rows, lower, upper)
        if self._is_ratio:
            return self._extreme_ratio(engine, sign)
        outcome, objective = engine.value()
        if outcome is not Outcome.OPTIMAL:
            return sign * -np.inf if outcome is Outcome.UNBOUNDED else np.nan
        return (sign * objective + self._top_start) * self._scale / self._unit

    def _extreme_ratio(self, engine: Engine, sign: float) -> float:
        """Dinkelbach's method: the ratio is extreme where top - ratio * whole has its extreme at 0.

        Source: W. Dinkelbach, On nonlinear fractional programming, Management Science 13 (1967).
        """
        ratio = self._top_start / self._whole_start
        for _ in range(ROUNDS):
            engine.set_cost(sign * (self._top - ratio * self._whole))
            found = engine.solve()
            if found.outcome is not Outcome.OPTIMAL:
                return sign * -np.inf if found.outcome is Outcome.UNBOUNDED else np.nan
            whole = self._whole @ found.x + self._whole_start
            if whole <= 0:
                return np.nan
            better = float((self._top @ found.x + self._top_start) / whole)
            if abs(better - ratio) <= 1e-12 * max(1.0, abs(ratio)):
                return better
            ratio = better
        return ratio
