"""Faults planted into lines and steps: amounts, units, foods named in one place only."""

from __future__ import annotations

import random
import re
from dataclasses import replace
from fractions import Fraction

from reformulate import Line, Recipe
from reformulate.measures import parse_amount, scaled
from reformulate.recipes.review import Kind
from tests.recipes.planting import Planted, by_volume, grams_of, spoken, with_figure
from tests.recipes.test_review_clean import FOODS


def disagreeing(recipe: Recipe, rng: random.Random) -> Planted:
    line = rng.choice(by_volume(recipe))
    grams = grams_of(recipe)[line.id] * rng.choice([0.55, 0.6, 1.6, 1.75, 2.5])
    return Planted(
        recipe, (Kind.AMOUNTS, Kind.FIGURE), line.id, texts={line.id: with_figure(line, grams)}
    )


def twice_the_figure(recipe: Recipe, rng: random.Random) -> Planted:
    line = rng.choice(by_volume(recipe))
    grams = grams_of(recipe)[line.id] * rng.choice([0.5, 2.0])
    return Planted(recipe, (Kind.FIGURE,), line.id, texts={line.id: with_figure(line, grams)})


def swapped_figures(recipe: Recipe, rng: random.Random) -> Planted | None:
    lines = by_volume(recipe)
    grams = grams_of(recipe)
    one = rng.choice(lines)
    others = [line for line in lines if not 0.45 < grams[line.id] / grams[one.id] < 2.2]
    if not others:
        return None
    other = rng.choice(others)
    texts = {
        one.id: with_figure(one, grams[other.id]),
        other.id: with_figure(other, grams[one.id]),
    }
    return Planted(recipe, (Kind.FIGURE,), one.id, texts=texts)


def not_in_the_list(recipe: Recipe, rng: random.Random) -> Planted:
    steps = " ".join(recipe.steps).lower()
    # Spices that the steps call "spices" are named by no step.
    named = [
        line
        for line in recipe.lines
        if line.food != "water" and any(word[:5] in steps for word in spoken(line).split())
    ]
    line = rng.choice(named)
    left = tuple(one for one in recipe.lines if one.id != line.id)
    return Planted(replace(recipe, lines=left), (Kind.UNLISTED, Kind.SALT))


def not_in_the_steps(recipe: Recipe, rng: random.Random) -> Planted | None:
    """List one more food, any of the table, that no step names."""
    steps = " ".join(recipe.steps).lower()
    food = rng.choice(FOODS.foods)
    name = food.name.lower().partition(",")[0]
    heads = re.findall(r"[a-z]{4,}", name)
    if any(head[:5] in steps for head in heads) or food.key in {line.food for line in recipe.lines}:
        return None
    if food.group in {FOODS.food(line.food).group for line in recipe.lines}:
        # "The spices" or "the cheese" may well mean it.
        return None
    line = Line(id="planted", food=food.key, grams=20.0)
    return Planted(replace(recipe, lines=(*recipe.lines, line)), (Kind.UNUSED,), "planted")


def taken_out_of_the_steps(recipe: Recipe, rng: random.Random) -> Planted | None:
    """Take a food's words out of the steps that use it."""
    line = rng.choice(recipe.lines)
    word = spoken(line).split()[-1] if line.food != "hot-sauce" else "hot sauce"
    stem = re.escape(word.removesuffix("s"))
    others = [spoken(one) for one in recipe.lines if one.id != line.id]
    if any(re.search(stem, other) for other in others):
        return None
    pattern = re.compile(rf"(?:[\w-]+ )?\b{stem}\w*", re.IGNORECASE)
    steps = tuple(pattern.sub("", step) for step in recipe.steps)
    if steps == recipe.steps:
        return None
    return Planted(replace(recipe, steps=steps), (Kind.UNUSED,), line.id)


def odd_unit(recipe: Recipe, rng: random.Random) -> Planted:
    food, amount = rng.choice(
        [
            ("salt-table", "1/2 cup"),
            ("salt-table", "3 tbsp"),
            ("pepper-cayenne", "1/4 lb"),
            ("vanilla-extract", "1 cup"),
            ("baking-soda", "1/2 cup"),
            ("yogurt-whole", "1 pinch"),
            ("chicken-breast-cooked", "1 tsp"),
            ("crab-cooked", "2 tsp"),
            ("chickpeas-canned", "2 tsp"),
            ("chicken-breast-cooked", "200 ml"),
            ("cumin", "1 cup"),
            ("garlic", "900 mg"),
        ]
    )
    line = Line(id="planted", food=food, amount=amount)
    steps = (*recipe.steps, f"Stir in the {FOODS.food(food).name.partition(',')[0].lower()}.")
    lines = (*[one for one in recipe.lines if one.food != food], line)
    return Planted(replace(recipe, lines=lines, steps=steps), (Kind.UNIT,), "planted")


def odd_count_in_the_source(recipe: Recipe, rng: random.Random) -> Planted | None:
    """A weighed line whose source counts what is never counted."""
    poured = ("yogurt", "cream", "mayonnaise", "milk", "oil", "salt", "mustard-powder")
    lines = [line for line in recipe.lines if line.food.startswith(poured)]
    if not lines:
        return None
    line = rng.choice(lines)
    count = rng.choice(["cloves", "sprigs", "stalks", "slices", "heads", "ribs"])
    planted = replace(line, amount="", grams=grams_of(recipe)[line.id])
    text = {line.id: f"2 {count} {spoken(line)}"}
    if any(measure.unit == count.rstrip("s") for measure in FOODS.food(line.food).measures):
        return None
    return Planted(recipe.with_line(planted), (Kind.UNIT,), line.id, texts=text)


def drained_or_not(recipe: Recipe, rng: random.Random) -> Planted:
    canned = [line for line in recipe.lines if re.search(r"\b(can|jar)s?\b", line.amount)]
    if canned and rng.random() < 0.5:
        line = rng.choice(canned)
        return Planted(recipe.with_line(replace(line, prep="chopped")), (Kind.DRAINED,), line.id)
    food, amount = rng.choice(
        [
            ("chickpeas-canned", "1 can (15 oz)"),
            ("beans-black-canned", "1 can (400 g)"),
            ("tuna-light-water", "2 cans (5 oz)"),
            ("corn-canned", "1 can (15 oz)"),
            ("olives-ripe", "1 can (6 oz)"),
            ("chickpeas-canned", "425 g"),
            ("artichoke-hearts-canned", "400 g"),
        ]
    )
    line = Line(id="planted", food=food, amount=amount)
    name = FOODS.food(food).name.partition(",")[0].lower()
    planted = replace(
        recipe,
        lines=(*[one for one in recipe.lines if one.food != food], line),
        steps=(*recipe.steps, f"Fold in the {name}."),
        servings=recipe.servings + 4,
    )
    return Planted(planted, (Kind.DRAINED,), "planted")


def listed_twice(recipe: Recipe, rng: random.Random) -> Planted:
    line = rng.choice(recipe.lines)
    again = replace(line, id="again")
    if rng.random() < 0.5 and line.amount:
        half = scaled(parse_amount(line.amount), Fraction(1, 2))
        again = replace(again, amount=str(half))
    return Planted(replace(recipe, lines=(*recipe.lines, again)), (Kind.TWICE,), "again")


def left_out(recipe: Recipe, rng: random.Random) -> Planted:
    text = rng.choice(
        ["1 handful parsley, chopped", "some grated cheese", "a few olives", "walnuts, chopped"]
    )
    return Planted(recipe, (Kind.LEFT_OUT,), "more", texts={"more": text})
