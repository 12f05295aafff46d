"""The swap book: functional exchanges for dips and spreads.

An exchange is a food that can do another's work in a dish, before any recipe is known; a swap is
that exchange put to work on lines of one recipe.
"""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from reformulate.brief.brief import Swap


@dataclass(frozen=True, slots=True, kw_only=True)
class Exchange:
    """A food that can do the work of another, or of several alike."""

    replaces: tuple[str, ...]
    """Keys of the foods it can stand in for."""
    food: str
    """Key of the stand-in."""
    kind: str
    """What work it takes over: base, fat, cheese, sweetener, salt, acid, ..."""
    grams_per_gram: float = 1.0
    """Grams of it that do the work of one gram of what it replaces [g/g]."""
    largest_share: float = 1.0
    """Most of the original mass it may replace before the dish suffers [1]."""
    effect: str = ""
    """What changes for better and for worse."""
    caution: str = ""
    """What can go wrong, and every allergen it brings that what it replaces does not hold."""
    source: str = ""
    """Where the figures come from: common practice, from memory, or how they were computed."""


@cache
def swap_book() -> tuple[Exchange, ...]:
    """Return all exchanges, those for one food together and the best known of them first."""
    path = Path(__file__).with_name("swap_book.csv")
    with path.open(encoding="utf-8", newline="") as file:
        return tuple(_exchange(row) for row in csv.DictReader(file))


def exchanges_for(food_key: str, extra: tuple[Exchange, ...] = ()) -> tuple[Exchange, ...]:
    """Return what can stand in for a food.

    Parameters
    ----------
    food_key
        Key of the food to be replaced; one no book knows gives an empty tuple.
    extra
        The user's own exchanges. They come first, and one of them hides the swap book's exchange
        of the same two foods, so that the user's figures and caution hold.
    """
    own = tuple(exchange for exchange in extra if food_key in exchange.replaces)
    stand_ins = {exchange.food for exchange in own}
    book = _by_replaced_food().get(food_key, ())
    return (*own, *(exchange for exchange in book if exchange.food not in stand_ins))


def swap_for(exchange: Exchange, line_ids: tuple[str, ...]) -> Swap:
    """Return the swap that lets an exchange's food stand in for lines of a recipe."""
    return Swap(
        food=exchange.food,
        stands_in_for=line_ids,
        grams_per_gram=exchange.grams_per_gram,
        largest_share=exchange.largest_share,
        caution=exchange.caution,
    )


def _exchange(row: dict[str, str]) -> Exchange:
    return Exchange(
        replaces=tuple(row["replaces"].split(";")),
        food=row["food"],
        kind=row["kind"],
        grams_per_gram=float(row["grams_per_gram"]),
        largest_share=float(row["largest_share"]),
        effect=row["effect"],
        caution=row["caution"],
        source=row["source"],
    )


@cache
def _by_replaced_food() -> Mapping[str, tuple[Exchange, ...]]:
    found: defaultdict[str, list[Exchange]] = defaultdict(list)
    for exchange in swap_book():
        for food in exchange.replaces:
            found[food].append(exchange)
    return {food: tuple(exchanges) for food, exchanges in found.items()}
