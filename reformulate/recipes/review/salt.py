"""Salt that the sodium leaves out: to taste, without an amount, in the steps alone."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from reformulate.foods.nutrients import INDEX
from reformulate.measures.amount import write_number
from reformulate.recipes.recipe import Line
from reformulate.recipes.review.context import Context, LineSeen
from reformulate.recipes.review.fixes import Add, AddMore, KeepAmount
from reformulate.recipes.review.naming import Naming
from reformulate.recipes.review.open_amounts import leaves_all, leaves_more, more_in
from reformulate.recipes.review.steps import free_id, has_salt
from reformulate.recipes.review.values import Finding, Fix, Kind

SALTY: Final = 4000.0
"""From this much sodium a food is added to taste as salt is [mg per 100 g]."""
_USUAL_SHARE: Final = 0.005
"""Salt suggested where none is counted, of the batch [fraction]; common practice for dips."""
_TEASPOON: Final = 6.0
"""Table salt in a teaspoon [g]; SR28 household weight."""
_SODIUM_IN_TEASPOON: Final = 2325.0
"""Sodium in a teaspoon of table salt [mg]; 6 g of NDB 02047, SR28."""
_TO_TASTE: Final = re.compile(
    r"\bseason(?:ing)?(?! with\b)(?! (?:the |it |them )?\w+ with\b)[^,.;]{0,20}\bto taste\b"
    r"|\b(?:adjust|check|correct)\b[^,.;]{0,12}\bseasoning\b|\bseason (?:well|generously|lightly)\b",
    re.IGNORECASE,
)
_UNCOUNTED: Final = "Sodium is a figure that readers rely on."


def find_salt(context: Context, naming: Naming) -> Iterator[Finding]:
    """Find salt that no figure counts."""
    for mention in naming.unlisted:
        if any(key.startswith("salt-") for key in mention.keys):
            yield Finding(
                kind=Kind.SALT,
                where=f"step {mention.step}",
                what=f"The step adds salt, and the list has none: {_none_counted(context)}.",
                why=f"{_UNCOUNTED} List the salt with an amount.",
                confidence=0.95,
                gravity=0.8,
                fix=suggested_salt(context),
            )
    yield from _seasoned(context, naming)
    for seen in context.lines:
        if context.per_100g(seen.line.food, "sodium_mg") >= SALTY:
            yield from _in_line(seen, context)


def _seasoned(context: Context, naming: Naming) -> Iterator[Finding]:
    """Find seasoning to taste where no salt is listed, and more salt than is listed."""
    named = any(key.startswith("salt-") for one in naming.mentions for key in one.keys)
    for sentence in naming.sentences:
        if sentence.advice:
            continue
        if not has_salt(context) and not named and _TO_TASTE.search(sentence.text):
            yield Finding(
                kind=Kind.SALT,
                where=f"step {sentence.step}",
                what=f"The step seasons to taste, and no salt is listed: {_none_counted(context)}.",
                why=f"{_UNCOUNTED} List the salt with an amount, or say what is meant.",
                confidence=0.5,
                gravity=0.6,
                fix=suggested_salt(context),
            )
            return
        if has_salt(context) and more_in(sentence.text) == "salt":
            yield Finding(
                kind=Kind.SALT,
                where=f"step {sentence.step}",
                what="The step adds more salt than is listed.",
                why=f"{_UNCOUNTED} A pinch more, 1/8 tsp, is {_of_pinch(context)} mg of sodium a "
                "serving. List all of it.",
                confidence=0.5,
                gravity=0.3,
            )
            return


def _in_line(seen: LineSeen, context: Context) -> Iterator[Finding]:
    name = seen.food.name.partition(",")[0].lower()
    column = INDEX["sodium_mg"]
    a_serving = seen.grams * float(context.batch.ingredients[seen.number].per_gram[column])
    counted = (
        f"{seen.line.written}, {a_serving / context.recipe.servings:.0f} mg of sodium a serving"
    )
    if leaves_more(seen):
        yield Finding(
            kind=Kind.SALT,
            where=seen.line.id,
            what=f"The line uses more {name} than its amount says; only {counted}, is counted.",
            why=f"{_UNCOUNTED} Write all of it as an amount.",
            confidence=0.75,
            gravity=0.4,
            fix=Fix(
                words=f"Count 1/4 tsp more {name}", apply=AddMore(line=seen.line.id, more="1/4 tsp")
            ),
        )
    elif leaves_all(seen):
        yield Finding(
            kind=Kind.SALT,
            where=seen.line.id,
            what=f"The source leaves {name} to taste; {counted}, is counted.",
            why=f"{_UNCOUNTED} It holds for that amount only: print the amount.",
            confidence=0.5,
            gravity=0.4,
            fix=Fix(words=f"Keep {seen.line.written}", apply=KeepAmount(line=seen.line.id)),
        )


def suggested_salt(context: Context) -> Fix | None:
    """Offer to list a usual amount of salt; None where the table has none."""
    if "salt-table" not in context.foods:
        return None
    spoons = usual_spoons(context.total_grams)
    amount = f"{write_number(spoons)} tsp"
    line = Line(id=free_id("salt-table", context), food="salt-table", amount=amount, role="salt")
    sodium = _SODIUM_IN_TEASPOON * float(spoons) / context.recipe.servings
    return Fix(
        words=f"List {amount} salt ({sodium:.0f} mg of sodium a serving)", apply=Add(line=line)
    )


def usual_spoons(grams: float) -> Fraction:
    """Return salt for so much food [g] in quarters of a teaspoon, one at least.

    >>> usual_spoons(900.0), usual_spoons(10.0)
    (Fraction(3, 4), Fraction(1, 4))
    """
    quarters = min(max(1, round(4 * grams * _USUAL_SHARE / _TEASPOON)), 4_000)
    return Fraction(quarters, 4)


def _none_counted(context: Context) -> str:
    sodium = _SODIUM_IN_TEASPOON / 4 / context.recipe.servings
    return f"each 1/4 tsp would be {sodium:.0f} mg of sodium a serving, and none is counted"


def _of_pinch(context: Context) -> str:
    return f"{_SODIUM_IN_TEASPOON / 8 / context.recipe.servings:.0f}"
