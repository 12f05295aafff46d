"""Oil and other rich foods that the energy leaves out: "more if needed", "as needed"."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from reformulate.foods.nutrients import INDEX
from reformulate.recipes.review.context import Context, LineSeen
from reformulate.recipes.review.fixes import AddMore, KeepAmount
from reformulate.recipes.review.naming import Naming
from reformulate.recipes.review.open_amounts import leaves_all, leaves_more, more_in
from reformulate.recipes.review.values import Finding, Fix, Kind

RICH: Final = 300.0
"""From this much energy an uncounted spoonful tells [kcal per 100 g]."""
_FATS: Final = 500.0
"""From this much it is oil, butter or the like [kcal per 100 g]."""
_SPOON: Final = 14.0
"""A tablespoon of oil or butter [g]; SR28 household weights, 13.5 to 14.2 g."""
_OIL_ENERGY: Final = 884.0
"""Energy of oil [kcal per 100 g]; NDB 04053, SR28."""


def find_oil(context: Context, naming: Naming) -> Iterator[Finding]:
    """Find rich foods of which more is used than is counted."""
    for seen in context.lines:
        if _is_rich(seen, context):
            yield from _in_line(seen, context)
    for sentence in naming.sentences:
        food = more_in(sentence.text)
        if food in ("oil", "butter") and not sentence.advice and _has(food, context):
            yield Finding(
                kind=Kind.OIL,
                where=f"step {sentence.step}",
                what=f"The step uses more {food} than is listed, and none of it is counted.",
                why=f"{_a_spoon(context, _OIL_ENERGY)} List all of it.",
                confidence=0.6,
                gravity=0.4,
            )
            return


def is_fat(food: str, context: Context) -> bool:
    """Whether a food is oil, butter or the like."""
    group = context.foods.food(food).group
    return group == "Oils and fats" or food.startswith(("butter-", "ghee"))


def _is_rich(seen: LineSeen, context: Context) -> bool:
    return seen.food.group not in ("Herbs and spices", "Salt and leavening") and (
        context.per_100g(seen.line.food, "energy_kcal") >= RICH
    )


def _in_line(seen: LineSeen, context: Context) -> Iterator[Finding]:
    energy = context.per_100g(seen.line.food, "energy_kcal")
    name = seen.food.name.partition(",")[0].lower()
    likely = energy >= _FATS
    if leaves_more(seen):
        yield Finding(
            kind=Kind.OIL,
            where=seen.line.id,
            what=f"The line uses more {name} than {seen.line.written}, and what is more is not counted.",
            why=f"{_a_spoon(context, energy)} Write all of it as an amount.",
            confidence=0.85 if likely else 0.5,
            gravity=0.5 if likely else 0.25,
            fix=Fix(
                words=f"Count 1 tbsp more {name}", apply=AddMore(line=seen.line.id, more="1 tbsp")
            ),
        )
    elif leaves_all(seen):
        item = context.batch.ingredients[seen.number]
        kcal = seen.grams * float(item.per_gram[INDEX["energy_kcal"]]) / context.recipe.servings
        yield Finding(
            kind=Kind.OIL,
            where=seen.line.id,
            what=f"The source leaves the amount of {name} to the cook; {seen.line.written}, "
            f"{kcal:.0f} kcal a serving, is counted.",
            why="The energy holds for that amount only: print the amount.",
            confidence=0.6 if likely else 0.4,
            gravity=0.4 if likely else 0.2,
            fix=Fix(words=f"Keep {seen.line.written}", apply=KeepAmount(line=seen.line.id)),
        )


def _a_spoon(context: Context, energy: float) -> str:
    """Say what a spoonful brings a serving."""
    kcal = _SPOON * energy / 100 / context.recipe.servings
    return f"1 tbsp more is about {kcal:.0f} kcal a serving."


def _has(food: str, context: Context) -> bool:
    return any(food in seen.food.name.lower() for seen in context.lines)
