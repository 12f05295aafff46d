"""The warm optimiser of one brief: built once, answering while a handle moves."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import Brief, Manner, Per, brief_problems, goal_problems
from reformulate.errors import BadInput
from reformulate.foods import FoodTable
from reformulate.measures import MeasureSystem
from reformulate.optimise.answer import Answer, GoalResult, HoldShortfall, Status
from reformulate.optimise.certificate import TOLERANCE, Certificate, certify, worst
from reformulate.optimise.engine import Engine, Outcome, Solution, SolverStopped
from reformulate.optimise.gentlest import GentlestEngine
from reformulate.optimise.items import collect_items
from reformulate.optimise.levels import level, shortfall
from reformulate.optimise.model import Model, build_model, with_limits
from reformulate.optimise.nearest import Relaxed, relax
from reformulate.optimise.reach import ReachEngine
from reformulate.optimise.rows import shown_nutrients
from reformulate.optimise.weighable import weighable
from reformulate.recipes import Batch, Nutrition, Recipe, unknown_foods, weigh_recipe

FloatArray = NDArray[np.float64]

GOLDEN = (5**0.5 - 1) / 2
ZERO_PRICE = 1e-7
"""Below this a price counts as zero when the second stage fixes the optimal face [objective unit]."""

ROUNDING_ROOM = 0.002
"""How much further rounding to weighable amounts may miss a limit that gave way [of its size]."""

CUSHIONS = (1e-9, 1e-8, 1e-7, 1e-6)
"""How much wider the nearest limits are tried, one after the other [scaled row unit]."""


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
        self._rows = np.arange(len(self._model.rows), dtype=np.int32)
        self._closest = Engine(self._model.program)
        self._gentlest = (
            GentlestEngine(self._model.program) if brief.manner is Manner.GENTLEST else None
        )
        self._tie_break = Engine(replace(self._model.program, cost=_tie_break_cost(self._model)))
        self._reaches = tuple(
            ReachEngine(self._model, key, per, batch.recipe.servings)
            for key, per in reach_units(brief)
        )
        self._original = _nutrition(self._model, items.original, batch.recipe)

    def fits(self, batch: Batch, brief: Brief) -> bool:
        """Return whether a brief differs from the one built for in the goals' limits only."""
        return batch is self._batch and _shape(brief) == self._shape

    def answer(self, brief: Brief) -> Answer:
        """Return the amounts closest to the original that keep all musts, or the nearest to that.

        Parameters
        ----------
        brief : Brief
            One that ``fits``.

        Raises
        ------
        BadInput
            If a goal's limits are out of range.
        SolverStopped
            If the solver proved nothing.
        """
        if not self.fits(self._batch, brief):
            raise ValueError("the brief differs in more than its goals' limits")
        problems = tuple(goal_problems(brief))
        if problems:
            raise BadInput(problems)
        model = self._follow(with_limits(self._model, brief, self._batch.recipe))
        found, relaxed = self._solve(model), None
        if found is None:
            relaxed = relax(model)
            model, found = self._solve_relaxed(relaxed)
        model, found, gentlest = self._gently(model, found)
        x, certificate = self._break_ties(model, found.x, found.row_duals)
        certificate = worst(certificate, gentlest)
        exact = model.grams(x)
        servings = self._batch.recipe.servings
        reach = tuple(
            r.reach(model.program, level(r.nutrient, r.per, exact, model.items, servings))
            for r in self._reaches
        )
        grams = weighable(
            exact,
            model.items.original,
            model.items.least,
            model.items.most,
            model.gram_rows,
            *_absolute(model, relaxed),
        )
        results = _goal_results(model, brief, grams, servings)
        held = _hold_shortfalls(model, relaxed)
        fails = bool(held) or any(not result.met for result in results)
        return Answer(
            batch=self._batch,
            brief=brief,
            items=model.items,
            status=Status.CONFLICT if fails else Status.OPTIMAL,
            exact=exact,
            grams=grams,
            certificate=certificate,
            original=self._original,
            achieved=_nutrition(model, grams, self._batch.recipe),
            goals=results,
            holds=held,
            reach=reach,
        )

    def _follow(self, model: Model) -> Model:
        """Pass share rows whose limit moved on to every program."""
        for i, row in enumerate(model.rows[: model.goal_count]):
            if row.is_share and not np.array_equal(
                row.coefficients, self._model.rows[i].coefficients
            ):
                scaled = model.gram_rows[i] @ model.to_grams
                self._closest.set_row(i, scaled)
                self._tie_break.set_row(i, scaled)
                if self._gentlest:
                    self._gentlest.set_row(i, scaled)
                for reach in self._reaches:
                    reach.set_row(i, scaled)
        self._model = model
        return model

    def _solve(self, model: Model) -> Solution | None:
        """Return the first stage's solution, or None where the limits cannot all be kept."""
        lower, upper = model.program.row_lower, model.program.row_upper
        if np.any(lower > upper):
            return None
        self._closest.set_row_limits(self._rows, lower, upper)
        if self._gentlest:  # the last answer's cap does not bind this one
            self._closest.set_column_limits(model.program.column_lower, model.program.column_upper)
        found = self._closest.solve()
        return found if found.outcome is Outcome.OPTIMAL else None

    def _solve_relaxed(self, relaxed: Relaxed) -> tuple[Model, Solution]:
        """Solve under the nearest limits, a cushion wider: they touch, and the solver has a tolerance."""
        model = self._follow(relaxed.model)
        program = model.program
        for cushion in CUSHIONS:
            wider = replace(
                program,
                row_lower=program.row_lower - cushion,
                row_upper=program.row_upper + cushion,
            )
            found = self._solve(replace(model, program=wider))
            if found is not None:
                return replace(model, program=wider), found
        raise SolverStopped("The solver found no answer although the nearest limits fit.")

    def _gently(self, model: Model, found: Solution) -> tuple[Model, Solution, Certificate | None]:
        """Keep every change below the least largest one, where the manner is gentlest change."""
        least = self._gentlest.largest_change(model.program) if self._gentlest else None
        if least is None:
            return model, found, None
        for cushion in CUSHIONS:
            cap = least[0] + cushion
            capped = replace(
                model.program, column_upper=np.minimum(model.program.column_upper, cap)
            )
            self._closest.set_column_limits(capped.column_lower, capped.column_upper)
            gentle = self._closest.solve()
            if gentle.outcome is Outcome.OPTIMAL:
                return replace(model, program=capped), gentle, least[1]
        return model, found, None

    def _break_ties(
        self, model: Model, x: FloatArray, duals: FloatArray
    ) -> tuple[FloatArray, Certificate]:
        """Second stage, MODEL.md §5: on the face of all optima, the one the tie-break likes best."""
        program = model.program
        row_lower, row_upper = _fix(program.row_lower, program.row_upper, duals)
        self._tie_break.set_row_limits(self._rows, row_lower, row_upper)
        self._tie_break.set_column_limits(
            *_fix(program.column_lower, program.column_upper, program.reduced_cost(duals))
        )
        found = self._tie_break.solve()
        if found.outcome is Outcome.OPTIMAL:
            proof = certify(program, found.x, duals)
            if proof.holds:
                return found.x, proof
        return x, certify(program, x, duals)


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
    return (reach_units(brief), shares, brief.holds, swaps, brief.swap_band, brief.manner)


def _tie_break_cost(model: Model) -> FloatArray:
    """Grams moved, as shares of the batch, with a fixed small difference between the columns."""
    moved = np.abs(model.to_grams).sum(axis=0) / model.items.original.sum()
    order = np.arange(len(moved))
    cost: FloatArray = moved + 1e-3 * (1.0 + np.modf((order + 1) * GOLDEN)[0])
    return cost


def _fix(lower: FloatArray, upper: FloatArray, prices: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Pin what has a price to the limit it is paid for: complementary slackness."""
    pinned_low = (prices > ZERO_PRICE) & np.isfinite(lower)
    pinned_high = (prices < -ZERO_PRICE) & np.isfinite(upper)
    return np.where(pinned_high, upper, lower), np.where(pinned_low, lower, upper)


def _absolute(model: Model, relaxed: Relaxed | None) -> tuple[FloatArray, FloatArray]:
    """Return the row limits counted from no grams rather than from the original.

    A limit that gave way is missed in any case: rounding may miss it by a little more.
    """
    lower = model.program.row_lower + model.start
    upper = model.program.row_upper + model.start
    if relaxed is None:
        return lower, upper
    sizes = np.array([row.size for row in model.rows]) / model.row_scale
    room = np.where(relaxed.gives > TOLERANCE, ROUNDING_ROOM * sizes, 0.0)
    return lower - room, upper + room


def _nutrition(model: Model, grams: FloatArray, recipe: Recipe) -> Nutrition:
    items = model.items
    return Nutrition(
        totals=grams @ items.per_gram,
        at_least=np.logical_not(items.known[grams > 0].all(axis=0)),
        finished_grams=float(items.yields @ grams),
        servings=recipe.servings,
    )


def _goal_results(
    model: Model, brief: Brief, grams: FloatArray, servings: float
) -> tuple[GoalResult, ...]:
    results = []
    used = tuple(
        item for item, mass in zip(model.items.ingredients, grams, strict=True) if mass > 0
    )
    for goal in brief.goals:
        value = level(goal.nutrient, goal.per, grams, model.items, servings)
        unknown = unknown_foods(used, goal.nutrient)
        results.append(
            GoalResult(
                goal=goal,
                level=value,
                original=level(
                    goal.nutrient, goal.per, model.items.original, model.items, servings
                ),
                misses_by=shortfall(goal, value),
                at_least=bool(unknown),
                unknown=unknown,
            )
        )
    return tuple(results)


def _hold_shortfalls(model: Model, relaxed: Relaxed | None) -> tuple[HoldShortfall, ...]:
    if relaxed is None:
        return ()
    return tuple(
        HoldShortfall(name=row.name, gives=float(gives))
        for row, gives in zip(
            model.rows[model.goal_count :], relaxed.gives[model.goal_count :], strict=True
        )
        if gives > TOLERANCE
    )
