"""The exact trade-off between two quantities, or one and closeness to the original; MODEL.md §12."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from math import ceil, floor
from typing import Final

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import Brief, Goal, Manner, Per, brief_problems
from reformulate.errors import BadInput, Problem
from reformulate.foods import QUANTITY_INDEX, FoodTable, quantity_named
from reformulate.optimise.closest import tie_break_cost
from reformulate.optimise.efficient import (
    Vertex,
    efficient_ratio_vertices,
    efficient_vertices,
    knee,
)
from reformulate.optimise.engine import SolverStopped
from reformulate.optimise.gives import Stopped
from reformulate.optimise.items import Items, collect_items
from reformulate.optimise.levels import level
from reformulate.optimise.model import Model, build_model
from reformulate.optimise.rows import nutrient_per_gram, reference_per_gram
from reformulate.recipes import Batch

FloatArray = NDArray[np.float64]

CHANGE: Final = "change"
"""In the place of a quantity: how far the amounts are from the original's [percent of a line]."""

MORE_IS_BETTER: Final = frozenset(
    {
        "protein_g",
        "fibre_g",
        "potassium_mg",
        "calcium_mg",
        "iron_mg",
        "magnesium_mg",
        "zinc_mg",
        "vitamin_a_ug",
        "vitamin_c_mg",
        "vitamin_d_ug",
        "vitamin_e_mg",
        "vitamin_k_ug",
        "thiamin_mg",
        "riboflavin_mg",
        "niacin_mg",
        "vitamin_b6_mg",
        "vitamin_b12_ug",
        "folate_ug",
        "sweetness",
        "sourness",
        "savouriness",
        "pungency",
        "richness",
        "body",
    }
)
"""What a cook wants more of, unless a goal says otherwise: our own choice."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class TradeOffPoint:
    """One corner of the curve: a whole recipe."""

    first: float
    """Level of the first quantity [its unit]."""
    second: float
    """Level of the second quantity [its unit]."""
    grams: FloatArray
    """(n,) amounts that reach it [g]: lines, then allowed swaps."""
    keeps_swap_rules: bool
    """False where a swap is used less than its least, or too many are used."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class TradeOff:
    """The efficient set of two quantities: straight lines between its corners."""

    first: str
    """Key of a quantity, or ``change``."""
    second: str
    per: Per
    """What the levels are per: a serving, or 100 g."""
    first_more: bool
    """True where more of the first is better."""
    second_more: bool
    points: tuple[TradeOffPoint, ...]
    """All corners, the best of the first quantity first; empty where the musts conflict."""
    original: tuple[float, float]
    """Levels of the original [their units]."""
    knee: int | None
    """Which point is the knee; None with fewer than three."""
    items: Items
    """What the amounts are of."""
    notes: tuple[str, ...]
    """What the curve leaves aside, in words; empty where it is exact in all the brief says."""

    @property
    def exact(self) -> bool:
        """True where the curve leaves nothing of the brief aside."""
        return not self.notes


def more_is_better(key: str, brief: Brief) -> bool:
    """Return whether more of a quantity is better: by its goal, else by what a cook wants."""
    goal = brief.goal_on(key)
    if goal is not None and (goal.at_least is None) != (goal.at_most is None):
        return goal.at_least is not None
    return key in MORE_IS_BETTER


def trade_off(
    batch: Batch,
    brief: Brief,
    foods: FoodTable,
    first: str,
    second: str,
    *,
    per: Per = Per.SERVING,
    more: Iterable[str] | None = None,
    progress: Callable[[float], bool] = lambda _: True,
) -> TradeOff:
    """Return every corner of the efficient set of two quantities, all other musts and holds kept.

    Parameters
    ----------
    first, second : str
        Keys of nutrients, of properties of character, ``cost``, or ``change``. Their own goals are
        left out, as for a reach.
    per : Per
        A serving or 100 g; change goes with a serving only.
    more : iterable of str, optional
        The keys of which more is better; None to go by goals and common sense.
    progress : callable
        Is asked before each step; returns False to give up.

    Raises
    ------
    BadInput
        If a key is not known, both are the same, the unit does not fit, or the brief has problems.
    Unbounded
        If nothing limits a quantity.
    Stopped
        If ``progress`` said so.
    """
    problems = (*_problems(first, second, per), *brief_problems(brief, batch.recipe))
    if problems:
        raise BadInput(problems)
    wanted = [
        key in more if more is not None else more_is_better(key, brief) for key in (first, second)
    ]
    left = replace(
        brief,
        goals=tuple(
            goal
            for goal in brief.goals
            if goal.nutrient not in (first, second) and not goal.is_wish
        ),
        manner=Manner.FEWEST,
    )
    model = build_model(collect_items(batch, left, foods), left, batch.recipe)
    vertices = _vertices(model, (first, second), per, wanted, progress)
    items, servings = model.items, batch.recipe.servings

    def levels(grams: FloatArray) -> tuple[float, float]:
        one, two = (curve_level(key, per, grams, items, servings) for key in (first, second))
        return one, two

    points = tuple(
        TradeOffPoint(
            first=levels(grams)[0],
            second=levels(grams)[1],
            grams=grams,
            keeps_swap_rules=_keeps_rules(grams, items, brief.max_swaps),
        )
        for grams in (model.grams(vertex.x) for vertex in vertices)
    )
    return TradeOff(
        first=first,
        second=second,
        per=per,
        first_more=wanted[0],
        second_more=wanted[1],
        points=points,
        original=levels(items.original),
        knee=knee(vertices),
        items=items,
        notes=_notes(brief, points),
    )


def with_point(brief: Brief, curve: TradeOff, point: TradeOffPoint) -> Brief:
    """Return the brief with goals on the curve's quantities that ask for a point, rounded outwards."""
    for key, value, more in (
        (curve.first, point.first, curve.first_more),
        (curve.second, point.second, curve.second_more),
    ):
        if key == CHANGE:
            continue
        step = 10.0 ** quantity_named(key).decimals
        limit = floor(value * step + 1e-6) / step if more else ceil(value * step - 1e-6) / step
        goal = Goal(
            nutrient=key,
            at_least=max(limit, 0.0) if more else None,
            at_most=None if more else max(limit, 0.0),
            per=curve.per,
        )
        brief = brief.with_goal(goal)
    return brief


def _problems(first: str, second: str, per: Per) -> Iterable[Problem]:
    for key in (first, second):
        if key != CHANGE and key not in QUANTITY_INDEX:
            yield Problem(
                "trade-off",
                f"found '{key}'.",
                f"Expected {CHANGE} or one of: {', '.join(QUANTITY_INDEX)}.",
            )
    if first == second:
        yield Problem("trade-off", f"'{first}' is given twice.", "Name two quantities.")
    if per not in (Per.SERVING, Per.HUNDRED_GRAMS):
        yield Problem("trade-off", f"cannot be per {per}.", "Choose per serving or per 100 g.")
    elif per is Per.HUNDRED_GRAMS and CHANGE in (first, second):
        yield Problem("trade-off", "change has no figure per 100 g.", "Choose per serving.")


def _vertices(
    model: Model,
    keys: tuple[str, str],
    per: Per,
    more: list[bool],
    progress: Callable[[float], bool],
) -> tuple[Vertex, ...]:
    program, items = model.program, model.items
    steps = 0

    def stop() -> bool:
        nonlocal steps
        steps += 1
        return not progress(1.0 - 1.0 / (1.0 + steps / 20.0))

    tie_break = program.cost + 1e-3 * tie_break_cost(model)
    signs = [-1.0 if better else 1.0 for better in more]
    per_gram = [
        np.zeros(len(items.original)) if key == CHANGE else nutrient_per_gram(key, items)
        for key in keys
    ]
    forms = [
        program.cost if key == CHANGE else sign * column @ model.to_grams
        for key, sign, column in zip(keys, signs, per_gram, strict=True)
    ]
    try:
        if per is Per.SERVING:
            return efficient_vertices(program, *forms, tie_break=tie_break, stop=stop)
        whole = reference_per_gram(per, items)
        starts = [
            sign * float(column @ items.original)
            for sign, column in zip(signs, per_gram, strict=True)
        ]
        return efficient_ratio_vertices(
            program,
            forms[0],
            starts[0],
            forms[1],
            starts[1],
            whole @ model.to_grams,
            float(whole @ items.original),
            tie_break=tie_break,
            stop=stop,
        )
    except SolverStopped as error:
        if not progress(0.0):
            raise Stopped("Given up.") from error
        raise


def curve_level(key: str, per: Per, grams: FloatArray, items: Items, servings: float) -> float:
    """Return where ``grams`` (n,) [g] stand on an axis of a curve [its unit].

    The change of a line is counted in percent of what it weighs, and all are added up.
    """
    if key == CHANGE:
        return 100.0 * float((np.abs(grams - items.original) / items.scale).sum())
    return level(key, per, grams, items, servings)


def _keeps_rules(grams: FloatArray, items: Items, most: int | None) -> bool:
    used = (grams > 1e-6) & (items.least_used > 0.0)
    enough = grams >= items.least_used - 1e-6
    count = int((grams[len(items.lines) :] > 1e-6).sum())
    return bool((enough | ~used).all()) and (most is None or count <= most)


def _notes(brief: Brief, points: tuple[TradeOffPoint, ...]) -> tuple[str, ...]:
    notes = []
    if any(goal.is_wish for goal in brief.goals):
        notes.append("Wishes are left aside.")
    loose = sum(not point.keeps_swap_rules for point in points)
    if loose:
        notes.append(
            f"Swaps are counted in any amount and number: {loose} of the {len(points)} points use one "
            "less than its least amount, or too many."
        )
    return tuple(notes)
