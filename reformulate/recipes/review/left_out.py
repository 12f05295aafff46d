"""Lines of the source that the recipe does not have."""

from __future__ import annotations

from collections.abc import Iterator

from reformulate.errors import BadInput
from reformulate.foods import Food
from reformulate.measures import parse_amount, weigh
from reformulate.recipes.matching import match_food
from reformulate.recipes.reading import ReadLine
from reformulate.recipes.recipe import Line
from reformulate.recipes.review.context import Context
from reformulate.recipes.review.fixes import Add
from reformulate.recipes.review.oil import is_fat
from reformulate.recipes.review.salt import SALTY, suggested_salt
from reformulate.recipes.review.steps import free_id, role_of
from reformulate.recipes.review.values import Finding, Fix, Kind
from reformulate.recipes.review.words import names_of


def find_left_out(context: Context) -> Iterator[Finding]:
    """Find lines of the source that no figure counts, for want of an amount or of a food."""
    for line_id, read in context.left_out.items():
        foods = [(one, _food(one, context)) for one in (read, *read.also)]
        kind, gravity = _what_kind([food for _, food in foods if food is not None], context)
        names = (
            names_of([_shown(one.food_text) for one, _ in foods[:3] if one.food_text]) or "the line"
        )
        open_end = "" if read.amount else ": it has no amount"
        yield Finding(
            kind=kind,
            where=line_id,
            what=f"The source says “{_shown(read.text)}”, and no {names} is counted{open_end}.",
            why="What is left out of the list is left out of every figure. "
            "Write how much is used, or take it out of the text.",
            confidence=0.95 if kind is not Kind.LEFT_OUT else 0.85,
            gravity=gravity,
            fix=_fix(kind, read, foods[0][1], context),
        )


def _food(read: ReadLine, context: Context) -> Food | None:
    key = match_food(read, context.foods).food
    return context.foods.food(key) if key is not None else None


def _what_kind(foods: list[Food], context: Context) -> tuple[Kind, float]:
    if any(context.per_100g(food.key, "sodium_mg") >= SALTY for food in foods):
        return Kind.SALT, 0.8
    if any(is_fat(food.key, context) for food in foods):
        return Kind.OIL, 0.6
    slight = bool(foods) and all(food.group == "Herbs and spices" for food in foods)
    return Kind.LEFT_OUT, 0.15 if slight else 0.5


def _fix(kind: Kind, read: ReadLine, food: Food | None, context: Context) -> Fix | None:
    amount = read.amount or ("1 tbsp" if kind is Kind.OIL else "")
    if food is not None and amount and _weighs(amount, food, read, context):
        line = Line(
            id=free_id(food.key, context),
            food=food.key,
            amount=amount,
            role=role_of(food),
            prep=read.prep,
            text=read.text if read.amount else "",
        )
        name = food.name.partition(",")[0].lower()
        return Fix(words=f"List {amount} {name}", apply=Add(line=line))
    return suggested_salt(context) if kind is Kind.SALT else None


def _weighs(amount: str, food: Food, read: ReadLine, context: Context) -> bool:
    try:
        weigh(parse_amount(amount), food.measures, context.system, read.prep)
    except BadInput:
        return False
    return True


def _shown(text: str) -> str:
    plain = " ".join(text.split())
    return plain if len(plain) <= 60 else f"{plain[:59]}…"
