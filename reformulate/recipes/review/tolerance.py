"""How far two amounts of one line may lie apart and still agree.

Shares, from common practice: level scoops of what pours or spreads repeat within 3 to 5 % and
tables differ by 5 to 15 %; powders, grated cheese and chopped goods by 5 to 30 %; leaves by half.
Pieces grow in all sizes.
"""

from __future__ import annotations

from typing import Final

from reformulate.foods import Food
from reformulate.recipes.review.stated import Stated

EXACT: Final = 0.06
"""Between two masses or two volumes [fraction]: 28 g is written as 30 g, 237 mL as 250 mL."""
POURED: Final = 0.15
"""Of what pours or spreads [fraction]."""
LOOSE: Final = 0.30
"""Of powders, and of what is grated or chopped [fraction]."""
LEAFY: Final = 0.50
"""Of leaves [fraction]."""
PIECES: Final = 0.50
"""Of whole pieces [fraction]."""
PACKS: Final = 0.15
"""Of packs and their drained weights [fraction]."""

_LOOSE_GROUPS: Final = frozenset(
    {
        "Cheese",
        "Vegetables",
        "Herbs and spices",
        "Flours and thickeners",
        "Nuts and seeds",
        "Fruit",
        "Beans and lentils",
        "Meat and poultry",
        "Fish and shellfish",
        "Salt and leavening",
        "Pickles and olives",
        "Bread, crackers and chips",
    }
)
_LEAF_DENSITY: Final = 0.3
"""Below this a cup holds leaves [g/mL]."""
_POURED_DENSITY: Final = (0.85, 1.6)
"""Between these a cup is filled without gaps [g/mL]."""


def tolerance(one: Stated, other: Stated, food: Food) -> float:
    """Return how far two amounts may lie apart [fraction], upward; downward by the same factor."""
    if one.has_pack or other.has_pack:
        return PACKS
    if one.has_count or other.has_count:
        return PIECES
    if (one.volume is None) == (other.volume is None):
        return EXACT
    by_volume = one if one.volume is not None else other
    return _of_volume(by_volume, food)


def _of_volume(by_volume: Stated, food: Food) -> float:
    density = by_volume.usual / by_volume.volume if by_volume.volume else 0.0
    if density < _LEAF_DENSITY:
        return LEAFY
    if food.group in _LOOSE_GROUPS and not _is_poured(food):
        return LOOSE
    return POURED if _POURED_DENSITY[0] <= density <= _POURED_DENSITY[1] else LOOSE


def _is_poured(food: Food) -> bool:
    name = food.name.lower()
    return any(word in name for word in ("juice", "purée", "extract", "paste", "tahini", "butter"))


def rounding(grams: float) -> float:
    """Return by how much a written figure may have been rounded [g or mL].

    To 5 from 20 upwards, to 1 below, and to halves under 5.
    """
    if grams >= 20.0 and grams % 5.0 == 0.0:
        return 2.5
    return 0.5 if grams >= 5.0 else 0.25
