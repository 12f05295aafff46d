"""Further foods of a line, told from what only says more about the first."""

from __future__ import annotations

from typing import Final

from reformulate.recipes.reading.describing_words import Aspect, aspect_of
from reformulate.recipes.reading.draft import Draft
from reformulate.recipes.reading.food import FoodWords, food_words
from reformulate.recipes.reading.food_names import is_a_food
from reformulate.recipes.reading.segments import Segment
from reformulate.recipes.reading.word_sets import word_set

REMARKING: Final = word_set(
    "i i'm i've you your we my mine it it's its see note this that these those they if any other "
    "another more less extra additional use used using can could should may might will would "
    "substitute similar equivalent enough so whatever whichever what just only don't do not no "
    "about depending make made get buy found available see available every all also same "
    "preferably ideally work works great best favorite love like prefer"
)
SPOKEN: Final = word_set("is are was i i'm you your if use using it they we my")
"""Words of a sentence, which is a remark wherever they stand in it."""
SIZED: Final = frozenset({"thick", "long", "wide", "high", "tall", "deep", "apart", "into"})
FEW_WORDS: Final = 4
"""Words beyond which a bracket is a remark and names no food of its own."""
_PARTS_OF_A_PLANT: Final = word_set("leaves leaf stems stalks skin skins seeds roots")
"""Words that beside a herb or a fruit say which part of it: parsley, leaves picked."""


def is_another_food(draft: Draft, piece: Segment) -> bool:
    """Whether the segment is a line of its own: "salt, 6 tablespoons butter"."""
    if piece.bracketed or piece.is_led or any(word in SPOKEN for word in piece.words):
        return False
    if piece.words and piece.words[0] in REMARKING | SIZED:
        return False
    words = food_words(piece.tokens)
    names = words.names
    if all(token.low in draft.known for name in names for token in name):
        return piece.opener == "plus" and names != () and _is_another_part(draft, words)
    found = piece.amount
    if found is None:
        # A list without amounts: "salt, pepper, paprika".
        alone = draft.main is None or draft.main.each
        listed = piece.opener == "," and alone and len(piece.words) <= FEW_WORDS
        return (
            listed
            and all(is_a_food(name[-1].low) for name in names)
            and not _PARTS_OF_A_PLANT.issuperset(word.low for name in names for word in name)
        )
    counted = piece.opener == "plus" and found.quantity is not None
    return (found.unit is not None or counted) and not found.is_length(draft.tokens)


def _is_another_part(draft: Draft, words: FoodWords) -> bool:
    """Whether an egg yolk is added to an egg."""
    known = {word.low for word in draft.match}
    parts = {word.low for word in words.match if aspect_of(word.low) is Aspect.PART}
    return not parts <= known
