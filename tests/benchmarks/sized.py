"""Problems of any number of lines: the shared dip, longer."""

from __future__ import annotations

from dataclasses import replace

from reformulate import SYSTEMS, Batch, Brief, Goal, Line, Per, weigh_recipe
from tests.benchmarks.problem import BRIEF, FOODS, LINES, RECIPE

SIZES = (12, 30, 100, 300)
"""Lines [count]."""


def sized(lines: int, energy: float = 85.0) -> tuple[Batch, Brief]:
    """Return the dip with so many lines, weighed, and a brief that asks for so much of its energy [%].

    The lines beyond the twelfth are foods of the table in its order, 20 g each, as inclusions.
    """
    used = {food for food, _, _ in LINES} | {swap.food for swap in BRIEF.swaps}
    more = [food.key for food in FOODS if food.key not in used and food.ndb is not None]
    added = tuple(
        Line(id=key, food=key, grams=20.0, role="inclusion") for key in more[: lines - len(LINES)]
    )
    recipe = replace(RECIPE, lines=(*RECIPE.lines, *added))
    goals = (
        Goal(nutrient="energy_kcal", at_most=energy, per=Per.ORIGINAL),
        Goal(nutrient="protein_g", at_least=100.0, per=Per.ORIGINAL),
    )
    return weigh_recipe(recipe, FOODS, SYSTEMS["us"]), replace(BRIEF, goals=goals)
