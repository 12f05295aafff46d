"""Roles guessed from what a food is and how much of it there is: the shares where a role changes."""

from __future__ import annotations

import pytest

from reformulate.recipes.taking_in import guess_roles
from tests.recipes.taking_in_cases import FOODS


def role_of(food: str, share: float, beside: str = "sour-cream") -> str:
    """The role of so many percent of a food in a dish that is otherwise one other food."""
    foods = [FOODS.food(beside), FOODS.food(food)]
    return guess_roles(foods, [100.0 - share, share])[1]


@pytest.mark.parametrize(
    ("food", "below", "share", "from_it_on"),
    [
        ("cream-cheese", "body", 5.0, "base"),
        ("mayonnaise", "fat", 5.0, "base"),
        ("chickpeas-canned", "inclusion", 15.0, "base"),
        ("crab-cooked", "inclusion", 15.0, "base"),
        ("egg-hard-boiled", "inclusion", 15.0, "base"),
        ("chicken-breast-cooked", "inclusion", 25.0, "base"),
        ("salsa", "flavouring", 25.0, "base"),
        ("mozzarella-whole", "body", 25.0, "base"),
        ("walnuts", "inclusion", 8.0, "body"),
        # A strong cheese is there for its flavour, until there is much of it.
        ("parmesan", "flavouring", 10.0, "body"),
        ("cheddar", "flavouring", 10.0, "body"),
        ("avocado", "inclusion", 15.0, "base"),
    ],
)
def test_more_of_a_food_does_more_in_the_dish(
    food: str, below: str, share: float, from_it_on: str
) -> None:
    assert role_of(food, share - 0.5) == below
    assert role_of(food, share + 0.5) == from_it_on


@pytest.mark.parametrize(
    ("foods", "grams", "roles"),
    [
        # Where nothing creamy carries the dish the heaviest vegetable or fruit does, not the oil.
        (("oil-olive", "olives-ripe"), (200.0, 150.0), ("fat", "base")),
        (
            ("pepper-red", "olives-ripe", "sugar"),
            (60.0, 80.0, 100.0),
            ("inclusion", "base", "sweetener"),
        ),
        # And where there is none of these either, the heaviest of all.
        (("oil-olive", "sugar"), (10.0, 30.0), ("fat", "base")),
    ],
)
def test_every_dish_has_a_base(
    foods: tuple[str, ...], grams: tuple[float, ...], roles: tuple[str, ...]
) -> None:
    assert guess_roles([FOODS.food(key) for key in foods], list(grams)) == roles


@pytest.mark.parametrize(
    ("food", "role"),
    [
        ("lemon-juice", "acid"),
        ("orange-juice", "liquid"),
        ("vinegar-cider", "acid"),
        ("salt-table", "salt"),
        ("baking-soda", "body"),
        ("butter-salted", "fat"),
        ("milk-whole", "liquid"),
        ("garlic", "flavouring"),
        ("honey", "sweetener"),
        ("tahini", "body"),
    ],
)
def test_a_little_of_some_foods_always_does_the_same(food: str, role: str) -> None:
    assert role_of(food, 2.0) == role
