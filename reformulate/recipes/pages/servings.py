"""How many a recipe serves, out of what it says it yields."""

from __future__ import annotations

import re
from typing import Final

from reformulate.recipes.number_words import NUMBERS
from reformulate.recipes.pages.cleaning import clean
from reformulate.recipes.pages.json_ld import Graph, Node, as_text
from reformulate.recipes.pages.notes import Notes, short

MOST_SERVINGS: Final = 10_000
"""Most servings believed [count]."""

_COUNT: Final = (
    rf"(\d{{1,5}}(?:[.,]\d{{1,2}})?|{'|'.join(sorted(NUMBERS, key=len, reverse=True))})(?![\d/])"
)
_RANGE: Final = rf"(?<![\w/.,]){_COUNT}(?:\s*(?:-|–|—|to|or|bis|oder|à|ou|a|y)\s*{_COUNT})?"
_SIZE: Final = (
    r"(?:\s*\([^()]{0,40}\)|\s+[\d/.½¼¾⅓⅔ ]{1,8}[\s-]?"
    r"(?:cups?|tablespoons?|tbsp|teaspoons?|tsp|ounces?|oz|g|ml)\.?)"
)
_ABOUT: Final = r"(?:about |approximately |approx\.? |ca\.? |up to |~ ?)?"
_EATERS: Final = (
    r"(?:(?:generous|large|small|hearty|appetizer|appetiser|starter|side|adult)[\s-]+)?"
    r"(?:servings?|portions?|people|persons?|guests|helpings?|"
    r"portionen|personen|personnes?|personas?|raciones|porciones|porzioni|persone)\b"
)
_ALONE = re.compile(rf"(?:yields?:? )?{_ABOUT}{_RANGE}\.?", re.IGNORECASE)
_BEFORE = re.compile(rf"{_RANGE}{_SIZE}?[\s-]*{_EATERS}", re.IGNORECASE)
_AFTER = re.compile(
    rf"\b(?:serves|serving|servings|portions|feeds|portionen|für|pour|para)\b\W{{0,3}}{_ABOUT}{_RANGE}"
    r"(?!\s*(?:%|cups?|tablespoons?|tbsp|teaspoons?|tsp|ounces?|oz|g|ml)\b)",
    re.IGNORECASE,
)
_LONGEST: Final = 200


def yield_of(graph: Graph, node: Node, notes: Notes) -> tuple[str, float | None]:
    """Return the yield as written, and the servings it names [count] (None where it names none)."""
    written = [text for text in _written(graph, node) if text]
    if not written:
        notes.add("The page does not say how many it serves.")
        return "", None
    # "4" beside "4 servings (2 cups)": the one that says most stands for both.
    text = max(written, key=lambda each: (_servings(each) is not None, len(each)))
    found = _servings(text)
    if found is None:
        notes.add(f"The yield '{short(text)}' does not say how many it serves.")
        return text, None
    low, high = found
    middle = (low + high) / 2
    if low != high:
        notes.add(f"The yield '{short(text)}' was read as {middle:g} servings, the middle.")
    return text, middle


def _written(graph: Graph, node: Node) -> list[str]:
    found: list[str] = []
    for value in graph.values(node, "recipeYield", "yield")[:10]:
        if isinstance(value, dict):
            low = graph.text(value, "value", "minValue")
            high = graph.text(value, "maxValue")
            amount = f"{low}-{high}" if low and high and low != high else low or high
            unit = graph.text(value, "unitText", "name")
            found.append(clean(f"{amount} {unit}")[:_LONGEST])
        elif isinstance(value, str | int | float):
            found.append(clean(as_text(value))[:_LONGEST])
    return found


def _servings(text: str) -> tuple[float, float] | None:
    """Return the fewest and most servings a text names [count]."""
    found = _ALONE.fullmatch(text) or _BEFORE.search(text) or _AFTER.search(text)
    if not found:
        return None
    low = _count(found[1])
    high = _count(found[2]) if found[2] else low
    if not 0 < low <= high <= MOST_SERVINGS:
        return None
    return low, high


def _count(text: str) -> float:
    word = NUMBERS.get(text.lower())
    return float(word) if word else float(text.replace(",", "."))
