"""Which food of the whole table would help most: all priced, the promising ones solved; MODEL.md §13."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import Brief, Manner, Swap, brief_problems
from reformulate.errors import BadInput, Problem
from reformulate.foods import QUANTITY_INDEX, Food, FoodTable, quantities_of
from reformulate.optimise.certificate import proven_bound
from reformulate.optimise.engine import Engine, Outcome
from reformulate.optimise.gives import Stopped
from reformulate.optimise.items import Items, collect_items
from reformulate.optimise.model import Model, build_model
from reformulate.optimise.nearest import with_slack
from reformulate.optimise.rows import goal_rows, hold_rows
from reformulate.recipes import Batch

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int_]

MISS_WEIGHT: Final = 1000.0
"""What missing a goal wholly costs beside a change of 1 [1]: first reach the goals, then stay close."""

SAME: Final = 1e-7
"""Costs this near count as the same [1]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StandIn:
    """A food of the table as a swap, with the best it can do."""

    swap: Swap
    food: Food
    cost: float
    """Cost of the best amounts with it [1]: changes, and 1000 times what goals are missed by."""
    misses: float
    """What goals are still missed by, as fractions of their sizes [1]."""
    grams: float
    """How much of it those amounts use [g]."""
    unknown: tuple[str, ...]
    """Quantities with a goal of which its figure is not known: counted as none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TableSearch:
    """The foods of a table that help most, proven."""

    found: tuple[StandIn, ...]
    """The best first."""
    without: float
    """Cost of the best amounts without any of them [1]."""
    bound: float
    """No other food can come below this cost [1]: it is at least the last one's of ``found``."""
    priced: int
    """Foods priced [count]."""
    solved: int
    """Programs solved [count]."""


def search_table(
    batch: Batch,
    brief: Brief,
    foods: FoodTable,
    line_ids: tuple[str, ...],
    *,
    count: int = 10,
    wanted: Callable[[Food], bool] | None = None,
    progress: Callable[[float], bool] = lambda _: True,
) -> TableSearch:
    """Find the foods that help a brief most when they may stand in for some lines, gram for gram.

    With prices y of any of the programs solved, no amounts that use food j cost less than
    b(y) + min(0, d_j(y)) u_j, where b is what y proves without it, d_j its reduced cost and u_j the
    most of it. All foods are priced with every y; the one with the lowest bound is solved, until as
    many as are wanted cost no more than every bound that is left.

    Parameters
    ----------
    line_ids : tuple of str
        The lines the food may replace.
    count : int
        How many foods to find.
    wanted : callable
        Says of each food whether it may be used at all; all may unless it is given.
    progress : callable
        Is told the fraction done, as far as it can be known; returns False to give up.

    Raises
    ------
    BadInput
        If the brief has problems, or its holds conflict among themselves.
    Stopped
        If ``progress`` said so.
    """
    known = {line.id for line in batch.recipe.lines}
    strangers = [line for line in line_ids if line not in known]
    problems = (
        *(
            Problem("search", f"found the line '{line}'.", f"Expected one of: {', '.join(known)}.")
            for line in strangers
        ),
        *brief_problems(brief, batch.recipe),
    )
    if problems:
        raise BadInput(problems)
    rows = _candidates(batch, brief, foods, wanted)
    if not rows.size:
        raise BadInput(Problem("search", "no food is left to try.", "Search more of the table."))
    swap = Swap(food=foods.foods[rows[0]].key, stands_in_for=line_ids, least=0.0)
    extended = replace(brief, swaps=(*brief.swaps, swap), max_swaps=None, manner=Manner.FEWEST)
    model = build_model(collect_items(batch, extended, foods), extended, batch.recipe)
    pricing = _Pricing(model, _columns(model, extended, foods, rows))
    _search(pricing, count, progress)
    best = sorted(pricing.cost, key=lambda j: (pricing.cost[j], rows[j]))[:count]
    others = [pricing.cost[j] for j in pricing.cost if j not in best]
    left = pricing.bounds[pricing.left]
    return TableSearch(
        found=tuple(_stand_in(pricing, j, swap, model, foods, rows[j], brief) for j in best),
        without=pricing.without,
        bound=float(min([*others, left.min(initial=np.inf)])),
        priced=len(rows),
        solved=len(pricing.cost) + 1,
    )


def _candidates(
    batch: Batch, brief: Brief, foods: FoodTable, wanted: Callable[[Food], bool] | None
) -> IntArray:
    """(foods,) rows of the foods that are not in use; of a dish that is cooked, those of known water."""
    used = {item.food.key for item in batch.ingredients}
    used |= {foods.food(swap.food).key for swap in brief.swaps if swap.allowed}
    open_ = np.ones(len(foods), dtype=np.bool_)
    if batch.recipe.moisture_loss_percent > 0.0:
        open_ = foods.known[:, QUANTITY_INDEX["water_g"]].copy()
    open_[[foods.index(key) for key in used if key in foods]] = False
    if wanted is not None:
        open_ &= [wanted(food) for food in foods.foods]
    return np.flatnonzero(open_)


def _columns(model: Model, brief: Brief, foods: FoodTable, rows: IntArray) -> FloatArray:
    """(m, foods) the column each food would have in the place of the model's last swap.

    A row's coefficient is affine in what a gram of the food brings, so that the rows of a food that
    brings nothing, and of one for each quantity that brings it alone, give all columns in one pass.
    """
    items, recipe = model.items, model.recipe
    last, kinds = len(items.original) - 1, items.per_gram.shape[1]
    probes = np.concatenate([np.zeros((1, kinds)), np.eye(kinds)])

    def repeated(array: FloatArray) -> FloatArray:
        return np.concatenate([array[:last], np.repeat(array[last:], len(probes))])

    probed = Items(
        lines=items.lines,
        swaps=(*items.swaps[:-1], *(items.swaps[-1],) * len(probes)),
        ingredients=items.ingredients,
        per_gram=np.concatenate([items.per_gram[:last], probes]),
        known=np.concatenate([items.known[:last], np.ones(probes.shape, dtype=np.bool_)]),
        yields=repeated(items.yields),
        original=repeated(items.original),
        scale=repeated(items.scale),
        least=repeated(items.least),
        most=repeated(items.most),
        least_used=repeated(items.least_used),
        work=repeated(items.work),
    )
    answers = np.zeros((len(model.program.rows), len(probes)))
    built = (*goal_rows(brief, probed, recipe), *hold_rows(brief, probed, recipe))
    for i, row in enumerate(built):
        answers[i] = row.coefficients[last:] * (items.scale[last] / model.row_scale[i])
    per_gram = quantities_of(foods)[0][rows] / 100.0
    for key in ("water_g", "moisture"):
        per_gram[:, QUANTITY_INDEX[key]] -= recipe.moisture_loss_percent / 100.0
    nothing = answers[:, :1]
    columns: FloatArray = nothing + (answers[:, 1:] - nothing) @ per_gram.T
    return columns


def _search(pricing: _Pricing, count: int, progress: Callable[[float], bool]) -> None:
    """Solve the food with the lowest bound, until enough cost no more than every bound left."""
    while True:
        costs = sorted(pricing.cost.values())
        last = costs[count - 1] if len(costs) >= count else np.inf
        left = pricing.left
        if not left.size or pricing.bounds[left].min() >= last - SAME:
            return
        if not progress(len(costs) / (len(costs) + np.sum(pricing.bounds[left] < last - SAME))):
            raise Stopped("Given up.")
        pricing.solve(int(left[np.argmin(pricing.bounds[left])]))


class _Pricing:
    """The elastic program of a brief with one place for a food, warm, and the bounds on all foods."""

    def __init__(self, model: Model, columns: FloatArray) -> None:
        m, own = len(model.program.rows), len(model.program.cost)
        size = np.array([row.size for row in model.rows]) / model.row_scale
        goal = np.arange(m) < model.goal_count
        elastic = with_slack(
            model.program,
            np.append(size, np.ones(len(model.levels))),
            cost=np.where(goal, MISS_WEIGHT, 0.0),
            most=np.where(goal, np.inf, 0.0),
        )
        slack_cost = elastic.cost[own:]
        self.program = replace(elastic, cost=np.concatenate([model.program.cost, slack_cost]))
        self._place, self._slack = int(model.swap_columns[-1]), slice(own, None)
        self._most = float(elastic.column_upper[self._place])
        self._columns = np.concatenate([columns, columns])  # each row stands twice, once a side
        self._engine = Engine(self.program)
        self.bounds = np.full(columns.shape[1], -np.inf)
        """(foods,) no amounts that use the food cost less [1]."""
        self.cost: dict[int, float] = {}
        """Least cost with each food solved [1]."""
        self.use: dict[int, float] = {}
        """How much of it that takes [column unit]."""
        self.misses: dict[int, float] = {}
        """What goals are missed by [1]."""
        self.without = self._solve(most=0.0)[0]

    @property
    def left(self) -> IntArray:
        """The foods that are not solved yet."""
        open_ = np.ones(len(self.bounds), dtype=np.bool_)
        open_[list(self.cost)] = False
        return np.flatnonzero(open_)

    def solve(self, j: int) -> None:
        """Find the best amounts with food ``j``, and price all foods with what that proves."""
        self._engine.set_column(self._place, self._columns[:, j])
        cost, x = self._solve(most=self._most)
        self.cost[j], self.use[j] = cost, float(x[self._place])
        self.misses[j] = float(x[self._slack] @ self.program.cost[self._slack]) / MISS_WEIGHT

    def _solve(self, most: float) -> tuple[float, FloatArray]:
        upper = self.program.column_upper.copy()
        upper[self._place] = most
        self._engine.set_column_limits(self.program.column_lower, upper)
        found = self._engine.solve()
        if found.outcome is not Outcome.OPTIMAL:
            raise BadInput(
                Problem("search", "the holds conflict among themselves.", "Loosen a hold first.")
            )
        bound = proven_bound(self.program, found.row_duals, self._place)
        prices = self.program.cost[self._place] - found.row_duals @ self._columns
        self.bounds = np.maximum(self.bounds, bound + np.minimum(prices, 0.0) * self._most)
        return found.objective, found.x


def _stand_in(
    pricing: _Pricing, j: int, swap: Swap, model: Model, foods: FoodTable, row: int, brief: Brief
) -> StandIn:
    food = foods.foods[row]
    known = quantities_of(foods)[1][row]
    return StandIn(
        swap=replace(swap, food=food.key, least=None),
        food=food,
        cost=pricing.cost[j],
        misses=pricing.misses[j],
        grams=pricing.use[j] * float(model.items.scale[-1]),
        unknown=tuple(
            dict.fromkeys(
                goal.nutrient for goal in brief.goals if not known[QUANTITY_INDEX[goal.nutrient]]
            )
        ),
    )
