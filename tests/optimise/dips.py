"""Small dips the examples use, and answers to briefs for them."""

from __future__ import annotations

from reformulate import SYSTEMS, Answer, Brief, Line, Optimiser, Recipe, solve, weigh_recipe
from tests.recipes.plain_sums import FOODS

CREAMY = Recipe(
    title="Creamy dip",
    servings=8,
    lines=(
        Line(id="sour-cream", food="sour-cream", grams=240.0),
        Line(id="cream-cheese", food="cream-cheese", grams=225.0, role="body"),
        Line(id="mayonnaise", food="mayonnaise", grams=110.0, role="fat"),
        Line(id="lemon-juice", food="lemon-juice", grams=15.0, role="acid"),
        Line(id="garlic", food="garlic", grams=6.0, role="flavouring"),
        Line(id="salt-table", food="salt-table", grams=3.0, role="salt"),
    ),
)
"""Our own invention."""

PAIR = Recipe(
    title="Two creams",
    servings=4,
    lines=(
        Line(id="sour-cream", food="sour-cream", grams=200.0),
        Line(id="yogurt-strained-nonfat", food="yogurt-strained-nonfat", grams=100.0),
    ),
)
"""Two lines: with the batch held, every answer can be worked out by hand."""


def answer(recipe: Recipe, brief: Brief) -> Answer:
    return solve(recipe, brief, FOODS, SYSTEMS["us"])


def closest(recipe: Recipe, brief: Brief) -> Answer:
    """The same answer without its reaches, which take as long again: for laws that read none."""
    batch = weigh_recipe(recipe, FOODS, SYSTEMS["us"])
    return Optimiser(batch, brief, FOODS).answer(brief, reach=False)


def grams_of(found: Answer) -> dict[str, float]:
    """Grams shown, by food."""
    return {amount.food: amount.after for amount in found.amounts}
