"""What foods cost, as a cook pays for them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import isfinite

from reformulate.errors import BadInput, Problem
from reformulate.foods.table import FoodTable
from reformulate.measures import MeasureSystem, parse_amount, weigh

DEAREST = 1e6
"""Most that is taken for a price [currency]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """What so much of a food costs."""

    food: str
    price: float
    """[the set's currency]."""
    amount: str
    """What one gets for it: ``1 pack (8 oz)``, ``1 kg``. Grams and measures mean the edible part."""


def priced(foods: FoodTable, prices: Sequence[Price], system: MeasureSystem) -> FoodTable:
    """Return a table with prices, those that cannot be read left out; see `price_problems`."""
    found: dict[str, float] = {}
    for price in prices:
        grams = _grams(price, foods, system)
        if isinstance(grams, float) and _sound(price.price):
            found[price.food] = 100.0 * price.price / grams
    return foods.with_prices(found)


def price_problems(
    foods: FoodTable, prices: Sequence[Price], system: MeasureSystem
) -> Iterator[Problem]:
    """Yield what must be put right in prices: unknown foods, amounts that cannot be weighed."""
    seen: set[str] = set()
    for number, price in enumerate(prices, start=1):
        where = f"price {number} ({price.food})"
        if price.food in seen:
            yield Problem(where, "the food has a price already.", "Keep one of them.")
        seen.add(price.food)
        if not _sound(price.price):
            yield Problem(
                f"{where}, price", f"found {price.price:g}.", "Expected 0 or more, up to 1000000."
            )
        grams = _grams(price, foods, system)
        if not isinstance(grams, float):
            for problem in grams.problems:
                yield Problem(f"{where}, {problem.where}", problem.what, problem.fix)


def _grams(price: Price, foods: FoodTable, system: MeasureSystem) -> float | BadInput:
    try:
        food = foods.food(price.food)
        return float(weigh(parse_amount(price.amount), food.measures, system).grams)
    except BadInput as error:
        return error


def _sound(price: float) -> bool:
    return isfinite(price) and 0.0 <= price <= DEAREST
