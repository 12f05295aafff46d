"""What every check looks at: the weighed recipe, its lines as the source wrote them, its claims."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import isfinite
from typing import Final

from reformulate.errors import BadInput
from reformulate.foods import INDEX, NUTRIENTS, Food, FoodTable
from reformulate.measures import Amount, MeasureSystem, parse_amount
from reformulate.recipes.batch import Batch
from reformulate.recipes.nutrition import Nutrition, nutrition_of
from reformulate.recipes.reading import ReadLine, read_line
from reformulate.recipes.recipe import Line, Recipe

_MOST_LETTERS: Final = 500
"""How much of a line's text is looked at [characters]."""
_HEAVY: Final = ("energy_kcal", "sodium_mg", "fat_g", "protein_g")
"""Nutrients by which it is judged what hangs on an amount."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class LineSeen:
    """One line, with what is known about it."""

    number: int
    """Place in the recipe [count], from 0."""
    line: Line
    food: Food
    grams: float
    """Mass as listed [g]."""
    route: str
    """How the mass was come by."""
    source: ReadLine | None
    """The line as the source has it, read; None where no text is known."""

    @property
    def said(self) -> str:
        """All that is said about the line, in lower case."""
        text = self.source.text[:_MOST_LETTERS] if self.source else ""
        return f"{self.line.prep} ; {text}".lower()


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Context:
    """A recipe under review."""

    batch: Batch
    foods: FoodTable
    system: MeasureSystem
    lines: tuple[LineSeen, ...]
    left_out: Mapping[str, ReadLine]
    """Texts that have no line in the recipe, by their id, read."""
    claims: Mapping[str, float]
    """Nutrients per serving as printed [each nutrient's unit]."""
    nutrition: Nutrition
    title_words: frozenset[str]

    @property
    def recipe(self) -> Recipe:
        """The recipe as written."""
        return self.batch.recipe

    @property
    def total_grams(self) -> float:
        """Mass of all lines as listed [g]."""
        return float(self.batch.grams.sum())

    def hangs_on(self, number: int, grams: float) -> float:
        """Return how far the batch's figures hang on so many grams of a line [fraction], 0 to 1.

        The largest share of its mass, energy, sodium, fat or protein.
        """
        item = self.batch.ingredients[number]
        shares = [abs(grams) / self.total_grams if self.total_grams > 0 else 0.0]
        for key in _HEAVY:
            total = float(self.nutrition.totals[INDEX[key]])
            if total > 0:
                shares.append(abs(grams * float(item.per_gram[INDEX[key]])) / total)
        return min(1.0, max(shares))

    def per_100g(self, food: str, key: str) -> float:
        """Return the figure of a food [nutrient unit per 100 g]; 0 where it is not known."""
        row = self.foods.index(food)
        return float(self.foods.values[row, INDEX[key]])


def context_of(
    batch: Batch,
    foods: FoodTable,
    system: MeasureSystem,
    texts: Mapping[str, str],
    claims: Mapping[str, float],
) -> Context:
    """Gather what the checks look at."""
    recipe = batch.recipe
    lines = tuple(
        LineSeen(
            number=i,
            line=line,
            food=item.food,
            grams=float(mass),
            route=route,
            source=_source(line, item.food, texts),
        )
        for i, (line, item, mass, route) in enumerate(
            zip(recipe.lines, batch.ingredients, batch.grams, batch.routes, strict=True)
        )
    )
    listed = {line.id for line in recipe.lines}
    unread = {key: read_line(text) for key, text in texts.items() if key not in listed}
    return Context(
        batch=batch,
        foods=foods,
        system=system,
        lines=lines,
        left_out={
            key: read for key, read in unread.items() if not read.heading and read.text.strip()
        },
        claims=dict(_usable_claims({**dict(recipe.claims), **claims})),
        nutrition=nutrition_of(batch),
        title_words=frozenset(re.findall(r"[^\W\d_]+", recipe.title.lower())),
    )


def _source(line: Line, food: Food, texts: Mapping[str, str]) -> ReadLine | None:
    text = texts.get(line.id, line.text)
    if text.strip():
        return read_line(text)
    if parsed(line.amount) is not None or not line.amount.strip():
        return None
    # An amount may say two things by itself: 1/4 cup (60 g).
    return read_line(f"{line.amount} {food.name.partition(',')[0]}")


def parsed(amount: str) -> Amount | None:
    """Return an amount read; None where it is not one exact amount."""
    try:
        return parse_amount(amount)
    except BadInput:
        return None


def _usable_claims(claims: Mapping[str, float]) -> Iterator[tuple[str, float]]:
    """Yield what can be compared, in the order of the nutrients."""
    for kind in NUTRIENTS:
        value = claims.get(kind.key)
        if value is not None and isfinite(value) and value >= 0.0:
            yield kind.key, float(value)
