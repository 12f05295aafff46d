"""A name or a line sorted into what it is about: the food, its form, idle words."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from reformulate.recipes.matching.forms import Form, form_of, says
from reformulate.recipes.matching.idle_words import IDLE


@dataclass(frozen=True, slots=True, kw_only=True)
class Sorted:
    """Words by what they are about."""

    food: frozenset[str]
    """Words that name the food; numbers without a per cent sign are dropped."""
    form: Form
    """Raw or cooked, fat, salt and so on."""
    idle: frozenset[str]
    """Words that name no food: cut, size, praise."""


@lru_cache(maxsize=4096)
def sorted_words(words: tuple[str, ...]) -> Sorted:
    """Sort words in the form that `words_of` gives."""
    food: set[str] = set()
    idle: set[str] = set()
    for word in words:
        if says(word) or word.isdigit():
            continue
        (idle if word in IDLE else food).add(word)
    return Sorted(food=frozenset(food), form=form_of(words), idle=frozenset(idle))
