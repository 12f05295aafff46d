"""Reach: the lowest and highest level of a nutrient, every other must and hold kept; MODEL.md §7."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import Per
from reformulate.optimise.engine import Engine, Outcome, SolverStopped
from reformulate.optimise.fractional import least_ratio
from reformulate.optimise.levels import share
from reformulate.optimise.model import Model
from reformulate.optimise.program import LinearProgram
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
    """[the unit ``per`` says]."""
    high: float
    """[the unit ``per`` says], inf where nothing stops it."""


class ReachEngine:
    """Two warm programs that answer for one nutrient."""

    def __init__(self, model: Model, key: str, per: Per, servings: float) -> None:
        items = model.items
        self.nutrient, self.per = key, per
        own = [row.nutrient == key for row in model.rows]
        self._own = np.array(own + [False] * len(model.levels))
        self._rows = np.arange(len(self._own), dtype=np.int32)
        top = share_factor(key, per) * nutrient_per_gram(key, items)
        # Less than nothing is the solver's dust, unless cooking drives off more water than a food has.
        self._floor = 0.0 if top.min(initial=0.0) >= 0.0 else -np.inf
        self._is_ratio = per in (Per.HUNDRED_GRAMS, Per.ENERGY)
        whole = reference_per_gram(per, items) if self._is_ratio else np.zeros_like(top)
        self._unit = {
            Per.SERVING: servings,
            Per.ORIGINAL: float(nutrient_per_gram(key, items) @ items.original) / 100.0,
        }.get(per, 1.0)
        self._scale = max(float(np.abs(top @ model.to_grams).max()), 1e-12)
        self._top = top @ model.to_grams / self._scale
        self._top_start = float(top @ items.original) / self._scale
        self._whole = whole @ model.to_grams / self._scale
        self._whole_start = float(whole @ items.original) / self._scale
        self._program = model.program
        self._engines = tuple(
            Engine(replace(model.program, cost=sign * self._top)) for sign in (1.0, -1.0)
        )

    def set_row(self, row: int, coefficients: FloatArray) -> None:
        """Pass a changed row on to both programs."""
        for engine in self._engines:
            engine.set_row(row, coefficients)

    def reach(self, program: LinearProgram, here: float) -> Reach:
        """Return the reach under a program's row limits, this nutrient's own goals left out.

        ``here`` is the level at amounts within the limits. Limits that were moved until they touch
        leave no more room than the solver's tolerance; where it finds none, the reach is ``here``.
        """
        lower = np.where(self._own, -np.inf, program.row_lower)
        upper = np.where(self._own, np.inf, program.row_upper)
        self._program = program
        ends = []
        for engine, sign in zip(self._engines, (1.0, -1.0), strict=True):
            try:
                end = self._extreme(engine, sign, lower, upper)
            except SolverStopped:
                end = np.nan
            ends.append(here if np.isnan(end) else max(end, self._floor))
        return Reach(nutrient=self.nutrient, per=self.per, low=ends[0], high=ends[1])

    def _extreme(self, engine: Engine, sign: float, lower: FloatArray, upper: FloatArray) -> float:
        engine.set_row_limits(self._rows, lower, upper)
        if self._is_ratio:
            ratio = self._extreme_ratio(engine, sign)
            return self._by_substitution(sign, lower, upper) if ratio is None else ratio
        outcome, objective = engine.value()
        if outcome is not Outcome.OPTIMAL:
            return sign * -np.inf if outcome is Outcome.UNBOUNDED else np.nan
        return share((sign * objective + self._top_start) * self._scale, self._unit)

    def _extreme_ratio(self, engine: Engine, sign: float) -> float | None:
        """Dinkelbach's method: the ratio is extreme where top - ratio * whole has its extreme at 0.

        nan where nothing keeps the limits; None where it cannot go on, since the dish may grow
        without end or shrink to nothing.
        Source: W. Dinkelbach, On nonlinear fractional programming, Management Science 13 (1967).
        """
        if self._whole_start <= 0.0:
            return None
        ratio = self._top_start / self._whole_start
        for _ in range(ROUNDS):
            engine.set_cost(sign * (self._top - ratio * self._whole))
            found = engine.solve()
            if found.outcome is Outcome.INFEASIBLE:
                return np.nan
            if found.outcome is not Outcome.OPTIMAL:
                return None
            whole = self._whole @ found.x + self._whole_start
            if whole <= 1e-9 * self._whole_start:
                return None
            better = float((self._top @ found.x + self._top_start) / whole)
            if abs(better - ratio) <= 1e-12 * max(1.0, abs(ratio)):
                return better
            ratio = better
        return None

    def _by_substitution(self, sign: float, lower: FloatArray, upper: FloatArray) -> float:
        program = replace(self._program, row_lower=lower, row_upper=upper)
        found = least_ratio(
            program,
            sign * self._top,
            sign * self._top_start,
            self._whole,
            self._whole_start,
        )
        return sign * found
