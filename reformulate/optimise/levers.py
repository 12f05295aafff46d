"""What an optimum leans on: the limits that bind, each as something that can be moved a little."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import Brief, Goal, LineHold, Per
from reformulate.foods import quantity_named
from reformulate.optimise.exact import Exact
from reformulate.optimise.members import Member, members_of
from reformulate.optimise.model import Model, with_share_limit

FloatArray = NDArray[np.float64]

BINDS = 1e-7
"""Nearer than this to its limit a row or a bound binds [scaled row unit]."""

LINE_STEP = 0.1
"""Step for a limit on one line, as a share of what the line weighs [1]; at most a gram."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Lever:
    """One binding limit, and how to move it."""

    words: str
    """What is asked for: ``energy at most 145 kcal per serving``."""
    step_words: str
    """One step, as a cook reads it: ``10 kcal less``."""
    step: float
    """One step: with its sign, the way it is moved [the limit's unit]."""
    limit: float
    """Where the limit stands [the limit's unit]."""
    unit: str
    """The limit's unit, as it is written."""
    decimals: int
    """Decimals the limit is written with [count]."""
    move: Callable[[Model, float], Model]
    """Return the model with the limit moved by so much [the limit's unit]."""
    nutrient: str = ""
    """Key of the quantity, where the limit is a goal's."""


def levers_of(exact: Exact, brief: Brief) -> tuple[Lever, ...]:
    """Return the binding goals, then the binding holds and bounds, of an optimum that keeps all musts.

    Goals are moved so that they ask for more, holds so that they ask for less.
    """
    model, x = exact.model, exact.x
    activity = model.program.activity(x)
    lower = np.abs(activity - model.program.row_lower) <= BINDS
    upper = np.abs(activity - model.program.row_upper) <= BINDS
    bound = {(int(i), "lower") for i in np.flatnonzero(lower)}
    bound |= {(int(i), "upper") for i in np.flatnonzero(upper)}
    goals: list[Lever] = []
    holds: list[Lever] = []
    for member in members_of(model, brief):
        binding = [side for side in member.sides if side in bound]
        if member.goal is not None and binding:
            goals.append(_goal_lever(model, member, member.goal, *binding[0]))
        elif isinstance(member.hold, LineHold) and member.line is not None:
            holds += _line_levers(exact, member, member.line)
        else:
            holds += [_hold_lever(model, member, *side) for side in binding]
    return (*goals, *holds, *_share_levers(exact))


def _goal_lever(model: Model, member: Member, goal: Goal, i: int, side: str) -> Lever:
    kind = quantity_named(goal.nutrient)
    share = goal.per in (Per.ENERGY, Per.ORIGINAL)
    unit = "%" if share else kind.unit
    size = 1.0 if share else 10.0 if kind.unit in ("kcal", "mg") else 10.0 ** (1 - kind.decimals)
    down = side == "upper"
    row = model.rows[i]
    headroom = 1.0 - goal.headroom if down else 1.0 + goal.headroom
    asked = goal.at_most if down else goal.at_least
    limit = asked or 0.0

    def move(moved: Model, by: float) -> Model:
        wanted = (limit + by) * headroom
        if row.is_share:
            return with_share_limit(moved, i, wanted)
        per_unit = moved.recipe.servings if goal.per is Per.SERVING else row.original / 100.0
        return _with_row(moved, i, side, wanted * per_unit / moved.row_scale[i] - moved.start[i])

    return Lever(
        words=member.words,
        step_words=f"{size:g} {unit} {'less' if down else 'more'}",
        step=-size if down else size,
        limit=limit,
        unit=unit,
        decimals=0 if share else kind.decimals,
        move=move,
        nutrient=goal.nutrient,
    )


def _hold_lever(model: Model, member: Member, i: int, side: str) -> Lever:
    """Return a hold's limit, in percent of what it holds; loosened by one."""
    row = model.rows[i]
    out = 1.0 if side == "upper" else -1.0
    if row.is_share and row.top is not None and row.whole is not None:
        original = float(row.top @ model.items.original) / float(row.whole @ model.items.original)
        limit = _share_limit(row.top, row.whole, row.coefficients)
        unit = original / 100.0
        now = limit / unit

        def move(moved: Model, by: float) -> Model:
            return with_share_limit(moved, i, limit + by * unit)
    else:
        mass = row.size
        end = row.upper if side == "upper" else row.lower
        now = 100.0 * end / mass

        def move(moved: Model, by: float) -> Model:
            wanted = end + by * mass / 100.0
            return _with_row(moved, i, side, wanted / moved.row_scale[i] - moved.start[i])

    return Lever(
        words=member.words,
        step_words=f"1 % {'more' if out > 0 else 'less'} allowed",
        step=out,
        limit=now,
        unit="% of the original",
        decimals=0,
        move=move,
    )


def _share_limit(top: FloatArray, whole: FloatArray, coefficients: FloatArray) -> float:
    """Return the limit that stands in a share's coefficients."""
    at = int(np.argmax(np.abs(whole)))
    return float((top[at] - coefficients[at]) / whole[at])


def _line_levers(exact: Exact, member: Member, line: int) -> Iterator[Lever]:
    items = exact.model.items
    grams, least, most = exact.grams[line], items.least[line], items.most[line]
    near = 1e-6 * max(1.0, grams)
    for end, out, side in ((least, -1.0, "least"), (most, 1.0, "most")):
        if np.isfinite(end) and abs(grams - end) <= near and (end > 0.0 or out > 0):
            yield _item_lever(member.words, line, end, out, side)


def _share_levers(exact: Exact) -> Iterator[Lever]:
    """Yield the swaps that are used as far as their largest share."""
    items = exact.model.items
    for j, swap in enumerate(items.swaps, start=len(items.lines)):
        if items.most[j] - exact.grams[j] <= 1e-6 * max(1.0, items.most[j]):
            name = items.ingredients[j].food.name
            words = f"{name} for at most {swap.largest_share:.0%}".replace("%", " %")
            yield _item_lever(words, j, float(items.most[j]), 1.0, "most")


def _item_lever(words: str, item: int, end: float, out: float, side: str) -> Lever:
    size = min(1.0, max(LINE_STEP * end, 0.01))

    def move(moved: Model, by: float) -> Model:
        lines = len(moved.items.lines)
        scale = moved.items.scale[item]
        lower, upper = moved.program.column_lower.copy(), moved.program.column_upper.copy()
        wanted = max(end + by, 0.0)
        limits = np.array(moved.items.least), np.array(moved.items.most)
        limits[side == "most"][item] = wanted
        if item >= lines:
            upper[lines + item] = wanted / scale
        else:
            change = (wanted - moved.items.original[item]) / scale
            more, less = item, lines + item
            if side == "most":
                upper[more], lower[less] = max(change, 0.0), max(-change, 0.0)
            else:
                lower[more], upper[less] = max(change, 0.0), max(-change, 0.0)
        items = replace(moved.items, least=limits[0], most=limits[1])
        program = replace(moved.program, column_lower=lower, column_upper=upper)
        return replace(moved, items=items, program=program)

    return Lever(
        words=words,
        step_words=f"{size:.2g} g {'more' if out > 0 else 'less'}",
        step=out * size,
        limit=end,
        unit="g",
        decimals=1 if end >= 2 else 2,
        move=move,
    )


def _with_row(model: Model, i: int, side: str, limit: float) -> Model:
    lower, upper = model.program.row_lower.copy(), model.program.row_upper.copy()
    (lower if side == "lower" else upper)[i] = limit
    program = replace(model.program, row_lower=lower, row_upper=upper)
    return replace(model, program=program)
