"""The same food in two lines."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from reformulate.recipes.reading.from_steps import foods_with_amounts
from reformulate.recipes.review.context import Context, LineSeen
from reformulate.recipes.review.fixes import Merge, added_amounts
from reformulate.recipes.review.values import Finding, Fix, Kind


def find_twice(context: Context) -> Iterator[Finding]:
    """Find foods that are listed more than once."""
    told: set[str] = set()
    for first, second in combinations(context.lines, 2):
        same = first.food.key == second.food.key and first.food.key not in told
        if same and not _both_in_steps(first, second, context.recipe.steps):
            told.add(first.food.key)
            yield _finding(first, second, context)


def _finding(first: LineSeen, second: LineSeen, context: Context) -> Finding:
    name = first.food.name.partition(",")[0]
    total = added_amounts(first.line.written, second.line.written)
    return Finding(
        kind=Kind.TWICE,
        where=second.line.id,
        what=f"{name} is listed twice: {first.line.written} and {second.line.written}.",
        why="Both are counted. Where one was a slip every figure is too high; where both are meant, "
        "say in each line what it is for, or write one line and divide it in the steps.",
        confidence=_confidence(first, second, context.recipe.steps),
        gravity=max(0.15, context.hangs_on(second.number, second.grams)),
        fix=Fix(
            words=f"Make it one line, {total}",
            apply=Merge(into=first.line.id, other=second.line.id),
        )
        if total and first.line.prep == second.line.prep
        else None,
    )


def _both_in_steps(first: LineSeen, second: LineSeen, steps: Sequence[str]) -> bool:
    """Whether the steps name the food with each of two different amounts, so that both are meant."""
    if first.line.amount == second.line.amount or first.source is None:
        return False
    name = first.source.food_text.lower()
    named = {
        read.amount
        for step in steps
        for read in foods_with_amounts(step)
        if read.food_text.lower() == name
    }
    return {first.line.amount, second.line.amount} <= named


def _confidence(first: LineSeen, second: LineSeen, steps: Sequence[str]) -> float:
    """Lines that differ in what they are for may both be meant."""
    if first.line.role != second.line.role:
        return 0.45
    if first.line.prep != second.line.prep:
        return 0.5
    same = first.line.written == second.line.written
    told = "divided" in first.said or "divided" in second.said or not steps
    return 0.6 if told and not same else 0.9
