"""What is in a dish, summed a second time in plain loops over the food table."""

from __future__ import annotations

from reformulate import (
    ENERGY_FACTORS,
    NUTRIENTS,
    Brief,
    Line,
    Per,
    Recipe,
    food_table,
)
from reformulate.foods import retention_factors

FOODS = food_table()
COLUMN = {nutrient.key: i for i, nutrient in enumerate(NUTRIENTS)}


def level_in(
    recipe: Recipe, foods: tuple[str, ...], grams: list[float], key: str, per: Per
) -> float:
    """The level of a nutrient, summed in a plain loop; nan where it is a share of nothing.

    ``foods`` and ``grams`` are those of the lines, then of swaps.
    """
    total = energy = finished = original = 0.0
    for number, (food, mass) in enumerate(zip(foods, grams, strict=True)):
        line = recipe.lines[number] if number < len(recipe.lines) else None
        brings = brought_by_a_gram(recipe, line, food, key)
        total += brings * mass
        energy += brought_by_a_gram(recipe, line, food, "energy_kcal") * mass
        finished += kept_of_a_gram(recipe, line, food) * mass
        if line is not None and line.grams is not None:
            original += brings * line.grams
    match per:
        case Per.SERVING:
            return total / recipe.servings
        case Per.HUNDRED_GRAMS:
            return 100 * total / finished if finished else float("nan")
        case Per.ENERGY:
            return 100 * ENERGY_FACTORS[key] * total / energy if energy else float("nan")
        case Per.ORIGINAL:
            return 100 * total / original if original else float("nan")


def brought_by_a_gram(recipe: Recipe, line: Line | None, food: str, key: str) -> float:
    """Nutrient one listed gram brings, written out from the table."""
    row = FOODS.index(food)
    edible = FOODS.foods[row].edible_share if line is not None and line.as_bought else 1.0
    figure = float(FOODS.values[row, COLUMN[key]]) / 100
    if line is not None and line.retention is not None:
        figure *= float(retention_factors(line.retention)[COLUMN[key]])
    lost = recipe.moisture_loss_percent / 100 if key == "water_g" else 0.0
    return edible * (figure - lost)


def kept_of_a_gram(recipe: Recipe, line: Line | None, food: str) -> float:
    """Finished grams one listed gram becomes."""
    edible = FOODS.food(food).edible_share if line is not None and line.as_bought else 1.0
    return edible * (1 - recipe.moisture_loss_percent / 100)


def item_foods(recipe: Recipe, brief: Brief) -> tuple[str, ...]:
    """Foods of the lines, then of the swaps allowed."""
    return (
        *(line.food for line in recipe.lines),
        *(swap.food for swap in brief.swaps if swap.allowed),
    )


def members(recipe: Recipe, group: tuple[str, ...]) -> set[str]:
    found = set()
    for line in recipe.lines:
        if line.id in group or f"role:{line.role}" in group:
            found.add(line.id)
    return found


def working_mass(recipe: Recipe, brief: Brief, grams: list[float], ids: set[str]) -> float:
    """Mass of a group of lines, swaps counted as the mass they stand in for."""
    total = 0.0
    for line, mass in zip(recipe.lines, grams, strict=False):
        if line.id in ids:
            total += mass
    allowed = [swap for swap in brief.swaps if swap.allowed]
    for swap, mass in zip(allowed, grams[len(recipe.lines) :], strict=True):
        if ids & set(swap.stands_in_for):
            total += mass / swap.grams_per_gram
    return total


def finished_mass(recipe: Recipe, brief: Brief, grams: list[float]) -> float:
    total = 0.0
    for number, (food, mass) in enumerate(zip(item_foods(recipe, brief), grams, strict=True)):
        line = recipe.lines[number] if number < len(recipe.lines) else None
        total += kept_of_a_gram(recipe, line, food) * mass
    return total


def tied_groups(recipe: Recipe, brief: Brief) -> list[set[str]]:
    """Groups of lines that allowed swaps tie together."""
    groups: list[set[str]] = []
    for swap in brief.swaps:
        if not swap.allowed:
            continue
        joined = set(swap.stands_in_for)
        for group in [group for group in groups if group & joined]:
            joined |= group
            groups.remove(group)
        groups.append(joined)
    return groups


def original_grams(recipe: Recipe, brief: Brief) -> list[float]:
    grams = [float(line.grams or 0.0) for line in recipe.lines]
    return grams + [0.0 for swap in brief.swaps if swap.allowed]
