"""An answer in plain words: one sentence for the state, one for each goal that falls short."""

from __future__ import annotations

import math

from reformulate.brief import Goal, Per
from reformulate.foods import quantity_named
from reformulate.optimise.answer import Answer, GoalResult, ItemAmount, Status
from reformulate.optimise.reach import Reach

MINUS = "−"


def quantity(value: float, key: str, per: Per, *, finer: int = 0) -> str:
    """Write a level with its unit: ``131 kcal``, ``24 %``; ``finer`` adds decimals [count]."""
    if per in (Per.ENERGY, Per.ORIGINAL):
        return f"{value:.{finer}f} %"
    kind = quantity_named(key)
    return f"{value:.{kind.decimals + finer}f} {kind.unit}".rstrip()


def limit_words(value: float, key: str, per: Per) -> str:
    """Write a limit without its unit, with every decimal it was given, three at most."""
    usual = 0 if per in (Per.ENERGY, Per.ORIGINAL) else quantity_named(key).decimals
    for decimals in range(usual, max(usual, 3) + 1):
        text = f"{value:.{decimals}f}"
        if abs(float(text) - value) <= 1e-9 * max(1.0, abs(value)):
            break
    return text


def reach_ends(reach: Reach, *, finer: int = 0) -> tuple[str, str]:
    """Write the ends of a reach without unit, rounded inwards: what is written can be had.

    ``finer`` adds decimals [count].
    """
    decimals = (
        0 if reach.per in (Per.ENERGY, Per.ORIGINAL) else quantity_named(reach.nutrient).decimals
    )
    decimals += finer
    step = 10.0**decimals
    low, high = reach.low, reach.high
    if math.isfinite(low):
        low = math.ceil(low * step - 1e-6) / step
    if math.isfinite(high):
        high = math.floor(high * step + 1e-6) / step
    if low > high:  # less room than the last digit shows
        low, high = reach.low, reach.high
    words = [f"{end:.{decimals}f}" if math.isfinite(end) else "no end" for end in (low, high)]
    return words[0], words[1]


def per_words(per: Per) -> str:
    """Say what a limit is measured against."""
    return {
        Per.SERVING: "per serving",
        Per.HUNDRED_GRAMS: "per 100 g",
        Per.ENERGY: "of the energy",
        Per.ORIGINAL: "of the original",
    }[per]


def goal_words(goal: Goal) -> str:
    """Say a goal: ``energy at most 130 kcal per serving``."""
    low, high = goal.at_least, goal.at_most
    name = quantity_named(goal.nutrient).spoken
    room = f", {goal.headroom * 100:g} % headroom" if goal.headroom else ""
    if low is not None and high is not None:
        limits = f"between {_limit(low, goal)} and {_limit(high, goal)}"
    elif low is not None:
        limits = f"at least {_limit(low, goal)}"
    else:
        limits = f"at most {_limit(high or 0.0, goal)}"
    return f"{name} {limits} {per_words(goal.per)}{room}"


def shortfall_words(result: GoalResult) -> str:
    """Say by how much a goal is missed: ``energy stays 12 kcal above 130 kcal per serving``."""
    goal = result.goal
    above = goal.highest is not None and result.level > goal.highest
    limit = goal.highest if above else goal.lowest
    side = "above" if above else "below"
    missed = _at_least_one_digit(result.misses_by, goal)
    wanted = _limit(limit or 0.0, goal)
    name = quantity_named(goal.nutrient).spoken
    return f"{name} stays {missed} {side} {wanted} {per_words(goal.per)}"


def state_sentence(answer: Answer) -> str:
    """Say in one or two sentences how an answer stands."""
    if answer.status is Status.CONFLICT and answer.measured and answer.optimum.relaxed is None:
        return _coarse_sentence(answer)
    if answer.status is Status.CONFLICT:
        return _conflict_sentence(answer)
    return " ".join([_met_sentence(answer), _change_sentence(answer)])


def unknown_sentence(answer: Answer) -> str:
    """Say which goals rest on totals with unknown figures; empty where none does."""
    doubtful = [result for result in answer.goals if result.at_least]
    return " ".join(
        f"{quantity_named(result.goal.nutrient).name} is at least what is shown: "
        f"not known for {_listed([spoken(name) for name in result.unknown])}."
        for result in doubtful
    )


def spoken(name: str) -> str:
    """Turn a table name into one for a sentence: ``Yogurt, strained`` to ``strained yogurt``."""
    return " ".join(reversed(name.lower().split(", ")))


def _met_sentence(answer: Answer) -> str:
    missed = [result for result in answer.goals if result.goal.is_wish and not result.met]
    met = [result for result in answer.goals if result.met]
    words = f"As near to its wishes as can be: {_listed([shortfall_words(r) for r in missed])}."
    if not missed:
        return _all_met(met)
    return f"{_all_met(met)} {words}" if met else words


def _all_met(met: list[GoalResult]) -> str:
    count = len(met)
    if count == 0:
        return "No goals yet."
    if count == 1:
        return f"Meets the goal: {goal_words(met[0].goal)}."
    return f"Meets {'both' if count == 2 else f'all {count}'} goals."


def _conflict_sentence(answer: Answer) -> str:
    missed = [
        shortfall_words(result)
        for result in answer.goals
        if not result.met and not result.goal.is_wish
    ]
    missed += [f"{hold.name} gives way by {_size(hold.gives)}" for hold in answer.holds]
    return f"Out of reach: {_listed(missed)}. This is the nearest answer."


def _coarse_sentence(answer: Answer) -> str:
    """Say what no spoons and cups can keep although grams can."""
    missed = [
        shortfall_words(result)
        for result in answer.goals
        if not result.met and not result.goal.is_wish
    ]
    names = _listed(list(answer.measured.in_the_way)) if answer.measured else ""
    words = _listed(missed) or f"{names} gives way"
    return f"Spoons and cups are too coarse: {words}. Exact grams keep everything."


def _change_sentence(answer: Answer) -> str:
    moved = [amount for amount in answer.amounts if amount.moved]
    lines = [amount for amount in moved if amount.line]
    swaps = [amount for amount in moved if amount.swap]
    if not moved:
        return "Nothing changes."
    parts = []
    if lines:
        most = max(lines, key=lambda amount: abs(amount.change))
        verb = "line changes" if len(lines) == 1 else "lines change"
        lead = "" if len(lines) == 1 else "most: "
        parts.append(f"{len(lines)} {verb}, {lead}{_short(most)} {percent_words(most.change)}")
    if swaps:
        names = _listed([spoken(amount.name) for amount in swaps])
        parts.append(f"swapped in: {names}")
    return "; ".join(parts) + "."


def _short(amount: ItemAmount) -> str:
    return amount.name.split(",")[0].lower()


def _limit(value: float, goal: Goal) -> str:
    unit = "%" if goal.per in (Per.ENERGY, Per.ORIGINAL) else quantity_named(goal.nutrient).unit
    return f"{limit_words(value, goal.nutrient, goal.per)} {unit}".rstrip()


def percent_words(change: float) -> str:
    """Write a relative change: ``−46 %``, ``+0.3 %``; never as nothing."""
    return f"{MINUS if change < 0 else '+'}{_size(abs(change))}"


def _size(fraction: float) -> str:
    """Write a fraction in percent, so that it never reads as nothing."""
    percent, digits = fraction * 100, 0 if fraction >= 0.01 else 1
    while fraction > 0 and float(f"{percent:.{digits}f}") == 0.0:
        digits += 1
    return f"{percent:.{digits}f} %"


def _at_least_one_digit(missed: float, goal: Goal) -> str:
    """Write a shortfall so that it never reads as nothing."""
    shares = (Per.ENERGY, Per.ORIGINAL)
    kind = quantity_named(goal.nutrient)
    unit = "percentage points" if goal.per in shares else kind.unit
    decimals = 0 if goal.per in shares else kind.decimals
    if not math.isfinite(missed):
        return "without end"
    while float(f"{missed:.{decimals}f}") == 0.0:
        decimals += 1
    text = f"{missed:.{decimals}f}"
    words = f"{text} {unit}".rstrip()
    return words.removesuffix("s" if text == "1" and goal.per in shares else "")


def _listed(words: list[str]) -> str:
    if len(words) <= 1:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"
