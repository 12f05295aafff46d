"""Faults planted into clean recipes are found: how many of each kind, in 30 variants each.

``python -m tests.recipes.test_review_seeded [SEED]`` prints the share found by kind, and what was missed.
"""

from __future__ import annotations

import random
import re
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction

import pytest

from reformulate import SYSTEMS, Batch, Line, Recipe, nutrition_of, weigh_recipe
from reformulate.errors import BadInput
from reformulate.foods.nutrients import INDEX
from reformulate.measures import parse_amount, scaled
from reformulate.recipes.review import Finding, Kind, review
from tests.recipes.test_review_clean import DEMO, FOODS

US = SYSTEMS["us"]
VARIANTS = 30
ANYWHERE = "*"


@dataclass(frozen=True)
class Planted:
    """A recipe with one fault, and where it is to be found."""

    recipe: Recipe
    kinds: tuple[Kind, ...]
    where: str = ANYWHERE
    texts: Mapping[str, str] = field(default_factory=dict)
    claims: Mapping[str, float] = field(default_factory=dict)


Plant = Callable[[Recipe, random.Random], Planted | None]


def weighed(recipe: Recipe) -> Batch:
    return weigh_recipe(recipe, FOODS, US)


def grams_of(recipe: Recipe) -> dict[str, float]:
    return {line.id: float(g) for line, g in zip(recipe.lines, weighed(recipe).grams, strict=True)}


def spoken(line: Line) -> str:
    return FOODS.food(line.food).name.partition(",")[0].lower()


def by_volume(recipe: Recipe, least: float = 10.0) -> list[Line]:
    grams = grams_of(recipe)
    return [
        line
        for line in recipe.lines
        if re.search(r"\b(cups?|tbsp)\b", line.amount) and grams[line.id] >= least
    ]


def with_figure(line: Line, grams: float) -> str:
    prep = f", {line.prep}" if line.prep else ""
    return f"{line.amount} ({grams:.0f} g) {spoken(line)}{prep}"


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


def true_claims(recipe: Recipe) -> dict[str, float]:
    found = nutrition_of(weighed(recipe)).per_serving
    keys = ("energy_kcal", "protein_g", "carbohydrate_g", "fat_g", "saturated_g", "sodium_mg")
    return {key: round(float(found[INDEX[key]]), 1) for key in keys}


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


def left_out(recipe: Recipe, rng: random.Random) -> Planted:
    text = rng.choice(
        ["1 handful parsley, chopped", "some grated cheese", "a few olives", "walnuts, chopped"]
    )
    return Planted(recipe, (Kind.LEFT_OUT,), "more", texts={"more": text})


# What is asked of each in 30 variants; the rest is what a fair reader may take either way.
PLANTS: dict[Plant, float] = {
    disagreeing: 0.9,
    twice_the_figure: 0.9,
    swapped_figures: 0.95,
    not_in_the_list: 0.9,
    not_in_the_steps: 0.95,
    taken_out_of_the_steps: 0.9,
    wrong_claim: 0.95,
    claims_for_other_servings: 0.95,
    wrong_sum: 0.95,
    odd_portion: 0.95,
    odd_unit: 0.95,
    odd_count_in_the_source: 0.95,
    salt_to_taste: 0.95,
    salt_in_the_steps: 0.95,
    more_salt: 0.95,
    more_oil: 0.95,
    oil_without_amount: 0.95,
    drained_or_not: 0.95,
    listed_twice: 0.95,
    odd_moisture: 0.95,
    left_out: 0.95,
}


def variants(plant: Plant, seed: int = 0) -> list[Planted]:
    """Thirty recipes with a fault, drawn from the demo recipes."""
    rng = random.Random(f"{plant.__name__}-{seed}")  # noqa: S311 - drawing recipes, no secrets
    found: list[Planted] = []
    for _ in range(2000):
        if len(found) == VARIANTS:
            break
        planted = plant(rng.choice(DEMO), rng)
        if planted is None:
            continue
        try:
            weighed(planted.recipe)
        except BadInput:
            continue
        found.append(planted)
    assert len(found) == VARIANTS
    return found


def reviewed(planted: Planted) -> tuple[Finding, ...]:
    batch = weighed(planted.recipe)
    return review(batch, FOODS, US, texts=planted.texts, claims=planted.claims)


def is_found(planted: Planted, finding: Finding) -> bool:
    return finding.kind in planted.kinds and planted.where in (ANYWHERE, finding.where)


def share_found(
    plant: Plant, seed: int = 0
) -> tuple[float, list[tuple[Planted, tuple[Finding, ...]]]]:
    """Return the share of variants whose fault is found, and those whose is not."""
    missed = []
    for planted in variants(plant, seed):
        found = reviewed(planted)
        if not any(is_found(planted, finding) for finding in found):
            missed.append((planted, found))
    return 1 - len(missed) / VARIANTS, missed


@pytest.mark.parametrize("plant", PLANTS, ids=lambda plant: plant.__name__)
def test_a_planted_fault_is_found(plant: Plant) -> None:
    share, missed = share_found(plant)
    assert share >= PLANTS[plant], [
        (planted.recipe.title, planted.where, dict(planted.texts)) for planted, _ in missed
    ]


def report(seed: int) -> None:
    """Print the share found of each kind of fault, and what was missed."""
    for plant in PLANTS:
        share, missed = share_found(plant, seed)
        print(f"{plant.__name__:28} {share:5.0%}")  # noqa: T201
        for planted, found in missed:
            said = "; ".join(str(finding) for finding in found) or "nothing"
            print(f"    {planted.recipe.title}, {planted.where}, {dict(planted.texts)}: {said}")  # noqa: T201


if __name__ == "__main__":
    report(int(sys.argv[1]) if len(sys.argv) > 1 else 0)
