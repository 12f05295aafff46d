"""The model's constraints in grams: one row a goal or hold, limits beside it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import isfinite
from typing import Final

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import (
    ENERGY_FACTORS,
    BatchHold,
    Brief,
    CharacterHold,
    Goal,
    Hold,
    LineHold,
    Per,
    RatioHold,
    RoleHold,
    group_words,
    lines_in,
)
from reformulate.foods import CHARACTER, QUANTITY_INDEX, quantity_named
from reformulate.optimise.items import Items, swap_groups
from reformulate.recipes import Recipe

FloatArray = NDArray[np.float64]

LEAST_CHARACTER: Final = {
    "saltiness": 0.3,
    "sweetness": 1.0,
    "sourness": 0.1,
    "savouriness": 20.0,
    "pungency": 0.5,
    "richness": 2.0,
    "moisture": 10.0,
    "body": 5.0,
}
"""Below this the change of a property is measured against this, not against the original [the
property's unit per 100 g]: little of it can be tasted. Our own choice."""


SAME_CHARACTER: Final = 1e-9
"""A property that no line changes by more than this is the same in all of them [fraction of its size]."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Row:
    """``lower <= coefficients @ grams <= upper``; MODEL.md §2."""

    name: str
    """What the row keeps, in words."""
    coefficients: FloatArray
    """(n,) per gram of each item [row unit per g]."""
    lower: float = -np.inf
    """[row unit]."""
    upper: float = np.inf
    """[row unit]."""
    size: float
    """What counts as missing the limit wholly, 100 % [row unit]; MODEL.md §6. A wish's does not depend on
    its limit, so that a moved handle changes a bound only."""
    nutrient: str = ""
    """Key of the quantity a goal's row is on; empty for holds."""
    original: float = 0.0
    """What the original has of that nutrient [row unit]."""
    top: FloatArray | None = None
    """(n,) what a share is of [row unit per g]; None for rows that are no shares. A share's limit
    stands in its coefficients; a goal is scaled by this alone, so that no handle changes the scale."""
    hold: Hold | None = None
    """The hold the row keeps; None for goals, swap groups and water."""
    band: bool = False
    """True for a swap group, kept within the brief's swap band."""
    whole: FloatArray | None = None
    """(n,) what a share is taken of [per g]; None for rows that are no shares."""
    rank: int = 0
    """Rank of the wish whose limit the row is; 0 for musts and holds."""
    slack_sign: float = 0.0
    """1 where slack lifts a wish to its floor, -1 where it lowers it to its ceiling [1]."""
    quality: str = ""
    """The property of character whose change the row counts; empty for others."""

    @property
    def limit_moves(self) -> bool:
        """True for a goal that is a share: a moved handle changes its coefficients."""
        return self.top is not None and self.hold is None

    @property
    def is_share(self) -> bool:
        """True where the limit stands in the coefficients rather than beside them."""
        return self.top is not None


def shown_nutrients(brief: Brief) -> tuple[str, ...]:
    """Return the nutrients that have a row: those shown, then those with goals only."""
    return tuple(dict.fromkeys((*brief.shown, *(goal.nutrient for goal in brief.goals))))


def goal_rows(
    brief: Brief, items: Items, recipe: Recipe, before: tuple[Row, ...] = ()
) -> tuple[Row, ...]:
    """Return the rows of all goals; their number and order do not depend on the limits.

    One row for each nutrient with a row carries the musts in the nutrient's own unit (per serving
    and against the original). A goal per 100 g or per energy, and a wish, has two rows of its own,
    one a limit. Rows of the same brief with other limits may be given as ``before``; what stays is
    not made anew.
    """
    keys = shown_nutrients(brief)
    unlimited = before[: len(keys)] or [_unlimited_row(key, items) for key in keys]
    rows = [_limited(row, brief, recipe) for row in unlimited]
    for goal in brief.goals:
        if goal.per in (Per.HUNDRED_GRAMS, Per.ENERGY):
            rows += _share_rows(goal, items)
        elif goal.is_wish:
            rows += _wish_rows(goal, unlimited[keys.index(goal.nutrient)], recipe)
    return tuple(rows)


def nutrient_per_gram(key: str, items: Items) -> FloatArray:
    """(n,) of a nutrient per listed gram [nutrient unit per g]."""
    return items.per_gram[:, QUANTITY_INDEX[key]]


def reference_per_gram(per: Per, items: Items) -> FloatArray:
    """(n,) of what a share is taken of: finished food [100 g per g], or energy [kcal per g]."""
    if per is Per.ENERGY:
        return nutrient_per_gram("energy_kcal", items)
    return items.yields / 100.0


def share_factor(key: str, per: Per) -> float:
    """Return what one unit of the nutrient counts for in the share: percent of energy, or 1."""
    return 100.0 * ENERGY_FACTORS[key] if per is Per.ENERGY else 1.0


def _unlimited_row(key: str, items: Items) -> Row:
    per_gram = nutrient_per_gram(key, items)
    original = float(per_gram @ items.original)
    return Row(
        name=quantity_named(key).spoken,
        coefficients=per_gram,
        size=max(original, 1e-6),
        nutrient=key,
        original=original,
    )


def with_share(row: Row, limit: float) -> Row:
    """Return a share's row with another limit, on the side it has one."""
    if row.top is None or row.whole is None:
        raise ValueError(f"'{row.name}' is no share")
    return replace(row, coefficients=row.top - limit * row.whole)


def _limited(row: Row, brief: Brief, recipe: Recipe) -> Row:
    """Return a nutrient's row with the limits its goals set, all of them at once."""
    lower, upper = -np.inf, np.inf
    for goal in brief.goals:
        if goal.nutrient != row.nutrient or goal.is_wish:
            continue
        if goal.per in (Per.SERVING, Per.ORIGINAL):
            unit = _unit(goal, row, recipe)
            if goal.lowest is not None:
                lower = max(lower, goal.lowest * unit)
            if goal.highest is not None:
                upper = min(upper, goal.highest * unit)
    if (lower, upper) == (row.lower, row.upper):
        return row
    limits = [abs(limit) for limit in (lower, upper) if isfinite(limit)]
    size = max(*limits, 0.05 * row.original, 1e-6) if limits else max(row.original, 1e-6)
    return replace(row, lower=lower, upper=upper, size=size)


def _unit(goal: Goal, row: Row, recipe: Recipe) -> float:
    """Return what one unit of a goal in amounts is of the whole batch [row unit]."""
    return recipe.servings if goal.per is Per.SERVING else row.original / 100.0


def _wish_rows(goal: Goal, row: Row, recipe: Recipe) -> Iterator[Row]:
    unit = _unit(goal, row, recipe)
    for limit, side in ((goal.lowest, "lower"), (goal.highest, "upper")):
        scaled = 0.0 if limit is None else limit * unit
        yield replace(
            row,
            lower=scaled if side == "lower" and limit is not None else -np.inf,
            upper=scaled if side == "upper" and limit is not None else np.inf,
            size=max(row.original, recipe.servings),
            rank=goal.rank,
            slack_sign=1.0 if side == "lower" else -1.0,
        )


def _share_rows(goal: Goal, items: Items) -> Iterator[Row]:
    top = share_factor(goal.nutrient, goal.per) * nutrient_per_gram(goal.nutrient, items)
    whole = reference_per_gram(goal.per, items)
    whole_of_original = float(whole @ items.original)
    for limit, side in ((goal.lowest, "lower"), (goal.highest, "upper")):
        row = top - (0.0 if limit is None else limit) * whole
        amount = float(top @ items.original)
        size = max((limit or 0.0) * whole_of_original, 0.05 * amount, 1e-6)
        if goal.is_wish:
            size = max(amount, whole_of_original, 1e-6)
        yield Row(
            name=f"{quantity_named(goal.nutrient).spoken} per {goal.per}",
            coefficients=row,
            lower=0.0 if side == "lower" and limit is not None else -np.inf,
            upper=0.0 if side == "upper" and limit is not None else np.inf,
            size=size,
            nutrient=goal.nutrient,
            top=top,
            whole=whole,
            rank=goal.rank,
            slack_sign=(1.0 if side == "lower" else -1.0) if goal.is_wish else 0.0,
        )


def hold_rows(brief: Brief, items: Items, recipe: Recipe) -> tuple[Row, ...]:
    """Return the rows of the holds on more than one line, and of the swap groups."""
    names = {
        line.id: item.food.name.split(",")[0].lower()
        for line, item in zip(items.lines, items.ingredients, strict=False)
    }
    rows: list[Row] = []
    for hold in brief.holds:
        match hold:
            case BatchHold(tolerance=tolerance):
                row = _mass_row("batch size", items.yields, items, tolerance)
                rows.append(replace(row, hold=hold))
            case RoleHold(role=role, tolerance=tolerance):
                members = items.standing_in(lines_in((f"role:{role}",), recipe))
                row = _mass_row(f"{role} mass", members, items, tolerance)
                rows.append(replace(row, hold=hold))
            case RatioHold():
                rows += _ratio_rows(hold, items, recipe, names)
            case CharacterHold():
                rows += _character_rows(hold, items)
            case LineHold():
                pass  # a limit on one item is a bound, not a row
    for group in swap_groups(items):
        words = group_words(tuple(line.id for line in items.lines if line.id in group), names)
        members = items.standing_in(group)
        row = _mass_row(f"{words} and what stands in", members, items, brief.swap_band)
        rows.append(replace(row, band=True))
    return (*rows, *_water_rows(items, recipe))


def _water_rows(items: Items, recipe: Recipe) -> Iterator[Row]:
    """Yield the row that leaves as much water as cooking drives off, where all water is known."""
    if recipe.moisture_loss_percent <= 0.0 or not items.known[:, QUANTITY_INDEX["water_g"]].all():
        return
    water = nutrient_per_gram("water_g", items)
    yield Row(
        name="water for cooking to drive off",
        coefficients=water,
        lower=0.0,
        size=max(float(water @ items.original), 1.0),
    )


def _mass_row(name: str, members: FloatArray, items: Items, tolerance: float) -> Row:
    mass = float(members @ items.original)
    return Row(
        name=name,
        coefficients=members,
        lower=mass * (1 - tolerance),
        upper=mass * (1 + tolerance),
        size=mass,
    )


def _ratio_rows(
    hold: RatioHold, items: Items, recipe: Recipe, names: dict[str, str]
) -> tuple[Row, Row]:
    top = items.standing_in(lines_in(hold.of, recipe))
    bottom = items.standing_in(lines_in(hold.to, recipe))
    top_mass, bottom_mass = float(top @ items.original), float(bottom @ items.original)
    ratio = top_mass / bottom_mass if hold.ratio is None else hold.ratio
    name = f"{group_words(hold.of, names)} : {group_words(hold.to, names)}"
    size = ratio * bottom_mass
    low = Row(name=name, coefficients=top, lower=0.0, size=size, hold=hold, top=top, whole=bottom)
    return (
        with_share(low, ratio * (1 - hold.tolerance)),
        with_share(replace(low, lower=-np.inf, upper=0.0), ratio * (1 + hold.tolerance)),
    )


def character_limits(hold: CharacterHold, items: Items) -> tuple[float | None, float | None]:
    """Return the limits a hold sets on its property, None for none [the property's unit per 100 g]."""
    top = nutrient_per_gram(hold.quality, items)
    whole = reference_per_gram(Per.HUNDRED_GRAMS, items)
    now = float(top @ items.original) / max(float(whole @ items.original), 1e-9)
    low, high = hold.at_least, hold.at_most
    if hold.tolerance is not None:
        near, far = now * (1 - hold.tolerance), now * (1 + hold.tolerance)
        low = near if low is None else max(low, near)
        high = far if high is None else min(high, far)
    return low, high


def _character_rows(hold: CharacterHold, items: Items) -> Iterator[Row]:
    top = nutrient_per_gram(hold.quality, items)
    whole = reference_per_gram(Per.HUNDRED_GRAMS, items)
    of_whole = float(whole @ items.original)
    low, high = character_limits(hold, items)
    for limit, lower, upper in ((low, 0.0, np.inf), (high, -np.inf, 0.0)):
        if limit is None:
            continue
        row = Row(
            name=quantity_named(hold.quality).spoken,
            coefficients=top,
            lower=lower,
            upper=upper,
            size=max(limit * of_whole, 0.05 * float(top @ items.original), 1e-6),
            hold=hold,
            top=top,
            whole=whole,
        )
        yield with_share(row, limit)


def change_rows(items: Items) -> tuple[Row, ...]:
    """Return a row for each property of character: how far it is from the original's, per 100 g."""
    whole = reference_per_gram(Per.HUNDRED_GRAMS, items)
    of_whole = float(whole @ items.original)
    rows = []
    for kind in CHARACTER:
        top = nutrient_per_gram(kind.key, items)
        amount = float(top @ items.original)
        if of_whole <= 0.0 or not np.any(top):
            continue
        change = top - amount / of_whole * whole
        size = max(amount, LEAST_CHARACTER[kind.key] * of_whole)
        if np.abs(change * items.scale).max() <= SAME_CHARACTER * size:
            continue  # what is left of it is rounding: scaled up, it would drown the program
        rows.append(
            Row(
                name=f"change of {kind.spoken}",
                coefficients=change,
                lower=0.0,
                upper=0.0,
                size=size,
                quality=kind.key,
            )
        )
    return tuple(rows)
