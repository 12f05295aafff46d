"""Words that stand for several lines at once: "the spices", "all the ingredients", "the rest"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final

from reformulate.recipes.review.context import LineSeen
from reformulate.recipes.review.mentions import Sentence

_EVERYTHING: Final = re.compile(
    r"\bingredients?\b|\beverything\b|\ball (?:of )?(?:it|them|together)\b"
    r"|\b(?:all|everything) (?:but|except)\b|\bthe lot\b",
    re.IGNORECASE,
)
_THE_REST: Final = re.compile(
    r"\b(?:the rest|the remainder|the others?)\b(?! of the \w| of your \w)|\bremaining (?:items|things)\b",
    re.IGNORECASE,
)
_A_PART: Final = re.compile(
    r"\b(?:half|part|some|most|third|quarter|portion|tablespoons?|tbsp|cups?) of\b", re.IGNORECASE
)
_MIXES: Final = re.compile(
    r"\b(?:mix|combine|blend|stir|whisk|beat|process|pur[ée]e|mash|blitz|pulse|whizz|whip)\b",
    re.IGNORECASE,
)

_GROUPS: Final[dict[str, frozenset[str]]] = {
    "cheese": frozenset({"Cheese"}),
    "dairy": frozenset({"Dairy", "Cheese"}),
    "nut": frozenset({"Nuts and seeds"}),
    "seed": frozenset({"Nuts and seeds"}),
    "bean": frozenset({"Beans and lentils"}),
    "pulse": frozenset({"Beans and lentils"}),
    "legume": frozenset({"Beans and lentils"}),
    "fish": frozenset({"Fish and shellfish"}),
    "seafood": frozenset({"Fish and shellfish"}),
    "shellfish": frozenset({"Fish and shellfish"}),
    "meat": frozenset({"Meat and poultry"}),
    "vegetable": frozenset({"Vegetables"}),
    "veg": frozenset({"Vegetables"}),
    "veggie": frozenset({"Vegetables"}),
    "aromatic": frozenset({"Vegetables", "Herbs and spices"}),
    "fruit": frozenset({"Fruit"}),
    "citrus": frozenset({"Fruit"}),
    "sweetener": frozenset({"Sweeteners"}),
    "oil": frozenset({"Oils and fats"}),
    "vinegar": frozenset({"Vinegars"}),
    "crumb": frozenset({"Flours and thickeners", "Bread, crackers and chips"}),
    "sauce": frozenset({"Condiments and sauces"}),
    "condiment": frozenset({"Condiments and sauces"}),
}
"""Groups of the food table by the word that stands for all their foods."""

_ALONE: Final = frozenset(
    {"dairy", "fish", "seafood", "shellfish", "meat", "veg", "fruit", "citrus"}
)
"""These stand for all of them in the singular too: "the fish", but not "the cream cheese"."""

_TOPPINGS: Final = frozenset({"topping", "toppings", "garnish", "garnishes"})
_SEASONED: Final = re.compile(r"\bseason(?:ed|ing|ings|s)?\b", re.IGNORECASE)
_WORDS: Final = re.compile(r"[^\W\d_]+")


def lines_meant(
    sentences: Sequence[Sentence], lines: Sequence[LineSeen], first_named: int
) -> Iterator[int]:
    """Yield the numbers of lines that sentences stand for without naming them.

    Parameters
    ----------
    sentences : sequence of Sentence
        What is read.
    lines : sequence of LineSeen
        The recipe's lines.
    first_named : int
        Number of the first sentence that names a food.
    """
    for number, sentence in enumerate(sentences):
        if sentence.advice:
            continue
        text = sentence.text
        # "Blend until smooth." with nothing named before it means all there is.
        if _EVERYTHING.search(text) or (number < first_named and _MIXES.search(text)):
            yield from range(len(lines))
        rest = _THE_REST.search(text)
        if rest and not _A_PART.search(text[: rest.start()]):
            yield from range(len(lines))
        words = frozenset(_WORDS.findall(text.lower()))
        seasoned = _SEASONED.search(text) is not None
        yield from (seen.number for seen in lines if _is_meant(seen, words, seasoned=seasoned))


def _is_meant(seen: LineSeen, words: frozenset[str], *, seasoned: bool) -> bool:
    names = {"herb", "spice"} & set(" ".join(seen.food.words).split())
    if {"spices", "spice"} & words and ("spice" in names or _is_dried(seen)):
        return True
    if {"herbs", "herb"} & words and ("herb" in names or seen.food.key in ("chives", "scallion")):
        return True
    if seen.line.role == "garnish" and _TOPPINGS & words:
        return True
    if seasoned and (is_salt(seen) or "pepper" in seen.food.name.lower().split(",")[0].split()):
        return True
    if {"seasonings", "flavourings", "flavorings"} & words and seen.food.group in (
        "Herbs and spices",
        "Salt and leavening",
    ):
        return True
    return any(
        seen.food.group in groups and (f"{word}s" in words or (word in _ALONE and word in words))
        for word, groups in _GROUPS.items()
    )


def _is_dried(seen: LineSeen) -> bool:
    return seen.food.group == "Herbs and spices" and "dried" in seen.food.name


def is_salt(seen: LineSeen) -> bool:
    """Whether a line is salt."""
    return seen.food.key.startswith("salt-") or seen.food.name.lower().startswith("salt")


def groups_of(words: tuple[str, ...]) -> frozenset[str]:
    """Return the groups of foods that a single word stands for; none for any other name."""
    return _GROUPS.get(words[0], frozenset()) if len(words) == 1 else frozenset()
