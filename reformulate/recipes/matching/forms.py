"""The form a food is in: raw or cooked, its fat, its salt, what it is packed in.

Each axis holds the values that a text says; an axis it does not mention is absent.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Final

from reformulate.recipes.reading.word_sets import word_set

Form = Mapping[str, frozenset[str]]
NO_FORM: Final[Form] = MappingProxyType({})

STATE, METHOD, GROUND, FAT, SALT, SMOKE, SWEET, PACK, RINSE = (
    "state",
    "method",
    "ground",
    "fat",
    "salt",
    "smoke",
    "sweet",
    "pack",
    "rinse",
)
_COOKED: Final = word_set("""
    boiled baked roasted grilled fried sauteed steamed poached stewed broiled hard-boiled barbecued
    microwaved braised stir-fried pan-fried rotisserie simmered
""")
_SAYS: Final[dict[str, tuple[tuple[str, str], ...]]] = {
    "raw": ((STATE, "raw"),),
    "uncooked": ((STATE, "raw"),),
    "fresh": ((STATE, "raw"),),
    "cooked": ((STATE, "cooked"),),
    "canned": ((STATE, "canned"),),
    "dried": ((STATE, "dried"),),
    "frozen": ((STATE, "frozen"),),
    "pickled": ((STATE, "pickled"),),
    "ground": ((GROUND, "ground"),),
    "powder": ((GROUND, "powder"),),
    "granulated": ((GROUND, "granulated"),),
    "smoked": ((SMOKE, "smoked"),),
    "salted": ((SALT, "salted"),),
    "unsalted": ((SALT, "unsalted"),),
    "low-sodium": ((SALT, "low-sodium"),),
    "sweetened": ((SWEET, "sweetened"),),
    "unsweetened": ((SWEET, "unsweetened"),),
    "full-fat": ((FAT, "full-fat"),),
    "reduced-fat": ((FAT, "reduced-fat"),),
    "light": ((FAT, "light"),),
    "low-fat": ((FAT, "low-fat"),),
    "extra-light": ((FAT, "extra-light"),),
    "fat-free": ((FAT, "fat-free"),),
    "part-skim": ((FAT, "part-skim"),),
    "in-oil": ((PACK, "in-oil"),),
    "in-water": ((PACK, "in-water"),),
    "in-brine": ((PACK, "in-brine"),),
    "in-juice": ((PACK, "in-juice"),),
    "in-syrup": ((PACK, "in-syrup"),),
    "drained": ((RINSE, "drained"),),
    "rinsed": ((RINSE, "rinsed"),),
    **{word: ((STATE, "cooked"), (METHOD, word)) for word in _COOKED},
}


def says(word: str) -> tuple[tuple[str, str], ...]:
    """Return the axes a word speaks about, each with its value; none for a word of the food."""
    found = _SAYS.get(word)
    if found is None:
        return ((FAT, word),) if word.endswith("%") else ()
    return found


def form_of(words: Iterable[str]) -> Form:
    """Return the form that words of `words_of` say."""
    form: dict[str, set[str]] = {}
    for word in words:
        for axis, value in says(word):
            form.setdefault(axis, set()).add(value)
    return {axis: frozenset(values) for axis, values in form.items()}


def joined(one: Form, other: Form) -> Form:
    """Return what either form says."""
    if not one or not other:
        return one or other
    return {
        axis: one.get(axis, frozenset()) | other.get(axis, frozenset()) for axis in {*one, *other}
    }
