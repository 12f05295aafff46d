"""Finding a food in the program's table and among the imported ones."""

from __future__ import annotations

import numpy as np

from reformulate.foods.search import search_foods
from reformulate.foods.store.search import Hit
from reformulate.foods.store.store import FoodStore
from reformulate.foods.table import Food, FoodTable


def search_everywhere(
    table: FoodTable, store: FoodStore, text: str, limit: int = 20
) -> tuple[tuple[Food, ...], tuple[Hit, ...]]:
    """Return what ``text`` may mean among the foods at hand, and among the imported ones.

    Each is in its own order, best first. An imported food that is at hand already, perhaps by
    another name, stands with the foods at hand, after those that match by their own words. The
    nearest spellings are offered only where neither has a food that matches as typed.

    Parameters
    ----------
    table, store
        The foods at hand and the imported ones.
    text
        What has been typed so far.
    limit
        Most foods of each to look for [count].
    """
    for guess in (False, True):
        foods = search_foods(table, text, limit, guess=guess)
        hits = store.search(text, limit, guess=guess)
        if foods or hits:
            by_other_name = [table.food(hit.key) for hit in hits if hit.key in table]
            return (
                tuple(dict.fromkeys((*foods, *by_other_name))),
                tuple(hit for hit in hits if hit.key not in table),
            )
    return (), ()


def all_foods(table: FoodTable, store: FoodStore) -> FoodTable:
    """Return the foods at hand and the imported ones whose figures no package gave.

    A food of the Standard Reference that is at hand by another key is there once.
    """
    plain = store.plain()
    rows = np.array(
        [row for row, food in enumerate(plain) if f"ndb:{food.ndb}" not in table], dtype=np.intp
    )
    return table.merged(
        FoodTable(
            foods=tuple(plain.foods[row] for row in rows),
            values=plain.values[rows],
            known=plain.known[rows],
        )
    )
