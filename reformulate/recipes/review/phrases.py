"""What steps may call the foods of a table: every name as a run of plain words."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final
from weakref import WeakKeyDictionary

from reformulate.foods import Food, FoodTable
from reformulate.recipes.matching.aliases import aliases
from reformulate.recipes.matching.forms import says
from reformulate.recipes.matching.idle_words import IDLE
from reformulate.recipes.matching.words import words_of
from reformulate.recipes.reading import ReadLine
from reformulate.recipes.reading.word_sets import word_set

Phrase = tuple[str, ...]

BREAKS: Final = word_set(
    "and or with of in into on onto to from for by as at the a an without plus until then over "
    "about each n per"
)
"""Words that part two foods, though they say nothing of a food."""

_KEPT_WORDS: Final = BREAKS | {"powder"}
"""Words that say something here, though they name no food."""

PEPPERS: Final = "sweetpepper"
"""The vegetable; pepper alone is the spice."""
PEPPER: Final[Phrase] = ("pepper",)
"""Black or white pepper, or any pepper where the list has none of them."""
_VEGETABLE: Final = re.compile(
    r"\b(?:peppers|(?<=roasted )pepper|(?<=bell )pepper|(?<=sweet )pepper|(?<=green )pepper"
    r"|(?<=yellow )pepper|(?<=orange )pepper|(?<=red )pepper|(?<=serrano )pepper"
    r"|(?<=banana )pepper|pepper(?= (?:strips?|sticks?|slices|wedges|rings|halves)\b))\b"
    r"(?![ -]+(?:flakes?|powder|sauce|jelly|mill|grinder))",
    re.IGNORECASE,
)
_APART: Final = {"egg-white": ("egg", "white")}
"""One word elsewhere, two here: an egg has a white."""
_NO_NAME: Final = word_set(
    """
    light regular red green white black yellow orange brown blue dark gold sweet hot sour bitter flesh
    curd herb spice leaf seed kernel powder sauce paste juice zest peel rind oil-packed shell stone
    concentrate drink substitute mix seasoning instant dry double half single full pink baby new
    english french italian spanish greek american mexican danish belgian asian thai soft hard firm
    melting grating brined ripened blend type bought liquid canned flake melt spread dip
    salad cooking table topping whipped cup lump round crumb stick powder
    """
)
"""Words of names that alone do not tell which food is meant."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Vocabulary:
    """Names of foods in plain words."""

    foods: Mapping[Phrase, frozenset[str]]
    """Keys of the foods that a name may mean."""
    longest: int
    """Words of the longest name [count]."""


_KEPT: Final[WeakKeyDictionary[FoodTable, Vocabulary]] = WeakKeyDictionary()


def plain_words(text: str) -> list[str]:
    """Return the words of a text in order: words of the food, and words that part two foods.

    What is said about cut, size, praise or form is left out.
    """
    # The vegetable is told from the spice before plurals are gone.
    told = [
        part
        for word in words_of(_VEGETABLE.sub(PEPPERS, text))
        for part in _APART.get(word, (word,))
    ]
    kept = [word for word in told if word != "peppers" and (word in _KEPT_WORDS or not _idle(word))]
    return [word for i, word in enumerate(kept) if i == 0 or word != kept[i - 1]]


def _idle(word: str) -> bool:
    return word in IDLE or bool(says(word)) or word.isdigit()


def phrase_of(name: str) -> Phrase:
    """Return a name as a phrase; () where it names no food."""
    return tuple(word for word in plain_words(name) if word not in BREAKS)


def vocabulary_of(table: FoodTable) -> Vocabulary:
    """Return what cooks call the program's own foods and the set's; built once a table."""
    kept = _KEPT.get(table)
    if kept is None:
        kept = _KEPT[table] = _built(table)
    return kept


def _built(table: FoodTable) -> Vocabulary:
    foods: dict[Phrase, set[str]] = defaultdict(set)
    for food in table.foods:
        # Rows of a release have names no cook writes.
        if food.key.startswith("ndb:"):
            continue
        phrase = _as_vegetable(phrase_of(food.name.partition(",")[0]), food)
        # Pepper alone is black or white, never cayenne.
        if tells(phrase) and (phrase != PEPPER or _is_plain_pepper(food)):
            foods[phrase].add(food.key)
    for alias in aliases():
        keys = {key for key in alias.foods if key in table}
        phrase = phrase_of(alias.written)
        vegetable = PEPPERS if keys and all(_is_vegetable(table.food(key)) for key in keys) else ""
        if vegetable and "pepper" in phrase:
            phrase = tuple(vegetable if word == "pepper" else word for word in phrase)
        if phrase and phrase[-1] in ("pepper", PEPPERS):
            wanted = phrase[-1] == PEPPERS
            keys = {key for key in keys if _is_vegetable(table.food(key)) == wanted}
        if phrase == PEPPER:
            keys = {key for key in keys if _is_plain_pepper(table.food(key))}
        if keys and tells(phrase):
            foods[phrase] |= keys
    return Vocabulary(
        foods={phrase: frozenset(keys) for phrase, keys in foods.items()},
        longest=max(map(len, foods), default=1),
    )


def names_of_line(food: Food, source: ReadLine | None) -> tuple[Phrase, ...]:
    """Return every phrase that one line may be called by: its food's names and the line's own."""
    names = (food.name.partition(",")[0], food.name, *food.words)
    phrases = [_as_vegetable(phrase_of(name), food) for name in names]
    if source is not None:
        phrases += [phrase_of(source.food_text), phrase_of(source.match_text)]
    plain = _is_plain_pepper(food)
    return tuple(dict.fromkeys(one for one in phrases if one and (plain or one != PEPPER)))


def tells(phrase: Phrase) -> bool:
    """Whether a phrase tells which food is meant: "hot sauce" does, "sauce" does not."""
    return len(phrase) > 1 or any(word not in _NO_NAME for word in phrase)


def is_name(word: str) -> bool:
    """Whether a single word of a name may stand for the whole of it."""
    return word not in _NO_NAME and word not in BREAKS


def _is_vegetable(food: Food) -> bool:
    return food.group == "Vegetables"


def _is_plain_pepper(food: Food) -> bool:
    name = food.name.lower()
    return name.startswith("pepper,") and ("black" in name or "white" in name)


def _as_vegetable(phrase: Phrase, food: Food) -> Phrase:
    # Dried chiles are spices, whatever the group they stand in.
    if not _is_vegetable(food) or "dried" in food.name:
        return phrase
    return tuple(PEPPERS if word == "pepper" else word for word in phrase)
