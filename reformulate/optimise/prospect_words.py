"""What a swap would do, in words."""

from __future__ import annotations

from reformulate.optimise.answer import GoalResult
from reformulate.optimise.character import character_of
from reformulate.optimise.explore import Prospect
from reformulate.optimise.words import percent_words, quantity
from reformulate.optimise.written import grams_words

TASTED = 0.1
"""From here a change of a predictor is told [1]."""

MOST_FINER = 4
"""Most decimals added to tell a level from its limit [count]."""


def prospect_words(prospect: Prospect, name: str) -> str:
    """Say on one line what a swap would do: for what, how much of it, each goal, what moves, taste."""
    name = f"{name} for {', '.join(prospect.swap.stands_in_for)}"
    answer = prospect.answer
    if answer is None:
        return f"{name}: {' '.join(str(problem) for problem in prospect.problems)}"
    goals = "; ".join(result_words(result) for result in answer.goals)
    parts = [grams_words(prospect.grams), goals, changes_words(prospect), taste_words(prospect)]
    return f"{name}: {'; '.join(part for part in parts if part)}"


def result_words(result: GoalResult) -> str:
    """Say a level with whether it meets its goal: ``✓ 145 kcal``."""
    least = "at least " if result.at_least else ""
    goal, finer = result.goal, 0
    # A level that misses its limit must not read as if it were on it.
    while not result.met and finer < MOST_FINER and _reads_as_met(result, finer):
        finer += 1
    level = quantity(result.level, goal.nutrient, goal.per, finer=finer)
    return f"{'✓' if result.met else '!'} {least}{level}"


def _reads_as_met(result: GoalResult, finer: int) -> bool:
    goal = result.goal
    shown = quantity(result.level, goal.nutrient, goal.per, finer=finer)
    limits = (goal.lowest, goal.highest)
    return any(
        limit is not None and quantity(limit, goal.nutrient, goal.per, finer=finer) == shown
        for limit in limits
    )


def changes_words(prospect: Prospect) -> str:
    """Say how far the amounts are from the original: ``changes 183 %``; 100 % is a line emptied."""
    return (
        ""
        if prospect.answer is None
        else f"changes {prospect.answer.changes:.0%}".replace("%", " %")
    )


def taste_words(prospect: Prospect, most: int = 2) -> str:
    """Say which predictors move most: ``richness −41 %, sourness +12 %``; ``taste stays near``."""
    if prospect.answer is None:
        return ""
    moved = sorted(
        (one for one in character_of(prospect.answer) if abs(one.change) >= TASTED),
        key=lambda one: -abs(one.change),
    )
    if not moved:
        return "taste stays near"
    return ", ".join(f"{one.name.lower()} {percent_words(one.change)}" for one in moved[:most])
