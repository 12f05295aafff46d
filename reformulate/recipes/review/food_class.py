"""How a food is handled: poured, spooned, a powder, leaves, pieces."""

from __future__ import annotations

from enum import Enum
from typing import Final

from reformulate.foods import Food
from reformulate.recipes.reading.word_sets import word_set


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
    "Vegetables": Handled.PIECES,
    "Fruit": Handled.PIECES,
}

_POURED: Final = word_set(
    "milk buttermilk juice syrup honey molasses water broth liquid extract agave half"
)
_SMALL_ANYWHERE: Final = word_set(
    """
    anchov caviar roe bacon pepperoni salami chorizo crumb garlic shallot onion scallion chives ginger
    jalap chile pepper celery horseradish wasabi lemongrass carrot radish cucumber tomato pimiento chipotle
    leek fennel corn peas raisin currant cranberries pomegranate edamame nori wakame apricot cherries
    dates figs prunes kimchi beet chestnuts mango liver pâté apple pineapple ham lime lemon orange
    blueberries raspberries spinach arugula watercress
    """
)
"""Starts of words in names of foods that are chopped small or used for their taste."""
_SPREADABLE: Final = (
    "cream cheese",
    "paste",
    "purée",
    "sauce",
    "hummus",
    "butter",
    "tahini",
    "miso",
    "spread",
    "dip",
    "avocado",
    "applesauce",
    "refried",
    "pumpkin",
    "ricotta",
    "cottage",
    "goat cheese, soft",
)


def handled(food: Food) -> Handled:
    """Return how a food is handled, by its group and name."""
    name = food.name.lower()
    if food.group == "Herbs and spices":
        return _of_spice(name)
    if food.group in ("Flours and thickeners", "Sweeteners"):
        return _of_dry(name)
    return _of_name(name, food.group) or _of_group(food)


def _of_name(name: str, group: str) -> Handled | None:
    """Return what the name tells whatever the group; None where it does not."""
    words = frozenset(name.replace(",", " ").split())
    head = frozenset(name.partition(",")[0].split())
    found = None
    if "powder" in words and group in ("Dairy", "Plant bases"):
        found = Handled.FLOUR
    elif head & _POURED and group not in ("Meat and poultry", "Cheese"):
        found = Handled.POURED
    elif any(part in name for part in _SPREADABLE):
        found = Handled.SPOONED
    elif "zest" in words:
        found = Handled.POWDER
    return found


def _of_group(food: Food) -> Handled:
    name = food.name.lower()
    if food.group in ("Dairy", "Plant bases"):
        firm = "tempeh" in name or ("tofu" in name and "silken" not in name)
        return Handled.PIECES if firm else Handled.SPOONED
    if any(f" {part}" in f" {name}" for part in _SMALL_ANYWHERE):
        return Handled.SMALL
    # A food of no group of ours, from a release or a label, may be anything.
    return _OF_GROUP.get(food.group, Handled.SMALL)


def _of_spice(name: str) -> Handled:
    if "fresh" in name:
        return Handled.FRESH_HERB
    if "extract" in name:
        return Handled.POWDER
    if "cocoa" in name or "chocolate" in name or "mix" in name:
        return Handled.FLOUR
    return Handled.POWDER


def _of_dry(name: str) -> Handled:
    words = frozenset(name.replace(",", " ").split())
    if any(start in name for start in ("gelatin", "agar", "xanthan")):
        return Handled.POWDER
    if words & _POURED:
        return Handled.POURED
    if any(start in name for start in ("jam", "jelly", "marmalade")):
        return Handled.SPOONED
    return Handled.SMALL if "cooked" in words else Handled.FLOUR
