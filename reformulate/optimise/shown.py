"""The answer that shows given amounts: every figure computed from them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import Brief
from reformulate.optimise.answer import Answer, GoalResult, HoldShortfall, Measured, Status
from reformulate.optimise.certificate import TOLERANCE
from reformulate.optimise.exact import Exact
from reformulate.optimise.items import Items
from reformulate.optimise.levels import dust, level, shortfall
from reformulate.optimise.reach import Reach
from reformulate.recipes import Batch, Nutrition, unknown_foods

FloatArray = NDArray[np.float64]


def answer_with(
    batch: Batch,
    brief: Brief,
    exact: Exact,
    grams: FloatArray,
    *,
    original: Nutrition,
    reach: tuple[Reach, ...],
    measured: Measured | None = None,
) -> Answer:
    """Return the answer that shows ``grams`` (n,) [g], every figure computed from them."""
    items, servings = exact.model.items, batch.recipe.servings
    results = _goal_results(items, brief, grams, servings)
    held = _hold_shortfalls(exact)
    missed = any(not result.met for result in results if not result.goal.is_wish)
    return Answer(
        batch=batch,
        brief=brief,
        items=items,
        status=Status.CONFLICT if held or missed else Status.OPTIMAL,
        optimum=exact,
        grams=grams,
        original=original,
        achieved=nutrition_of_grams(items, grams, servings),
        goals=results,
        holds=held,
        reach=reach,
        measured=measured,
    )


def nutrition_of_grams(items: Items, grams: FloatArray, servings: float) -> Nutrition:
    """Return what is in ``grams`` (n,) [g] of the items."""
    return Nutrition(
        totals=grams @ items.per_gram,
        at_least=np.logical_not(items.known[grams > 0].all(axis=0)),
        finished_grams=float(items.yields @ grams),
        servings=servings,
    )


def _goal_results(
    items: Items, brief: Brief, grams: FloatArray, servings: float
) -> tuple[GoalResult, ...]:
    results = []
    used = tuple(item for item, mass in zip(items.ingredients, grams, strict=True) if mass > 0)
    for goal in brief.goals:
        value = level(goal.nutrient, goal.per, grams, items, servings)
        unseen = dust(goal.nutrient, goal.per, grams, items, servings)
        unknown = unknown_foods(used, goal.nutrient)
        results.append(
            GoalResult(
                goal=goal,
                level=value,
                original=level(goal.nutrient, goal.per, items.original, items, servings),
                misses_by=shortfall(goal, value, unseen),
                at_least=bool(unknown),
                unknown=unknown,
            )
        )
    return tuple(results)


def _hold_shortfalls(exact: Exact) -> tuple[HoldShortfall, ...]:
    if exact.relaxed is None:
        return ()
    model = exact.model
    return tuple(
        HoldShortfall(name=row.name, gives=float(gives))
        for row, gives in zip(
            model.rows[model.goal_count :], exact.relaxed.gives[model.goal_count :], strict=True
        )
        if gives > TOLERANCE
    )
