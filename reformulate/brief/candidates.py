"""The swaps worth a look for a recipe: those of its brief, then those of the swap book."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reformulate.brief.brief import Brief, Swap
from reformulate.brief.swap_book import Exchange, exchanges_for, swap_for
from reformulate.foods import FoodTable
from reformulate.recipes import Recipe


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A swap, and the exchange it comes from."""

    swap: Swap
    exchange: Exchange | None = None
    """None for a swap of the brief that no book has."""
    in_brief: bool = False


def candidate_swaps(
    recipe: Recipe, brief: Brief, foods: FoodTable, own: Sequence[Exchange] = ()
) -> tuple[Candidate, ...]:
    """Return the swaps of a brief in its order, then what the books offer for each line.

    ``own`` are the user's exchanges; a book's swap that the brief has already is not offered again.
    """
    found: list[Candidate] = []
    seen: set[tuple[str, str]] = set()
    in_dish = {foods.food(line.food).key for line in recipe.lines}
    keys = {line.id: foods.food(line.food).key for line in recipe.lines}
    for swap in brief.swaps:
        food = foods.food(swap.food).key
        offers = [
            exchange
            for line in swap.stands_in_for
            if line in keys
            for exchange in exchanges_for(keys[line], tuple(own))
            if exchange.food == food
        ]
        found.append(Candidate(swap=swap, exchange=offers[0] if offers else None, in_brief=True))
        seen |= {(food, line) for line in swap.stands_in_for}
    for line in recipe.lines:
        for exchange in exchanges_for(keys[line.id], tuple(own)):
            if exchange.food not in foods or exchange.food in in_dish:
                continue
            if (exchange.food, line.id) in seen:
                continue
            lines = tuple(
                other.id
                for other in recipe.lines
                if keys[other.id] in exchange.replaces and other.role == line.role
            )
            seen |= {(exchange.food, other) for other in lines}
            found.append(Candidate(swap=swap_for(exchange, lines), exchange=exchange))
    return tuple(found)
