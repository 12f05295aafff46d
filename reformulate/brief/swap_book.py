"""The swap book: functional exchanges for dips and spreads."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from reformulate.brief.brief import Swap


@dataclass(frozen=True, slots=True, kw_only=True)
class Exchange:
    """INTERIM by the lead until the helper's file comes."""

    replaces: tuple[str, ...]
    food: str
    kind: str
    grams_per_gram: float = 1.0
    largest_share: float = 1.0
    effect: str = ""
    caution: str = ""
    source: str = ""


@cache
def swap_book() -> tuple[Exchange, ...]:
    path = Path(__file__).with_name("swap_book.csv")
    if not path.exists():
        return ()
    with path.open(encoding="utf-8", newline="") as file:
        return tuple(
            Exchange(
                replaces=tuple(row["replaces"].split(";")), food=row["food"], kind=row["kind"],
                grams_per_gram=float(row["grams_per_gram"]), largest_share=float(row["largest_share"]),
                effect=row["effect"], caution=row["caution"], source=row["source"],
            )
            for row in csv.DictReader(file)
        )


def exchanges_for(food_key: str, extra: tuple[Exchange, ...] = ()) -> tuple[Exchange, ...]:
    own = tuple(e for e in extra if food_key in e.replaces)
    foods = {e.food for e in own}
    return (*own, *(e for e in swap_book() if food_key in e.replaces and e.food not in foods))


def swap_for(exchange: Exchange, line_ids: tuple[str, ...]) -> Swap:
    return Swap(food=exchange.food, stands_in_for=line_ids, grams_per_gram=exchange.grams_per_gram,
                largest_share=exchange.largest_share, caution=exchange.caution)
