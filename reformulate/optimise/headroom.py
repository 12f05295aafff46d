"""What headroom costs: how much more has to move because a goal keeps inside its limit."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from reformulate.brief import Brief, Goal
from reformulate.foods import FoodTable
from reformulate.optimise.optimiser import Optimiser
from reformulate.recipes import Batch


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadroomCost:
    """The price of one goal's headroom."""

    goal: Goal
    grams: float
    """How much more is moved than without it [g]; less than 0 where the amounts move less."""
    changes: float
    """How much more the lines change, as the manner counts it [1]; inf where only without it all
    musts are kept."""


def headroom_costs(batch: Batch, brief: Brief, foods: FoodTable) -> tuple[HeadroomCost, ...]:
    """Return what the headroom of each goal that has some costs, all others kept.

    Raises
    ------
    BadInput
        With every problem of the brief.
    """
    with_room = [goal for goal in brief.goals if goal.headroom > 0.0]
    if not with_room:
        return ()
    optimiser = Optimiser(batch, brief, foods)
    now = optimiser.exact(brief)
    costs = []
    for goal in with_room:
        bare = tuple(replace(g, headroom=0.0) if g is goal else g for g in brief.goals)
        without = optimiser.exact(replace(brief, goals=bare))
        conflict = now.relaxed is not None and without.relaxed is None
        moved = [
            float(np.abs(exact.grams - exact.model.items.original).sum())
            for exact in (now, without)
        ]
        costs.append(
            HeadroomCost(
                goal=goal,
                grams=moved[0] - moved[1],
                changes=float("inf") if conflict else now.changes - without.changes,
            )
        )
    return tuple(costs)
