"""The answer to a brief, as a value."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import Brief, Goal, Swap
from reformulate.measures import Household, Measure
from reformulate.optimise.certificate import Certificate
from reformulate.optimise.exact import Exact
from reformulate.optimise.items import Items
from reformulate.optimise.reach import Reach
from reformulate.recipes import Batch, Line, Nutrition

FloatArray = NDArray[np.float64]


class Status(StrEnum):
    """Whether every must is kept."""

    OPTIMAL = "optimal"
    CONFLICT = "conflict"


@dataclass(frozen=True, slots=True, kw_only=True)
class GoalResult:
    """How the amounts shown stand to one goal."""

    goal: Goal
    level: float
    """What the amounts shown reach [the goal's unit]; a lower bound where ``at_least`` is set."""
    original: float
    """What the original has [the goal's unit]."""
    misses_by: float
    """How far the level is outside the limits [the goal's unit]; 0 where it is met."""
    at_least: bool
    """True where a food in the answer has no known figure for the nutrient."""
    unknown: tuple[str, ...] = ()
    """Names of those foods."""

    @property
    def met(self) -> bool:
        """True where the amounts shown keep the goal, as far as the figures are known."""
        return self.misses_by == 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldShortfall:
    """A hold that could not be kept."""

    name: str
    gives: float
    """How far it gives way, as a fraction of what it holds [1]."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Measured:
    """Amounts a home cook can measure, chosen together."""

    amounts: tuple[Household | None, ...]
    """(n,) what is measured of each item; None for nothing, and where grams as written say it."""
    proven: bool
    """True where no other measured amounts that keep the limits are closer to the optimum."""
    in_the_way: tuple[str, ...] = ()
    """The musts and holds that no measured amounts keep; empty where all are kept."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class ItemAmount:
    """One row of the answer: a line or a swap, before and after."""

    line: Line | None
    """The recipe's line; None for a swap."""
    swap: Swap | None
    """The swap; None for a line."""
    food: str
    """Key of the food."""
    name: str
    """Name of the food."""
    measures: tuple[Measure, ...]
    """The food's household measures."""
    before: float
    """Mass in the original [g]."""
    after: float
    """Mass in the answer, as shown [g]."""
    household: Household | None = None
    """The household amount whose mass that is; None where the answer is not measured."""

    @property
    def change(self) -> float:
        """Relative change [1]; inf for what was not there before."""
        if self.before == 0.0:
            return np.inf if self.after > 0.0 else 0.0
        return self.after / self.before - 1.0

    @property
    def moved(self) -> bool:
        """True where the amount differs from the original's."""
        return abs(self.after - self.before) > 1e-6 * max(1.0, self.before)


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Answer:
    """Amounts that meet a brief, or the nearest to it, with what they achieve and the proof.

    Every figure is computed from ``grams``, the amounts shown, never from ``exact``.
    """

    batch: Batch
    brief: Brief
    items: Items
    status: Status
    optimum: Exact
    """The optimum itself, and the model it is the optimum of."""
    grams: FloatArray
    """(n,) the amounts shown [g]: in steps of a scale, finer where only that keeps all musts; or those
    of ``measured``."""
    original: Nutrition
    achieved: Nutrition
    goals: tuple[GoalResult, ...]
    """One per goal of the brief, in its order."""
    holds: tuple[HoldShortfall, ...]
    """The holds that give way; empty unless the holds conflict among themselves."""
    reach: tuple[Reach, ...]
    """One per nutrient shown or with a goal."""
    measured: Measured | None = None
    """The household amounts that ``grams`` are the grams of; None for amounts of a scale."""

    @property
    def exact(self) -> FloatArray:
        """(n,) the optimum itself [g]: lines, then allowed swaps."""
        return self.optimum.grams

    @property
    def certificate(self) -> Certificate:
        """How far the optimum is from being proven."""
        return self.optimum.certificate

    @property
    def changes(self) -> float:
        """Sum of the optimum's relative changes [1]: an emptied line is 1, a swap what it replaces."""
        return self.optimum.changes

    @property
    def amounts(self) -> tuple[ItemAmount, ...]:
        """The rows of the answer: lines in the recipe's order, then allowed swaps."""
        sources: list[tuple[Line | None, Swap | None]] = [(line, None) for line in self.items.lines]
        sources += [(None, swap) for swap in self.items.swaps]
        return tuple(
            ItemAmount(
                line=line,
                swap=swap,
                food=line.food if line else swap.food if swap else "",
                name=item.food.name,
                measures=item.food.measures,
                before=before,
                after=after,
                household=household,
            )
            for (line, swap), item, before, after, household in zip(
                sources,
                self.items.ingredients,
                self.items.original.tolist(),
                self.grams.tolist(),
                self.measured.amounts if self.measured else (None,) * len(sources),
                strict=True,
            )
        )

    def reach_of(self, nutrient: str) -> Reach | None:
        """Return the reach of a nutrient, or None where it is not shown."""
        return next((reach for reach in self.reach if reach.nutrient == nutrient), None)
