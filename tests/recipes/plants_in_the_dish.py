"""Faults planted into the dish: claims, portion, moisture, salt and oil."""

from __future__ import annotations

import random
import re
from dataclasses import replace

from reformulate import Recipe
from reformulate.recipes.review import Kind
from tests.recipes.planting import Planted, spoken, true_claims


def wrong_claim(recipe: Recipe, rng: random.Random) -> Planted:
    claims = true_claims(recipe)
    key = rng.choice(["energy_kcal", "fat_g", "sodium_mg", "saturated_g"])
    claims[key] = round(claims[key] * rng.choice([0.5, 0.65, 1.5, 1.8]), 1)
    return Planted(recipe, (Kind.CLAIM,), "", claims=claims)


def claims_for_other_servings(recipe: Recipe, rng: random.Random) -> Planted:
    factor = rng.choice([0.5, 2.0, 3.0])
    claims = {key: round(value * factor) for key, value in true_claims(recipe).items()}
    return Planted(recipe, (Kind.CLAIM,), "", claims=claims)


def wrong_sum(recipe: Recipe, rng: random.Random) -> Planted:
    claims = true_claims(recipe)
    claims["energy_kcal"] = float(round(claims["energy_kcal"] * rng.choice([0.5, 0.6, 1.6, 2.0])))
    return Planted(recipe, (Kind.SUM,), "", claims=claims)


def odd_portion(recipe: Recipe, rng: random.Random) -> Planted:
    factor = rng.choice([1 / 8, 1 / 4, 1 / 3, 6, 8, 10])
    return Planted(
        replace(recipe, servings=max(1.0, recipe.servings * factor)), (Kind.PORTION,), ""
    )


def salt_to_taste(recipe: Recipe, rng: random.Random) -> Planted:
    left = replace(
        recipe, lines=tuple(line for line in recipe.lines if not line.food.startswith("salt"))
    )
    text = rng.choice(
        ["Salt to taste", "salt, to taste", "Kosher salt", "sea salt", "Salt and pepper"]
    )
    return Planted(left, (Kind.SALT,), "salt", texts={"salt": text})


def salt_in_the_steps(recipe: Recipe, rng: random.Random) -> Planted:
    left = tuple(line for line in recipe.lines if not line.food.startswith("salt"))
    say = rng.choice(["Season with salt and pepper.", "Add salt to taste.", "Salt the dip well."])
    steps = (*recipe.steps, say)
    return Planted(replace(recipe, lines=left, steps=steps), (Kind.SALT,))


def more_salt(recipe: Recipe, rng: random.Random) -> Planted | None:
    lines = [line for line in recipe.lines if line.food.startswith("salt")]
    if not lines:
        return None
    text = rng.choice(["plus more to taste", "plus extra for sprinkling", "and more as needed"])
    return Planted(
        recipe, (Kind.SALT,), lines[0].id, texts={lines[0].id: f"{lines[0].amount} salt, {text}"}
    )


def more_oil(recipe: Recipe, rng: random.Random) -> Planted | None:
    lines = [
        line
        for line in recipe.lines
        if line.role == "fat" and line.food.startswith(("oil", "butter"))
    ]
    if not lines:
        return None
    line = rng.choice(lines)
    say = rng.choice(
        [
            "plus more if needed",
            "plus extra for drizzling",
            "and more for greasing",
            "plus more for the dish",
        ]
    )
    text = f"{line.amount} {spoken(line)}, {say}"
    if rng.random() < 0.5:
        return Planted(recipe, (Kind.OIL,), line.id, texts={line.id: text})
    return Planted(recipe.with_line(replace(line, text=text)), (Kind.OIL,), line.id)


def oil_without_amount(recipe: Recipe, rng: random.Random) -> Planted:
    text = rng.choice(
        ["olive oil, as needed", "oil for frying", "a drizzle of olive oil", "Butter for the dish"]
    )
    return Planted(recipe, (Kind.OIL,), "oil", texts={"oil": text})


def odd_moisture(recipe: Recipe, rng: random.Random) -> Planted | None:
    if recipe.moisture_loss_percent > 0:
        planted = replace(recipe, moisture_loss_percent=0.0)
        long = any(re.search(r"(\d\d) minutes", step) for step in recipe.steps)
        return Planted(planted, (Kind.MOISTURE,)) if long else None
    heated = re.compile(r"heat|warm|toast|hot |squeeze|drain", re.IGNORECASE)
    if any(heated.search(step) for step in recipe.steps):
        return None
    return Planted(
        replace(recipe, moisture_loss_percent=float(rng.randint(4, 20))), (Kind.MOISTURE,)
    )
