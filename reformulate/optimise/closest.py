"""The amounts closest to the original within a model's limits: the levels, the manner, the tie-break."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import Manner
from reformulate.optimise.certificate import UNPROVEN, Certificate, certify, worst
from reformulate.optimise.engine import Engine, Outcome, Solution, SolverStopped
from reformulate.optimise.gentlest import GentlestEngine
from reformulate.optimise.model import Model
from reformulate.optimise.nearest import Relaxed
from reformulate.optimise.program import LinearProgram

FloatArray = NDArray[np.float64]

GOLDEN = (5**0.5 - 1) / 2
ZERO_PRICE = 1e-7
"""Below this a price counts as zero when the second stage fixes the optimal face [objective unit]."""

CUSHIONS = (1e-9, 1e-8, 1e-7, 1e-6)
"""How much wider limits that touch are tried, one after the other [scaled row unit]."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Found:
    """Amounts with the limits they were found under."""

    model: Model
    """The limits as solved: each level at its optimum, the largest change at its least."""
    x: FloatArray
    """(n_columns,) what the tie-break likes best of all optima [column unit]."""
    cost: tuple[float, ...]
    """What each stage reached [1], first things first, the tie-break last where there are swaps; compared
    in that order."""
    certificate: Certificate = UNPROVEN
    """The worst of all stages'."""
    relaxed: Relaxed | None = None
    """How limits gave way, where the musts conflict."""


class ClosestEngine:
    """Warm programs that find the closest amounts of one model under other limits and bounds."""

    def __init__(self, model: Model, manner: Manner) -> None:
        program = model.program
        self._rows = np.arange(len(program.rows), dtype=np.int32)
        self._first = Engine(program)
        self._gentlest = GentlestEngine(program) if manner is Manner.GENTLEST else None
        self._tie_break_cost = tie_break_cost(model)
        self._tie_break = Engine(replace(program, cost=self._tie_break_cost))

    def set_row(self, row: int, coefficients: FloatArray) -> None:
        """Change every coefficient (n_columns,) of one row."""
        self._first.set_row(row, coefficients)
        self._tie_break.set_row(row, coefficients)
        if self._gentlest:
            self._gentlest.set_row(row, coefficients)

    def find(self, model: Model) -> Found | None:
        """Return the closest amounts, or None where the limits cannot all be kept; MODEL.md §4.

        None also where the solver proves nothing: the nearest limits, which may be the same, are then
        easier to meet than to refuse.
        """
        try:
            return self._find(model)
        except SolverStopped:
            self._first.set_cost(model.program.cost)
            return None

    def _find(self, model: Model) -> Found | None:
        program = model.program
        if np.any(program.row_lower > program.row_upper):
            return None
        self._first.set_column_limits(program.column_lower, program.column_upper)
        for cushion in CUSHIONS:
            cost, proofs, program, found = self._level_by_level(model, cushion)
            if found is not None:
                break
            if not cost:
                return None  # the limits alone cannot be kept: no cushion helps
        if found is None:
            return None
        model = replace(model, program=program)
        if self._gentlest:
            model, found, least = self._gently(model, found)
            if least is not None:
                cost.append(least[0])
                proofs.append(least[1])
        x, proof = self._settle(model.program, found)
        return Found(
            model=model,
            x=x,
            # With the tie-break, which swaps are in follows from the brief alone, not from where the
            # solver came from.
            cost=(*cost, found.objective, float(self._tie_break_cost @ x)),
            certificate=worst(proof, *proofs),
        )

    def _level_by_level(
        self, model: Model, cushion: float
    ) -> tuple[list[float], list[Certificate], LinearProgram, Solution | None]:
        """Make each level least and then keep it, a cushion wider; last the sum of changes."""
        program = model.program
        self._first.set_row_limits(self._rows, program.row_lower, program.row_upper)
        cost: list[float] = []
        proofs: list[Certificate] = []
        for i, level in enumerate(model.levels, start=len(model.rows)):
            self._first.set_cost(level)
            found = self._solved()
            if found is None:
                break
            proofs.append(certify(replace(program, cost=level), found.x, found.row_duals))
            cost.append(found.objective)
            upper = program.row_upper.copy()
            upper[i] = max(found.objective, 0.0) + cushion
            program = replace(program, row_upper=upper)
            self._first.set_row_limits(self._rows[i : i + 1], program.row_lower[[i]], upper[[i]])
        if len(model.levels):
            self._first.set_cost(program.cost)
        reached = len(cost) == len(model.levels)
        return cost, proofs, program, self._solved() if reached else None

    def _solved(self) -> Solution | None:
        """Solve; None where nothing keeps the limits, or where the solver proves nothing."""
        try:
            found = self._first.solve()
        except SolverStopped:
            return None
        return found if found.outcome is Outcome.OPTIMAL else None

    def _gently(
        self, model: Model, found: Solution
    ) -> tuple[Model, Solution, tuple[float, Certificate] | None]:
        """Keep every change below the least largest one."""
        program = model.program
        least = self._gentlest.largest_change(program) if self._gentlest else None
        if least is None:
            return model, found, None
        for cushion in CUSHIONS:
            cap = np.where(program.cost > 0, least[0] + cushion, np.inf)
            capped = replace(program, column_upper=np.minimum(program.column_upper, cap))
            self._first.set_column_limits(capped.column_lower, capped.column_upper)
            gentle = self._first.solve()
            if gentle.outcome is Outcome.OPTIMAL:
                return replace(model, program=capped), gentle, least
        return model, found, None

    def _settle(self, program: LinearProgram, found: Solution) -> tuple[FloatArray, Certificate]:
        """Return, on the face of all optima, what the tie-break likes best, with its proof; MODEL.md §5."""
        duals = found.row_duals
        row_lower, row_upper = _fix(program.row_lower, program.row_upper, duals)
        self._tie_break.set_row_limits(self._rows, row_lower, row_upper)
        self._tie_break.set_column_limits(
            *_fix(program.column_lower, program.column_upper, program.reduced_cost(duals))
        )
        settled = self._tie_break.solve()
        if settled.outcome is Outcome.OPTIMAL:
            proof = certify(program, settled.x, duals)
            if proof.holds:
                return settled.x, proof
        return found.x, certify(program, found.x, duals)


def find_relaxed(relaxed: Relaxed, find: Callable[[Model], Found | None]) -> Found:
    """Find amounts under the nearest limits, a cushion wider: they touch, and the solver has a tolerance.

    Raises
    ------
    SolverStopped
        If there are none although the limits fit.
    """
    program = relaxed.model.program
    for cushion in CUSHIONS:
        wider = replace(
            program,
            row_lower=program.row_lower - cushion,
            row_upper=program.row_upper + cushion,
        )
        found = find(replace(relaxed.model, program=wider))
        if found is not None:
            return replace(found, cost=(*relaxed.cost, *found.cost), relaxed=relaxed)
    raise SolverStopped("The solver found no answer although the nearest limits fit.")


def tie_break_cost(model: Model) -> FloatArray:
    """(n_columns,) grams moved as shares of the batch, with a fixed small difference between columns."""
    moved = np.abs(model.to_grams).sum(axis=0) / model.items.original.sum()
    order = np.arange(len(moved))
    cost: FloatArray = moved + 1e-3 * (1.0 + np.modf((order + 1) * GOLDEN)[0])
    return np.where(model.program.cost > 0, cost, 0.0)


def _fix(lower: FloatArray, upper: FloatArray, prices: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Pin what has a price to the limit it is paid for: complementary slackness."""
    pinned_low = (prices > ZERO_PRICE) & np.isfinite(lower)
    pinned_high = (prices < -ZERO_PRICE) & np.isfinite(upper)
    return np.where(pinned_high, upper, lower), np.where(pinned_low, lower, upper)
