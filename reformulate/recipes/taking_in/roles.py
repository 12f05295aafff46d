"""What a line does in a dip, guessed from what it is and how much of it there is."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from reformulate.foods import Food

BASE_SHARE: Final = 0.15
"""From this share of the mass a food of a kind that carries a dip is a base [1]; common practice."""

ACIDS: Final = ("vinegar", "lemon juice", "lime juice", "verjuice", "citric")
FATS: Final = ("oil", "butter", "ghee", "lard", "shortening", "margarine")
SWEETS: Final = ("sugar", "honey", "syrup", "molasses", "sweetener", "stevia")
LIQUIDS: Final = ("water", "broth", "stock", "beer", "wine", "milk", "juice")
BODIES: Final = ("flour", "starch", "crumb", "oats", "gelatin", "cheese", "nuts", "seeds")
GROUPS: Final = {
    "Herbs and spices": "flavouring",
    "Condiments and sauces": "flavouring",
    "Pickles and olives": "inclusion",
    "Sweeteners": "sweetener",
    "Vinegars": "acid",
    "Oils and fats": "fat",
    "Drinks and liquids": "liquid",
    "Flours and thickeners": "body",
    "Bread, crackers and chips": "body",
    "Nuts and seeds": "body",
    "Cheese": "body",
    "Salt and leavening": "flavouring",
}
"""Role by the food's group, where its name says nothing else."""

CARRIERS: Final = (
    "Dairy",
    "Cheese",
    "Beans and lentils",
    "Fish and shellfish",
    "Mayonnaise and dressings",
    "Plant bases",
    "Vegetables",
    "Fruit",
)
"""Groups whose foods carry a dip where there is much of them."""


def guess_roles(foods: Sequence[Food], grams: Sequence[float | None]) -> tuple[str, ...]:
    """Return a role for each of n foods by kind and share of the mass; the cook may change them."""
    total = sum(mass or 0.0 for mass in grams) or 1.0
    roles = [
        _role(food, (mass or 0.0) / total) for food, mass in zip(foods, grams, strict=True)
    ]
    if "base" not in roles and foods:
        heaviest = max(range(len(foods)), key=lambda i: grams[i] or 0.0)
        roles[heaviest] = "base"
    return tuple(roles)


def _role(food: Food, share: float) -> str:
    name = food.name.lower()
    words = set(name.replace(",", " ").split())
    if words & {"salt"} and food.group == "Salt and leavening":
        return "salt"
    if any(word in name for word in ACIDS):
        return "acid"
    if "mayonnaise" in name:
        return "base" if share >= BASE_SHARE else "fat"
    if words & set(FATS) and "peanut" not in name and "almond" not in name:
        return "fat"
    if any(word in name for word in SWEETS) and food.group != "Vegetables":
        return "sweetener"
    if share >= BASE_SHARE and (food.group in CARRIERS or "bean" in name or "chickpea" in name):
        return "base"
    return GROUPS.get(food.group, "flavouring" if share < 0.03 else "inclusion")
