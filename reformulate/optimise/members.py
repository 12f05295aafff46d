"""The single wishes of a brief, each of which can be left out of the model on its own."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_array, vstack

from reformulate.brief import Brief, CharacterHold, Goal, Hold, LineHold, Per
from reformulate.foods import quantity_named
from reformulate.optimise.model import Model
from reformulate.optimise.nearest import with_slack_on
from reformulate.optimise.program import LinearProgram
from reformulate.optimise.words import goal_words

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One side of a goal, a hold, or the band of a group of swaps."""

    words: str
    """What it asks for, as a cook reads it."""
    goal: Goal | None = None
    """The goal it is a side of, with that side only."""
    hold: Hold | None = None
    sides: tuple[tuple[int, str], ...] = ()
    """Rows it keeps, each with the side it keeps it on."""
    fallback: float = np.inf
    """The row's limit without it: that of another goal on the same side, else none [scaled row unit]."""
    line: int | None = None
    """Number of the line it keeps within limits [index]."""
    max_swaps: int | None = None
    """Most swaps used, where that is what it asks for [count]."""


def members_of(model: Model, brief: Brief) -> tuple[Member, ...]:
    """Return all that can be left out, what is left out first at the front.

    Holds on lines come first, then groups of swaps, then other holds, then goals: what remains as
    the reason of a conflict is then as little about single lines as can be.
    """
    rows = model.rows
    lines = {line.id: i for i, line in enumerate(model.items.lines)}
    names = [item.food.name.split(",")[0].lower() for item in model.items.ingredients]
    on_lines = [
        Member(words=line_words(names[lines[hold.line]], hold), hold=hold, line=lines[hold.line])
        for hold in brief.holds
        if isinstance(hold, LineHold)
    ]
    bands = [
        Member(
            words=f"{row.name} within ± {brief.swap_band:.0%}".replace("%", " %"), sides=_both(i)
        )
        for i, row in enumerate(rows)
        if row.band
    ]
    held: dict[int, list[int]] = {}
    for i, row in enumerate(rows):
        if row.hold is not None:
            held.setdefault(brief.holds.index(row.hold), []).append(i)
    holds = [
        Member(
            words=hold_words(rows[numbers[0]].name, brief.holds[number]),
            hold=brief.holds[number],
            sides=tuple(side for i in numbers for side in _both(i)),
        )
        for number, numbers in held.items()
    ]
    few = () if brief.max_swaps is None else (_few_swaps(brief.max_swaps),)
    return (*on_lines, *bands, *few, *holds, *_goal_members(model, brief))


def _few_swaps(most: int) -> Member:
    words = "no swap" if most == 0 else f"at most {most} swap{'s' if most > 1 else ''}"
    return Member(words=words, max_swaps=most)


def without(model: Model, left_out: tuple[Member, ...]) -> LinearProgram:
    """Return the program of a model with some members left out."""
    program = model.program
    lower, upper = program.row_lower.copy(), program.row_upper.copy()
    column_upper, column_lower = program.column_upper.copy(), program.column_lower.copy()
    count = len(model.items.lines)
    taken = [place for member in left_out for place in member.sides]
    for member in left_out:
        for i, side in member.sides:
            stays = np.isfinite(member.fallback) and taken.count((i, side)) == 1
            if side == "lower":
                lower[i] = member.fallback if stays else -np.inf
            else:
                upper[i] = member.fallback if stays else np.inf
        if member.line is not None:
            more, less = member.line, count + member.line
            column_lower[[more, less]] = 0.0
            column_upper[more] = np.inf
            column_upper[less] = model.items.original[more] / model.items.scale[more]
    return replace(
        program,
        row_lower=lower,
        row_upper=upper,
        column_lower=column_lower,
        column_upper=column_upper,
    )


def with_slack_for(model: Model, member: Member) -> LinearProgram:
    """Return the program in which a member, and nothing else, gives way by as little as may be."""
    program, items = model.program, model.items
    size = np.array([row.size for row in model.rows]) / model.row_scale
    size = np.append(size, np.ones(len(program.rows) - len(size)))
    if member.line is None:
        limits = {"lower": program.row_lower, "upper": program.row_upper}
        room = tuple(
            (i, side, abs(member.fallback - limits[side][i]) / size[i])
            for i, side in member.sides
            if np.isfinite(limits[side][i])
        )
        return with_slack_on(program, size, room)
    # The limits of a line are bounds; only rows have slack, so here they are a row.
    at, moved = member.line, np.zeros(len(program.columns))
    moved[[at, len(items.lines) + at]] = 1.0, -1.0
    limit = [(end[at] - items.original[at]) / items.scale[at] for end in (items.least, items.most)]
    free = without(model, (member,))
    free = replace(
        free,
        rows=(*free.rows, member.words),
        matrix=csc_array(vstack([free.matrix, csc_array(moved[None, :])])),
        row_lower=np.append(free.row_lower, limit[0]),
        row_upper=np.append(free.row_upper, limit[1]),
    )
    last = len(program.rows)
    sides = ((last, "lower", np.inf), (last, "upper", np.inf))
    return with_slack_on(free, np.append(size, 1.0), sides)


def _goal_members(model: Model, brief: Brief) -> list[Member]:
    """One member for each side of each goal, in the order of the goals."""
    found = []
    musts = [i for i, row in enumerate(model.rows[: model.goal_count]) if not row.rank]
    shares = [i for i in musts if model.rows[i].is_share]
    amounts = {model.rows[i].nutrient: i for i in musts if not model.rows[i].is_share}
    for goal in brief.goals:
        if goal.is_wish:
            continue
        is_share = goal.per in (Per.HUNDRED_GRAMS, Per.ENERGY)
        pair = (shares.pop(0), shares.pop(0)) if is_share else (amounts[goal.nutrient],) * 2
        for i, row_side, side in (
            (pair[0], "lower", replace(goal, at_most=None)),
            (pair[1], "upper", replace(goal, at_least=None)),
        ):
            if side.at_least is None and side.at_most is None:
                continue
            found.append(
                Member(
                    words=goal_words(side),
                    goal=side,
                    sides=((i, row_side),),
                    fallback=_fallback(model, brief, goal, i, row_side),
                )
            )
    return found


def _fallback(model: Model, brief: Brief, goal: Goal, i: int, side: str) -> float:
    """Return the limit another goal in amounts of the same nutrient sets on the same side."""
    row = model.rows[i]
    for other in brief.goals:
        if other is goal or other.nutrient != goal.nutrient or row.is_share or other.is_wish:
            continue
        limit = other.lowest if side == "lower" else other.highest
        if limit is not None and other.per in (Per.SERVING, Per.ORIGINAL):
            serving = other.per is Per.SERVING
            unit = model.recipe.servings if serving else row.original / 100.0
            return limit * unit / float(model.row_scale[i]) - float(model.start[i])
    return np.inf


def _both(i: int) -> tuple[tuple[int, str], ...]:
    return ((i, "lower"), (i, "upper"))


def hold_words(name: str, hold: Hold) -> str:
    """Say a hold on several lines: ``batch size within ± 2 %``, ``saltiness at most 1.2 g per 100 g``."""
    parts = []
    if hold.tolerance is not None:
        parts.append(f"within ± {hold.tolerance * 100:g} %")
    if isinstance(hold, CharacterHold):
        unit = quantity_named(hold.quality).unit
        if hold.at_least is not None:
            parts.append(f"at least {hold.at_least:g} {unit} per 100 g")
        if hold.at_most is not None:
            parts.append(f"at most {hold.at_most:g} {unit} per 100 g")
    return f"{name} {', '.join(parts)}"


def line_words(name: str, hold: LineHold) -> str:
    """Say a hold on one line: ``garlic locked``, ``walnuts at least 45 g``."""
    if hold.locked:
        return f"{name} locked"
    parts = []
    if hold.tolerance is not None:
        parts.append(f"within ± {hold.tolerance * 100:g} %")
    if hold.least is not None:
        parts.append(f"at least {hold.least:g} g")
    if hold.most is not None:
        parts.append(f"at most {hold.most:g} g")
    return f"{name} {', '.join(parts)}"
