"""The smallest change to one wish that lets all the others be kept."""

from __future__ import annotations

from dataclasses import replace
from math import ceil, floor, isfinite

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import (
    BatchHold,
    Brief,
    CharacterHold,
    Goal,
    Hold,
    LineHold,
    Per,
    RatioHold,
    RoleHold,
    lines_in,
)
from reformulate.foods import quantity_named
from reformulate.optimise.engine import Outcome, SolverStopped, solve_program
from reformulate.optimise.fractional import least_ratio
from reformulate.optimise.members import Member, hold_words, line_words, without
from reformulate.optimise.model import Model
from reformulate.optimise.program import LinearProgram
from reformulate.optimise.rows import (
    character_limits,
    nutrient_per_gram,
    reference_per_gram,
    share_factor,
)
from reformulate.optimise.words import goal_words

FloatArray = NDArray[np.float64]

Change = tuple[str, Brief]
"""What a wish becomes in words, and the brief with it."""


def way_out(model: Model, member: Member, brief: Brief) -> Change | None:
    """Return the nearest change of one member that lets all others be kept, or None.

    The new limit is rounded away from the old one to what a cook would write.
    """
    program = without(model, (member,))
    if np.any(program.row_lower > program.row_upper):
        return None
    try:
        return _nearest(model, program, member, brief)
    except SolverStopped:
        return None


def _nearest(model: Model, program: LinearProgram, member: Member, brief: Brief) -> Change | None:
    if member.goal is not None:
        return _goal(model, program, member.goal, brief)
    if isinstance(member.hold, LineHold) and member.line is not None:
        return _line(model, program, member.hold, member.line, brief)
    if isinstance(member.hold, CharacterHold):
        return _character(model, program, member.hold, brief)
    if member.hold is not None:
        return _hold(model, program, member, member.hold, brief)
    return _band(model, program, member, brief)


def _range(
    model: Model, program: LinearProgram, top: FloatArray, whole: FloatArray | None = None
) -> tuple[float, float] | None:
    """Return how low and high a form of the grams, or a ratio of two, can go; None for nowhere."""
    original = model.items.original
    columns, start = top @ model.to_grams, float(top @ original)
    ends = []
    for sign in (1.0, -1.0):
        if whole is None:
            found = solve_program(replace(program, cost=sign * columns))
            if found.outcome is Outcome.INFEASIBLE:
                return None
            end = found.objective + sign * start if found.outcome is Outcome.OPTIMAL else -np.inf
        else:
            end = least_ratio(
                program,
                sign * columns,
                sign * start,
                whole @ model.to_grams,
                float(whole @ original),
            )
            if np.isnan(end):
                return None
        ends.append(sign * end)
    return ends[0], ends[1]


def _goal(model: Model, program: LinearProgram, goal: Goal, brief: Brief) -> Change | None:
    items, per = model.items, goal.per
    top = share_factor(goal.nutrient, per) * nutrient_per_gram(goal.nutrient, items)
    if per in (Per.HUNDRED_GRAMS, Per.ENERGY):
        reach = _range(model, program, top, reference_per_gram(per, items))
        unit = 1.0
    else:
        reach = _range(model, program, top)
        unit = model.recipe.servings if per is Per.SERVING else float(top @ items.original) / 100.0
    if reach is None or unit <= 0.0:
        return None
    decimals = 0 if per in (Per.ENERGY, Per.ORIGINAL) else quantity_named(goal.nutrient).decimals
    if goal.at_most is not None:
        limit = _outwards(reach[0] / unit / (1.0 - goal.headroom), decimals, up=True)
        side = replace(goal, at_most=limit)
    else:
        limit = _outwards(reach[1] / unit / (1.0 + goal.headroom), decimals, up=False)
        side = replace(goal, at_least=limit)
    if not isfinite(limit):
        return None
    changed = tuple(_with_side(old, side) for old in brief.goals)
    return goal_words(side), replace(brief, goals=changed)


def _with_side(old: Goal, side: Goal) -> Goal:
    if (old.nutrient, old.per, old.rank) != (side.nutrient, side.per, side.rank):
        return old
    if side.at_most is not None:
        return replace(old, at_most=side.at_most)
    return replace(old, at_least=side.at_least)


def _line(
    model: Model, program: LinearProgram, hold: LineHold, line: int, brief: Brief
) -> Change | None:
    reach = _range(model, program, np.eye(len(model.items.original))[line])
    if reach is None:
        return None
    least, most = model.items.least[line], model.items.most[line]
    if reach[0] > most:
        side = replace(hold, tolerance=None, most=_outwards(reach[0], 1, up=True))
        side = replace(side, least=least if least > 0 else None)
    elif reach[1] < least:
        side = replace(hold, tolerance=None, least=_outwards(reach[1], 1, up=False))
        side = replace(side, most=most if isfinite(most) else None)
    else:
        return None
    name = model.items.ingredients[line].food.name.split(",")[0].lower()
    return line_words(name, side), _with_hold(brief, hold, side)


def _hold(
    model: Model, program: LinearProgram, member: Member, hold: Hold, brief: Brief
) -> Change | None:
    row = model.rows[member.sides[0][0]]
    if isinstance(hold, RatioHold):
        recipe = model.recipe
        top, bottom = (
            model.items.standing_in(lines_in(group, recipe)) for group in (hold.of, hold.to)
        )
        original = model.items.original
        ratio = hold.ratio or float(top @ original) / float(bottom @ original)
        reach = _range(model, program, top / ratio, bottom)
    else:
        reach = _range(model, program, row.coefficients / row.size)
    tolerance = _tolerance(reach)
    if tolerance is None or isinstance(hold, LineHold | CharacterHold):
        return None
    if isinstance(hold, BatchHold) and tolerance >= 1.0:
        return None  # a dish of nothing keeps every other limit
    changed: BatchHold | RatioHold | RoleHold = replace(hold, tolerance=tolerance)
    return hold_words(row.name, changed), _with_hold(brief, hold, changed)


def _character(
    model: Model, program: LinearProgram, hold: CharacterHold, brief: Brief
) -> Change | None:
    items = model.items
    top = nutrient_per_gram(hold.quality, items)
    whole = reference_per_gram(Per.HUNDRED_GRAMS, items)
    reach = _range(model, program, top, whole)
    if reach is None:
        return None
    kind = quantity_named(hold.quality)
    low, high = character_limits(hold, items)
    if high is not None and reach[0] > high:
        side = replace(hold, at_most=_outwards(reach[0], kind.decimals + 1, up=True))
        side = replace(side, tolerance=None, at_least=low)
    elif low is not None and reach[1] < low:
        side = replace(hold, at_least=_outwards(reach[1], kind.decimals + 1, up=False))
        side = replace(side, tolerance=None, at_most=high)
    else:
        return None
    return hold_words(kind.spoken, side), _with_hold(brief, hold, side)


def _band(model: Model, program: LinearProgram, member: Member, brief: Brief) -> Change | None:
    row = model.rows[member.sides[0][0]]
    tolerance = _tolerance(_range(model, program, row.coefficients / row.size))
    if tolerance is None:
        return None
    return f"{row.name} within ± {tolerance * 100:g} %", replace(brief, swap_band=tolerance)


def _tolerance(reach: tuple[float, float] | None) -> float | None:
    """Return how far from 1 a range lies, in whole percent; None where that is over 100 %."""
    if reach is None:
        return None
    tolerance = _outwards(max(reach[0] - 1.0, 1.0 - reach[1], 0.0), 2, up=True)
    return tolerance if tolerance <= 1.0 else None


def _with_hold(brief: Brief, old: Hold, new: Hold) -> Brief:
    return replace(brief, holds=tuple(new if hold is old else hold for hold in brief.holds))


def _outwards(value: float, decimals: int, *, up: bool) -> float:
    """Round so that the value stays within the new limit, the solver's dust aside."""
    if not isfinite(value):
        return value
    step = 10.0**decimals
    rounded = ceil(value * step - 1e-9) if up else floor(value * step + 1e-9)
    return max(0.0, rounded / step)
