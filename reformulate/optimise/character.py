"""Taste and texture of an answer: each predictor, original beside now."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import Brief, CharacterHold
from reformulate.foods import CHARACTER, QUANTITY_INDEX, quantity_named, stated_character
from reformulate.foods.character import STATED
from reformulate.optimise.answer import Answer
from reformulate.optimise.items import Items
from reformulate.optimise.rows import LEAST_CHARACTER, character_limits
from reformulate.optimise.words import percent_words

FloatArray = NDArray[np.float64]

FIRM_SHARE: Final = 0.9
"""A predictor is well founded if this much of it comes from foods with a published figure [1]."""

SAME: Final = 0.005
"""Below this a change is not told [1]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CharacterLevel:
    """One predictor, per 100 g of finished food."""

    key: str
    name: str
    unit: str
    original: float
    """[unit per 100 g]."""
    now: float
    """[unit per 100 g]."""
    change: float
    """How far it moved, as a fraction of the original or of the least that can be tasted, whichever is
    more [1]."""
    firm: bool
    """False where it rests mostly on figures from memory."""
    at_least: bool
    """True where a food in the answer has no figure, so that the level is a lower bound."""
    hold: CharacterHold | None
    """What keeps it."""
    limits: tuple[float | None, float | None]
    """What that allows [unit per 100 g]."""

    @property
    def kept(self) -> bool:
        """True where the level is within its hold, and where there is none."""
        low, high = self.limits
        near = 1e-6 * max(abs(self.now), 1.0)
        return (low is None or self.now >= low - near) and (high is None or self.now <= high + near)


def character_of(answer: Answer) -> tuple[CharacterLevel, ...]:
    """Return the eight predictors of an answer, computed from the amounts shown.

    They are sums over the ingredients and no more than that: bookkeeping that says where to taste,
    not what is tasted. Acid, salt and savouriness change each other, cold dulls sweetness, and what
    is in pieces is tasted otherwise than what is blended in.
    """
    items = answer.items
    stated = stated_character(tuple(item.food for item in items.ingredients)).firm
    levels = []
    for kind in CHARACTER:
        column = QUANTITY_INDEX[kind.key]
        firm = np.ones(len(items.original), dtype=np.bool_)
        if kind.key in STATED:
            firm = stated[:, STATED.index(kind.key)]
        hold = _hold_on(kind.key, answer.brief)
        original, now = (
            _per_100g(column, items.original, items),
            _per_100g(column, answer.grams, items),
        )
        brought = items.per_gram[:, column] * answer.grams
        total = float(brought.sum())
        levels.append(
            CharacterLevel(
                key=kind.key,
                name=kind.name,
                unit=kind.unit,
                original=original,
                now=now,
                change=(now - original) / max(original, LEAST_CHARACTER[kind.key]),
                firm=total <= 0.0 or float(brought[firm].sum()) >= FIRM_SHARE * total,
                at_least=not bool(items.known[answer.grams > 0, column].all()),
                hold=hold,
                limits=(None, None) if hold is None else character_limits(hold, items),
            )
        )
    return tuple(levels)


def character_change_words(change: float) -> str:
    """Write a change of character: ``−41 %``; what is below half a percent is ``same``."""
    return "same" if abs(change) < SAME else percent_words(change)


def _per_100g(column: int, grams: FloatArray, items: Items) -> float:
    finished = float(items.yields @ grams)
    return 100.0 * float(items.per_gram[:, column] @ grams) / finished if finished > 0.0 else 0.0


def _hold_on(key: str, brief: Brief) -> CharacterHold | None:
    for hold in brief.holds:
        if isinstance(hold, CharacterHold) and hold.quality == key:
            return hold
    return None


def character_sentence(levels: tuple[CharacterLevel, ...]) -> str:
    """Say which predictors moved most: ``richness −41 %, sourness +18 %; the rest within 10 %``."""
    moved = sorted((one for one in levels if abs(one.change) >= 0.1), key=lambda o: -abs(o.change))
    if not moved:
        return "Taste and texture: every predictor within 10 % of the original."
    words = [
        f"{quantity_named(one.key).spoken} {one.change:+.0%}".replace("-", "−") for one in moved[:3]
    ]
    rest = "; the rest less" if len(moved) > 3 else "; the rest within 10%"
    return f"Taste and texture: {', '.join(words)}{rest}.".replace("%", " %")
