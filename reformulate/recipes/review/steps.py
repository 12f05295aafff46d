"""Foods in the steps that are not in the list, and lines that the steps never use."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from reformulate.errors import BadInput
from reformulate.foods import Food
from reformulate.measures import parse_amount, weigh
from reformulate.recipes.reading import read_line
from reformulate.recipes.recipe import Line
from reformulate.recipes.review.collective import groups_of, is_salt
from reformulate.recipes.review.context import Context, LineSeen
from reformulate.recipes.review.fixes import Add, TakeOff
from reformulate.recipes.review.mentions import Mention
from reformulate.recipes.review.naming import Naming
from reformulate.recipes.review.phrases import phrase_of
from reformulate.recipes.review.values import Finding, Fix, Kind

_AMOUNT: Final = re.compile(r"(?:\d|[½¼¾⅓⅔⅛])[^,.;]{2,60}")
_TRACES: Final = frozenset({"Herbs and spices"})
_FATS: Final = frozenset({"Oils and fats", "Mayonnaise and dressings", "Nuts and seeds", "Cheese"})
_MOST_UNUSED: Final = 0.5
"""From this share of lines unused the steps rather than the list are short of something [fraction]."""


def find_unlisted(context: Context, naming: Naming) -> Iterator[Finding]:
    """Find foods that a step adds and no line has; salt is found by its own check."""
    for mention in naming.unlisted:
        food = context.foods.food(min(mention.keys))
        if food.key.startswith("salt-"):
            continue
        name = " ".join(mention.words).replace("sweetpepper", "pepper")
        yield Finding(
            kind=Kind.UNLISTED,
            where=f"step {mention.step}",
            what=f"The step names {name}, and the list has none.",
            why="What is not listed is not counted, and readers do not buy it. "
            "List it with its amount, or change the step.",
            confidence=0.75 if groups_of(mention.words) else 0.9,
            gravity=_gravity(food),
            fix=_listed(mention, naming, context),
        )


def find_unused(context: Context, naming: Naming) -> Iterator[Finding]:
    """Find lines that no step uses."""
    if not naming.mentions:
        # Steps that name nothing at all, or none, say nothing about the list.
        return
    unused = [seen for seen in context.lines if seen.number not in naming.used]
    incomplete = len(unused) > _MOST_UNUSED * len(context.lines)
    for seen in unused:
        yield _unused(seen, context, incomplete=incomplete)


def _unused(seen: LineSeen, context: Context, *, incomplete: bool) -> Finding:
    name = seen.food.name.partition(",")[0]
    slight = seen.line.role == "garnish" or seen.food.key == "water"
    return Finding(
        kind=Kind.UNUSED,
        where=seen.line.id,
        what=f"{name} ({seen.line.written}) is listed, and no step uses it.",
        why="It is counted in every figure, and readers do not know when it goes in. "
        "Name it in a step, or take it off the list.",
        confidence=0.45 if incomplete else 0.7 if slight else 0.9,
        gravity=max(0.15, context.hangs_on(seen.number, seen.grams)),
        fix=Fix(words=f"Take {name.lower()} off the list", apply=TakeOff(line=seen.line.id)),
    )


def _gravity(food: Food) -> float:
    if food.group in _TRACES:
        return 0.15
    return 0.6 if food.group in _FATS or food.key.startswith("butter") else 0.4


def _listed(mention: Mention, naming: Naming, context: Context) -> Fix | None:
    """Offer to list the food with the amount that the step gives, if it does."""
    for found in _AMOUNT.finditer(naming.sentences[mention.sentence].text):
        read = read_line(found[0])
        if not read.amount or not phrase_of(read.food_text):
            continue
        if not set(phrase_of(read.food_text)) <= set(mention.words):
            continue
        for key in sorted(mention.keys):
            food = context.foods.food(key)
            try:
                weigh(parse_amount(read.amount), food.measures, context.system, read.prep)
            except BadInput:
                continue
            line = Line(id=free_id(key, context), food=key, amount=read.amount, role=role_of(food))
            name = food.name.partition(",")[0].lower()
            return Fix(words=f"List {read.amount} {name}", apply=Add(line=line))
    return None


def role_of(food: Food) -> str:
    """Return a role for a food that is listed anew, by its group."""
    if food.group == "Salt and leavening":
        return "salt" if food.key.startswith("salt-") else "body"
    return {"Oils and fats": "fat", "Vinegars": "acid", "Sweeteners": "sweetener"}.get(
        food.group, "flavouring"
    )


def free_id(key: str, context: Context) -> str:
    """Return an id that no line has."""
    taken = {seen.line.id for seen in context.lines}
    name, number = key, 2
    while name in taken:
        name, number = f"{key}-{number}", number + 1
    return name


def has_salt(context: Context) -> bool:
    """Whether any line is salt."""
    return any(is_salt(seen) for seen in context.lines)
