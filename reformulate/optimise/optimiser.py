"""The warm optimiser of one brief: built once, answering while a handle moves."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import Brief, Manner, Per, brief_problems, goal_problems
from reformulate.errors import BadInput
from reformulate.foods import FoodTable
from reformulate.measures import MeasureSystem
from reformulate.optimise.answer import Answer
from reformulate.optimise.closest import ClosestEngine, Found, find_relaxed
from reformulate.optimise.engine import SolverStopped
from reformulate.optimise.exact import Exact
from reformulate.optimise.items import collect_items
from reformulate.optimise.levels import level
from reformulate.optimise.model import Model, build_model, with_limits
from reformulate.optimise.nearest import relax
from reformulate.optimise.reach import Reach, ReachEngine
from reformulate.optimise.rows import shown_nutrients
from reformulate.optimise.shown import answer_with, nutrition_of_grams
from reformulate.optimise.swap_choice import (
    Pattern,
    choose_swaps,
    pattern_of,
    under_pattern,
)
from reformulate.optimise.weighable import weighable
from reformulate.recipes import Batch, Recipe, weigh_recipe

FloatArray = NDArray[np.float64]

TRACE = 1e-6
"""Below this a swap is not used [g]."""


class Optimiser:
    """Answers briefs for one weighed recipe that differ in the goals' limits only.

    Every program stays in a solver of its own; a new limit changes bounds (and, for goals that
    are shares, the coefficients of their rows), so that each re-solve starts from the last basis.
    """

    def __init__(self, batch: Batch, brief: Brief, foods: FoodTable) -> None:
        """Build the model and its warm programs.

        Raises
        ------
        BadInput
            With every problem of the brief.
        """
        problems = tuple(brief_problems(brief, batch.recipe))
        if problems:
            raise BadInput(problems)
        self._batch, self._shape = batch, _shape(brief)
        items = collect_items(batch, brief, foods)
        self._model = build_model(items, brief, batch.recipe)
        self._closest = ClosestEngine(self._model, brief.manner)
        self._last: Pattern | None = None
        self._reach_units = reach_units(brief)
        self._reaches: tuple[ReachEngine, ...] = ()
        self._original = nutrition_of_grams(items, items.original, batch.recipe.servings)

    def fits(self, batch: Batch, brief: Brief) -> bool:
        """Return whether a brief differs from the one built for in the goals' limits only."""
        return batch is self._batch and _shape(brief) == self._shape

    def answer(self, brief: Brief, *, reach: bool = True) -> Answer:
        """Return the amounts closest to the original that keep all musts, or the nearest to that.

        Parameters
        ----------
        brief : Brief
            One that ``fits``.
        reach : bool
            Whether the reach of each nutrient is worked out too.

        Raises
        ------
        BadInput
            If a goal's limits are out of range.
        SolverStopped
            If the solver proved nothing.
        """
        exact = self.exact(brief)
        items = exact.model.items
        shown = weighable(
            exact.grams,
            items.original,
            np.where(exact.grams > TRACE, np.maximum(items.least, items.least_used), items.least),
            items.most,
            exact.model.gram_rows,
            *exact.limits,
        )
        reaches = self._reach(exact) if reach else ()
        return answer_with(self._batch, brief, exact, shown, original=self._original, reach=reaches)

    def _reach(self, exact: Exact) -> tuple[Reach, ...]:
        model, servings = exact.model, self._batch.recipe.servings
        if not self._reaches:  # built when first asked for: not every use asks
            self._reaches = tuple(
                ReachEngine(model, key, per, servings) for key, per in self._reach_units
            )
        return tuple(
            r.reach(model.program, level(r.nutrient, r.per, exact.grams, model.items, servings))
            for r in self._reaches
        )

    def exact(self, brief: Brief) -> Exact:
        """Return the optimum itself, with the limits it was found under; errors as for `answer`."""
        if not self.fits(self._batch, brief):
            raise ValueError("the brief differs in more than its goals' limits")
        problems = tuple(goal_problems(brief))
        if problems:
            raise BadInput(problems)
        model = self._follow(with_limits(self._model, brief, self._batch.recipe))
        return self._exact(model, brief)

    def amounts_near(self, model: Model) -> FloatArray | None:
        """Return the optimum (n,) [g] of a model with a limit moved, the swaps in use kept.

        None where its limits cannot all be kept.
        """
        self._follow(model)
        pattern = self._last
        if pattern is not None:
            model = under_pattern(model, pattern)
        found = self._closest.find(model)
        return None if found is None else model.grams(found.x)

    def _exact(self, model: Model, brief: Brief) -> Exact:
        found = choose_swaps(model, brief.max_swaps, self._closest.find)
        if found is None:
            found = choose_swaps(model, brief.max_swaps, partial(_find_nearest, brief.manner))
        if found is None:
            raise SolverStopped("The solver found no answer.")
        if found.relaxed is not None:
            model = self._follow(_as_found(found.relaxed.model, found.model, model))
        self._last = pattern_of(model, found.x)
        return Exact(
            model=model,
            grams=model.grams(found.x),
            x=found.x,
            certificate=found.certificate,
            relaxed=found.relaxed,
        )

    def _follow(self, model: Model) -> Model:
        """Pass share rows whose limit moved on to every program."""
        for i, row in enumerate(model.rows):
            before = self._model.rows[i]
            if row is before or not row.is_share:
                continue
            if not np.array_equal(row.coefficients, before.coefficients):
                scaled = model.program_row(i)
                self._closest.set_row(i, scaled)
                for reach in self._reaches:
                    reach.set_row(i, scaled)
        self._model = model
        return model


def _find_nearest(manner: Manner, model: Model) -> Found:
    """Return the optimum under the nearest limits that can be kept, from cold."""
    relaxed = relax(model)
    return find_relaxed(relaxed, ClosestEngine(relaxed.model, manner).find)


def _as_found(model: Model, found: Model, asked: Model) -> Model:
    """Return a relaxed model with the cushion its answer needed, and the bounds that were asked for.

    The levels are without their optima, and the swaps without the pattern of a branch.
    """
    m = len(model.rows)
    lower, upper = model.program.row_lower.copy(), model.program.row_upper.copy()
    lower[:m], upper[:m] = found.program.row_lower[:m], found.program.row_upper[:m]
    program = replace(
        model.program,
        row_lower=lower,
        row_upper=upper,
        column_lower=asked.program.column_lower,
        column_upper=asked.program.column_upper,
    )
    return replace(model, program=program)


def solve(recipe: Recipe, brief: Brief, foods: FoodTable, system: MeasureSystem) -> Answer:
    """Answer one brief for one recipe, from cold.

    Raises
    ------
    BadInput
        With every problem of the recipe, or of the brief.
    """
    return Optimiser(weigh_recipe(recipe, foods, system), brief, foods).answer(brief)


def reach_units(brief: Brief) -> tuple[tuple[str, Per], ...]:
    """Return each nutrient whose reach is wanted with the unit it is wanted in: its goal's."""
    return tuple((key, brief.unit_of(key)) for key in shown_nutrients(brief))


def _shape(brief: Brief) -> tuple[object, ...]:
    """All of a brief but its goals' limits."""
    shares = tuple(
        (goal.nutrient, goal.per)
        for goal in brief.goals
        if goal.per in (Per.HUNDRED_GRAMS, Per.ENERGY)
    )
    swaps = tuple(swap for swap in brief.swaps if swap.allowed)
    wishes = tuple((goal.nutrient, goal.per, goal.rank) for goal in brief.goals if goal.is_wish)
    return (
        reach_units(brief),
        shares,
        wishes,
        brief.holds,
        swaps,
        brief.swap_band,
        brief.max_swaps,
        brief.manner,
    )
