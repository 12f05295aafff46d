"""The problem the benchmarks share: a dip of 12 lines, 14 foods that may stand in, 16 reaches."""

from __future__ import annotations

import numpy as np

from reformulate import (
    SYSTEMS,
    BatchHold,
    Brief,
    Goal,
    Line,
    LineHold,
    RatioHold,
    Recipe,
    Swap,
    food_table,
    weigh_recipe,
)

FOODS = food_table()

LINES = (
    ("cream-cheese", 227.0, "base"),
    ("sour-cream", 115.0, "base"),
    ("mayonnaise", 110.0, "base"),
    ("spinach-frozen-cooked", 160.0, "inclusion"),
    ("artichoke-hearts-canned", 240.0, "inclusion"),
    ("parmesan", 75.0, "flavouring"),
    ("mozzarella-part-skim", 112.0, "flavouring"),
    ("garlic", 9.0, "flavouring"),
    ("lemon-juice", 15.0, "acid"),
    ("salt-table", 1.5, "salt"),
    ("pepper-black", 1.2, "flavouring"),
    ("nutmeg-ground", 0.6, "flavouring"),
)

STAND_INS = (
    ("yogurt-strained-nonfat", ("cream-cheese", "sour-cream")),
    ("yogurt-strained-low-fat", ("sour-cream",)),
    ("yogurt-nonfat", ("sour-cream",)),
    ("cottage-cheese-2", ("cream-cheese",)),
    ("cottage-cheese-1", ("cream-cheese",)),
    ("ricotta-part-skim", ("cream-cheese",)),
    ("cream-cheese-neufchatel", ("cream-cheese",)),
    ("cream-cheese-fat-free", ("cream-cheese",)),
    ("sour-cream-light", ("sour-cream",)),
    ("sour-cream-fat-free", ("sour-cream",)),
    ("tofu-silken-firm", ("cream-cheese", "mayonnaise")),
    ("mayonnaise-light", ("mayonnaise",)),
    ("mayonnaise-fat-free", ("mayonnaise",)),
    ("beans-white-canned", ("cream-cheese",)),
)

RECIPE = Recipe(
    title="Benchmark dip",
    servings=10,
    moisture_loss_percent=5.0,
    lines=tuple(Line(id=food, food=food, grams=grams, role=role) for food, grams, role in LINES),
)

BATCH = weigh_recipe(RECIPE, FOODS, SYSTEMS["us"])

BRIEF = Brief(
    goals=(
        Goal(nutrient="energy_kcal", at_most=150.0),
        Goal(nutrient="protein_g", at_least=8.0),
    ),
    holds=(
        BatchHold(),
        RatioHold(of=("role:inclusion",), to=("role:base",)),
        RatioHold(of=("role:flavouring",), to=("role:base",)),
        RatioHold(of=("lemon-juice",), to=("role:base",)),
        LineHold(line="salt-table", tolerance=0.0),
        LineHold(line="garlic", tolerance=0.25),
    ),
    swaps=tuple(Swap(food=food, stands_in_for=lines) for food, lines in STAND_INS),
)

MOVES = tuple(float(limit) for limit in np.r_[175:105:-1, 105:175])
"""Where the energy handle stands, move after move [kcal per serving]: down, then up again."""


def moved(limit: float) -> Brief:
    """Return the brief with the energy handle at ``limit``."""
    return BRIEF.with_goal(Goal(nutrient="energy_kcal", at_most=limit))
