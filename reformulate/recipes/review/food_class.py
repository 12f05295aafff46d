"""How a food is handled: poured, spooned, a powder, leaves, pieces."""

from __future__ import annotations

from enum import Enum
from typing import Final

from reformulate.foods import Food


class Handled(Enum):
    """How a cook takes hold of a food."""

    POURED = "poured"
    SPOONED = "spooned"
    POWDER = "powder"
    """Salt, spices, leavening, gums: measured in spoons."""
    FLOUR = "flour"
    """Flours, sugars, crumbs: measured in spoons and cups."""
    FRESH_HERB = "fresh herb"
    SMALL = "small"
    """Seeds, nuts, grated cheese and chopped aromatics: any measure."""
    PIECES = "pieces"
    """Meat, fish, beans, bread and whole vegetables."""


_OF_GROUP: Final = {
    "Salt and leavening": Handled.POWDER,
    "Vinegars": Handled.POURED,
    "Oils and fats": Handled.POURED,
    "Drinks and liquids": Handled.POURED,
    "Mayonnaise and dressings": Handled.SPOONED,
    "Condiments and sauces": Handled.SPOONED,
    "Nuts and seeds": Handled.SMALL,
    "Cheese": Handled.SMALL,
    "Pickles and olives": Handled.SMALL,
    "Meat and poultry": Handled.PIECES,
    "Fish and shellfish": Handled.PIECES,
    "Beans and lentils": Handled.PIECES,
    "Bread, crackers and chips": Handled.PIECES,
    "Eggs": Handled.PIECES,
}

_POURED: Final = frozenset(
    {"milk", "buttermilk", "juice", "syrup", "honey", "molasses", "water", "broth", "liquid", "extract",
     "agave", "half"}
)
_SMALL_ANYWHERE: Final = (
    "anchov", "caviar", "roe", "bacon", "pepperoni", "salami", "chorizo", "crumb", "garlic", "shallot", "onion",
    "scallion", "chives", "ginger", "jalap", "chile", "pepper", "celery", "horseradish", "wasabi", "lemongrass",
    "carrot", "radish", "cucumber", "tomato", "pimiento", "chipotle", "leek", "fennel", "corn", "peas",
    "raisin", "currant", "cranberries", "pomegranate", "edamame", "nori", "wakame", "apricot", "cherries",
    "dates", "figs", "prunes", "kimchi", "mushroom, shiitake, dried", "beet", "water chestnuts", "mango",
    "liver", "pâté", "apple", "pineapple", "shrimp, canned", "ham", "beef, dried", "lime", "lemon, ", "orange",
    "blueberries", "raspberries", "spinach", "arugula", "watercress", "bean dip",
)
_SPREADABLE: Final = (
    "cream cheese", "paste", "purée", "sauce", "hummus", "butter", "tahini", "miso", "spread", "dip",
    "avocado", "applesauce", "refried", "pumpkin", "queso dip", "ricotta", "cottage", "goat cheese, soft",
)


def handled(food: Food) -> Handled:
    """Return how a food is handled, by its group and name."""
    name = food.name.lower()
    words = frozenset(name.replace(",", " ").split())
    if food.group == "Herbs and spices":
        return _of_spice(name)
    if food.group in ("Flours and thickeners", "Sweeteners"):
        return _of_dry(name, words)
    if "powder" in words and food.group in ("Dairy", "Plant bases"):
        return Handled.FLOUR
    head = frozenset(name.partition(",")[0].split())
    if head & _POURED and food.group not in ("Meat and poultry", "Cheese"):
        return Handled.POURED
    if any(start in name for start in _SPREADABLE):
        return Handled.SPOONED
    if food.group in ("Dairy", "Plant bases"):
        firm = "tempeh" in name or ("tofu" in name and "silken" not in name)
        return Handled.PIECES if firm else Handled.SPOONED
    if "zest" in words:
        return Handled.POWDER
    if any(f" {part}" in f" {name}" for part in _SMALL_ANYWHERE):
        return Handled.SMALL
    # A food of no group of ours, from a release or a label, may be anything.
    return _OF_GROUP.get(food.group) or (
        Handled.PIECES if food.group in ("Vegetables", "Fruit") else Handled.SMALL
    )


def _of_spice(name: str) -> Handled:
    if "fresh" in name:
        return Handled.FRESH_HERB
    if "extract" in name:
        return Handled.POWDER
    if "cocoa" in name or "chocolate" in name or "mix" in name:
        return Handled.FLOUR
    return Handled.POWDER


def _of_dry(name: str, words: frozenset[str]) -> Handled:
    if any(start in name for start in ("gelatin", "agar", "xanthan")):
        return Handled.POWDER
    if words & _POURED:
        return Handled.POURED
    if any(start in name for start in ("jam", "jelly", "marmalade")):
        return Handled.SPOONED
    return Handled.SMALL if "cooked" in words else Handled.FLOUR
