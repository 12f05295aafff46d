"""Answers on offer: foods a line may mean, and amounts where it gives none."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from reformulate.errors import BadInput
from reformulate.foods import INDEX, Food, FoodTable
from reformulate.measures import Amount, MeasureSystem, household, parse_amount, scaled, weigh
from reformulate.recipes.matching import match_food
from reformulate.recipes.reading import About
from reformulate.recipes.taking_in.values import Choice, IntakeLine
from reformulate.recipes.taking_in.weighing import is_beside

SALT_SHARE: Final = 0.01
"""Salt for what is not salted yet, of its mass [1]; common practice."""
PEPPER_SHARE: Final = 0.001
"""Ground pepper, of the mass of all the rest [1]; common practice, a light hand."""
SALT_PER_SODIUM: Final = 2.54 / 1000.0
"""Salt a milligram of sodium stands for [g/mg]; by the molar masses of NaCl and Na."""
SALTY: Final = 20_000.0
"""From this much sodium a food is salt, whatever it is called [mg per 100 g]."""

_MOST_FOODS: Final = 4
_FAR: Final = 30.0
"""A food this much behind the best one only shares a word with the line [points]."""
_MOST_AMOUNTS: Final = 3
_PACKS: Final[dict[str, dict[str, tuple[str, ...]]]] = {
    "us": {"can": ("15 oz", "28 oz"), "pack": ("8 oz", "16 oz"), "jar": ("12 oz", "16 oz")},
    "metric": {"can": ("400 g",), "pack": ("200 g", "250 g"), "jar": ("350 g",)},
}
"""Common sizes of packs; from memory."""
_A_PINCH_OF: Final = ("1/4 tsp", "1/2 tsp", "1 tsp")
_A_SPOON_OF: Final = ("1 tbsp", "2 tbsp", "1/4 cup")
_A_CUP_OF: Final = ("1/4 cup", "1/2 cup", "1 cup")
_A_PIECE_OF: Final = ("1", "2", "3")
_SPICES: Final = ("Herbs and spices", "Salt and leavening")
_SPOONED: Final = ("Oils and fats", "Vinegars", "Sweeteners", "Condiments and sauces")


def leave_out(line: IntakeLine) -> Choice:
    """Offer to leave a line out; what is served with the dish stays beside it."""
    if is_beside(line):
        return Choice(words="Serve it beside, not counted", leaves_out=True)
    return Choice(words="Leave it out", leaves_out=True)


def foods_on_offer(
    line: IntakeLine, foods: FoodTable, *, near_only: bool = False
) -> tuple[Choice, ...]:
    """Return the foods a line may mean, likeliest first, then those it names as alternatives.

    With ``near_only`` those are left out that share hardly a word with the line.
    """
    ranked = line.match.ranked[:_MOST_FOODS]
    if near_only:
        ranked = tuple(one for one in ranked if one.score >= ranked[0].score - _FAR) or ranked
    found = [
        Choice(words=foods.food(one.food).name, detail=energy_words(foods, one.food), food=one.food)
        for one in ranked
        if one.food in foods
    ]
    for other in line.read.alternatives if line.part == 0 else ():
        best = match_food(other, foods).food
        if best is not None and best not in {choice.food for choice in found}:
            name = f"{foods.food(best).name}, as “{other.food_text or other.match_text}”"
            found.append(
                Choice(
                    words=name,
                    detail=energy_words(foods, best),
                    food=best,
                    amount=other.amount,
                )
            )
    return tuple(found)


def energy_words(foods: FoodTable, key: str) -> str:
    """Say what 100 g of a food have."""
    row, column = foods.index(key), INDEX["energy_kcal"]
    if not foods.known[row, column]:
        return "energy not known"
    return f"{foods.values[row, column]:.0f} kcal per 100 g"


def amounts_on_offer(
    line: IntakeLine,
    foods: FoodTable,
    system: MeasureSystem,
    rest: float = 0.0,
    salted: float = 0.0,
) -> tuple[Choice, ...]:
    """Return amounts for a line that gives none, likeliest first, each with what it weighs.

    Parameters
    ----------
    line : IntakeLine
        Its food is known, or there is nothing to offer.
    rest : float
        What the other lines weigh, as far as it is known [g].
    salted : float
        The salt they would take at ``SALT_SHARE`` beyond what they bring [g].
    """
    if not line.food:
        return ()
    food = foods.food(line.food)
    found: dict[str, Choice] = {}
    for text, why in _amounts(line, food, foods, system, rest, salted):
        try:
            amount = parse_amount(text)
            grams = weigh(amount, food.measures, system, line.prep).grams
        except BadInput:
            continue
        detail = f"{grams_said(grams)}, {why}" if why else grams_said(grams)
        found.setdefault(str(amount), Choice(words=str(amount), detail=detail, amount=str(amount)))
    return tuple(found.values())[:_MOST_AMOUNTS]


def grams_said(grams: float) -> str:
    """Say a mass as a scale shows it."""
    return f"{grams:.1f} g" if grams < 9.95 else f"{grams:.0f} g"


def is_salt(foods: FoodTable, key: str) -> bool:
    """Whether a food is salt, by its sodium."""
    return bool(foods.values[foods.index(key), INDEX["sodium_mg"]] >= SALTY)


def salt_wanted(foods: FoodTable, key: str, grams: float) -> float:
    """Return the salt [g] that brings so much of a food to ``SALT_SHARE``; 0 for a salty food."""
    sodium = float(foods.values[foods.index(key), INDEX["sodium_mg"]])
    return grams * max(SALT_SHARE - sodium * SALT_PER_SODIUM / 100.0, 0.0)


def _amounts(
    line: IntakeLine,
    food: Food,
    foods: FoodTable,
    system: MeasureSystem,
    rest: float,
    salted: float,
) -> Iterator[tuple[str, str]]:
    """Give amounts as text with why they are on offer; not all of them can be weighed."""
    yield from _of_one_or_of_all(line)
    if line.amount:
        yield line.amount, "as it is read"
        yield from _packs(line.amount, system)
    if is_salt(foods, food.key) and rest > 0:
        pure = float(foods.values[foods.index(food.key), INDEX["sodium_mg"]]) * SALT_PER_SODIUM
        if salted > 0:
            yield _spoons(salted / (pure / 100.0), food, system), "1 % of what is unsalted"
        yield _spoons(SALT_SHARE * rest / (pure / 100.0), food, system), "1 % of the rest"
        yield "1 pinch", ""
    elif food.key.startswith("pepper-") and rest > 0:
        yield _spoons(PEPPER_SHARE * rest, food, system), "0.1 % of the rest"
    if "handful" in line.amount:
        for text in _A_CUP_OF:
            yield text, ""
    for text in _usual(food):
        yield text, ""


def _of_one_or_of_all(line: IntakeLine) -> Iterator[tuple[str, str]]:
    """Offer both readings where a weight may be that of one piece, or of all."""
    read = line.read
    if not any(ask.about is About.SIZE for ask in read.asks) or read.other is None:
        return
    if not read.other.amount:
        return
    one = parse_amount(read.other.amount)
    yield str(one), f"if {read.other.text} is all of it"
    if isinstance(read.quantity, float):
        times = Fraction(read.quantity).limit_denominator(96)
        yield str(scaled(one, times)), f"if each is {read.other.text}"


def _packs(written: str, system: MeasureSystem) -> Iterator[tuple[str, str]]:
    """Offer common sizes for a pack that is written without one."""
    try:
        terms = parse_amount(written).terms
    except BadInput:
        return
    if len(terms) > 1 or terms[0].size is not None:
        return
    unit = "can" if terms[0].unit == "tin" else terms[0].unit
    for size in _PACKS["metric" if system.prefers_metric else "us"].get(unit, ()):
        yield f"{Amount(terms)} ({size})", "a common size"


def _spoons(grams: float, food: Food, system: MeasureSystem) -> str:
    found = household(grams, food.measures, system)
    return str(found.amount) if found else ""


def _usual(food: Food) -> Iterator[str]:
    """Give the amounts such a food is usually used in; common practice."""
    if food.group in _SPICES and "fresh" not in food.name:
        yield from _A_PINCH_OF
    if food.group in _SPICES or food.group in _SPOONED:
        yield from _A_SPOON_OF
    else:
        if any(measure.unit == "piece" for measure in food.measures):
            yield from _A_PIECE_OF
        yield from _A_CUP_OF
    yield from ("50 g", "100 g", "200 g")
