"""How much of a recipe hangs on an unsure line, so that what matters is asked first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from reformulate.foods import INDEX, FoodTable
from reformulate.recipes.matching.values import Match

UNTOLD: Final = 30.0
"""Stands for a mass nobody can say yet [g]: two tablespoons."""
_LIKELY: Final = 0.05
"""Foods with a smaller share of the best one's confidence are no reason to ask [fraction]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Consequence:
    """Energy, sodium and mass: of a recipe, or what may be wrong in one line of it."""

    energy: float = 0.0
    """[kcal]"""
    sodium: float = 0.0
    """[mg]"""
    mass: float = 0.0
    """[g]"""

    def share_of(self, whole: Consequence) -> float:
        """Return the largest of the three shares of a whole [fraction]; 0 of nothing."""
        parts = ((self.energy, whole.energy), (self.sodium, whole.sodium), (self.mass, whole.mass))
        return max((part / of for part, of in parts if of > 0.0), default=0.0)


def consequence(match: Match, grams: Sequence[float | None], foods: FoodTable) -> Consequence:
    """Return how far off a line may be if its best food is taken without asking.

    That is the spread between the foods it may mean, each with its own weight, or what the line
    brings at all, by the odds that it means none of them; the larger counts.

    Parameters
    ----------
    match : Match
        The line's foods; a sure match has no consequence.
    grams : (n,) sequence of float or None
        What the line weighs as each of ``match.ranked`` [g]; None where that is not known, for
        which ``UNTOLD`` stands.
    foods : FoodTable
        Their figures; unknown ones count as nothing: only an order is wanted.
    """
    if match.sure or not match.ranked:
        return Consequence()
    mass = np.array([UNTOLD if weight is None else weight for weight in grams], dtype=np.float64)
    rows = [foods.index(one.food) for one in match.ranked]
    odds = np.array([one.confidence for one in match.ranked])
    likely = odds >= _LIKELY * odds.max()
    none_of_them = max(0.0, 1.0 - float(odds.sum()))

    def at_stake(brought: NDArray[np.float64]) -> float:
        counted = brought[likely]
        return float(max(counted.max() - counted.min(), none_of_them * counted.max()))

    return Consequence(
        energy=at_stake(mass * foods.values[rows, INDEX["energy_kcal"]] / 100.0),
        sodium=at_stake(mass * foods.values[rows, INDEX["sodium_mg"]] / 100.0),
        mass=at_stake(mass),
    )


def asking_order(stakes: Sequence[Consequence], whole: Consequence) -> tuple[int, ...]:
    """Return the places of the lines worth asking about, most consequential first.

    Parameters
    ----------
    stakes : (n,) sequence of Consequence
        What `consequence` gives for each line.
    whole : Consequence
        What the recipe has in all, as far as it is known.
    """
    shares = [stake.share_of(whole) for stake in stakes]
    return tuple(
        sorted((at for at, share in enumerate(shares) if share > 0.0), key=lambda at: -shares[at])
    )
