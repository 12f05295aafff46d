"""What a line does in a dip, guessed from what it is and how much of it there is.

Rules of thumb from common practice, read off the food's group and name. The cook may change each.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping, Sequence
from typing import Final

from reformulate.foods import Food

CREAMY_SHARE: Final = 0.05
"""From this share of the mass something soft and creamy is a base [1]."""
CARRYING_SHARE: Final = 0.15
"""From this share beans, fish, eggs and the like are a base [1]."""
SOLID_SHARE: Final = 0.25
"""From this share hard cheese, meat or a sauce is a base [1]."""
WALNUT_SHARE: Final = 0.08
"""From this share nuts and seeds make the body; less is there for the bite [1]."""
STRONG_SHARE: Final = 0.10
"""Up to this share a strong cheese is there for its flavour [1]."""

GARNISHES: Final = re.compile(
    r"\b(?:to garnish|(?:for|as)(?: a| the)? (?:garnish|topping|sprinkling|drizzling|dusting)|"
    r"to (?:top|finish|sprinkle|drizzle))\b",
    re.IGNORECASE,
)

_ACIDS: Final = frozenset({"vinegar", "verjuice", "citric", "tartar"})
_SOUR_FRUIT: Final = frozenset({"lemon", "lime"})
_FATS: Final = frozenset({"butter", "ghee", "lard", "shortening", "margarine", "oil", "fat"})
_CREAMY: Final = frozenset(
    {"sour", "yogurt", "cottage", "ricotta", "mascarpone", "quark", "labneh", "fraîche", "tofu"}
    | {"hummus", "mayonnaise", "mayonnaise-type", "dressing", "queso"}
)
_POURED: Final = frozenset(
    {"milk", "buttermilk", "half", "cream", "water", "broth", "juice", "coffee"}
)
_STRONG: Final = frozenset(
    {"parmesan", "romano", "blue", "roquefort", "cotija", "gruyère", "feta", "cheddar"}
)
_AROMATIC: Final = frozenset(
    {"garlic", "shallot", "scallion", "chives", "leek", "ginger", "jalapeño", "serrano", "chile"}
    | {"chipotle", "capers", "wasabi", "horseradish", "zest"}
)
_FLAVOURING_STARTS: Final = ("onion", "tomato paste", "sun-dried", "hot pepper", "green chile")
_BASE_FROM: Final = {
    "Beans and lentils": CARRYING_SHARE,
    "Fish and shellfish": CARRYING_SHARE,
    "Eggs": CARRYING_SHARE,
    "Meat and poultry": SOLID_SHARE,
    "Condiments and sauces": SOLID_SHARE,
}
"""The share of the mass from which a food of a group is a base [1]."""
_BITES: Final = frozenset({"Vegetables", "Fruit", "Pickles and olives", "Meat and poultry"})
_OF_GROUP: Final = {
    "Herbs and spices": "flavouring",
    "Condiments and sauces": "flavouring",
    "Sweeteners": "sweetener",
    "Vinegars": "acid",
    "Oils and fats": "fat",
    "Drinks and liquids": "liquid",
    "Flours and thickeners": "body",
    "Bread, crackers and chips": "body",
    "Salt and leavening": "body",
}


def guess_roles(
    foods: Sequence[Food], grams: Sequence[float | None], texts: Sequence[str] = ()
) -> tuple[str, ...]:
    """Return a role for each of n foods by kind and share of the mass.

    Parameters
    ----------
    foods : (n,) sequence of Food
        What the lines are.
    grams : (n,) sequence
        Mass of each [g]; None where it is not known.
    texts : (n,) sequence of str, optional
        The lines as written: "for garnish" tells.
    """
    known = [mass or 0.0 for mass in grams]
    total = sum(known) or 1.0
    said = texts or [""] * len(foods)
    roles = [
        "garnish" if GARNISHES.search(text) else _role(food, mass / total)
        for food, mass, text in zip(foods, known, said, strict=True)
    ]
    _find_base(roles, foods, known)
    return tuple(roles)


def _find_base(roles: list[str], foods: Sequence[Food], grams: Sequence[float]) -> None:
    """Make the heaviest line the base where nothing creamy is: a pepper or an olive spread."""
    if "base" in roles or not foods:
        return
    bites = [i for i, food in enumerate(foods) if food.group in _BITES and roles[i] != "garnish"]
    among = bites or range(len(foods))
    roles[max(among, key=lambda i: grams[i])] = "base"


def _role(food: Food, share: float) -> str:
    name = food.name.lower()
    words = frozenset(re.findall(r"[^\W\d_]+(?:-[^\W\d_]+)*", name))
    if _is_acid(words) or (food.group == "Salt and leavening" and "salt" in words):
        return "acid" if _is_acid(words) else "salt"
    if food.group == "Mayonnaise and dressings" or words & {"hummus", "queso"}:
        return "base" if share >= CREAMY_SHARE else "fat"
    if food.group in _RULES:
        return _RULES[food.group](words, share)
    if words & _AROMATIC or name.startswith(_FLAVOURING_STARTS):
        return "flavouring"
    carries = share >= _BASE_FROM.get(food.group, math.inf)
    return "base" if carries else _OF_GROUP.get(food.group, "inclusion")


def _is_acid(words: frozenset[str]) -> bool:
    return bool(words & _ACIDS) or ("juice" in words and bool(words & _SOUR_FRUIT))


def _role_of_dairy(words: frozenset[str], share: float) -> str:
    if words & _FATS - {"fat"}:
        return "fat"
    if "powder" in words:
        return "body"
    if "condensed" in words or "sweetened" in words:
        return "sweetener"
    if words & _CREAMY or {"cream", "cheese"} <= words:
        return "base" if share >= CREAMY_SHARE else "body"
    return "liquid" if words & _POURED else "body"


def _role_of_cheese(words: frozenset[str], share: float) -> str:
    if share >= SOLID_SHARE:
        return "base"
    return "flavouring" if words & _STRONG and share < STRONG_SHARE else "body"


def _role_of_nuts(words: frozenset[str], share: float) -> str:
    if words & {"butter", "tahini"}:
        return "body"
    return "body" if share >= WALNUT_SHARE else "inclusion"


def _role_of_fruit(words: frozenset[str], share: float) -> str:
    if words & _AROMATIC:
        return "flavouring"
    if "juice" in words:
        return "liquid"
    return "base" if "avocado" in words and share >= CARRYING_SHARE else "inclusion"


_RULES: Final[Mapping[str, Callable[[frozenset[str], float], str]]] = {
    "Dairy": _role_of_dairy,
    "Plant bases": _role_of_dairy,
    "Cheese": _role_of_cheese,
    "Nuts and seeds": _role_of_nuts,
    "Fruit": _role_of_fruit,
}
