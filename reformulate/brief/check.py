"""What must be put right in a brief before it can be solved."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches
from math import isfinite

from reformulate.brief.brief import (
    ENERGY_FACTORS,
    BatchHold,
    Brief,
    CharacterHold,
    Goal,
    Hold,
    LineHold,
    Per,
    RatioHold,
    RoleHold,
    Swap,
    subject_of,
)
from reformulate.brief.groups import lines_in
from reformulate.errors import Problem
from reformulate.foods import CHARACTER, QUANTITY_INDEX
from reformulate.recipes import Recipe


def brief_problems(brief: Brief, recipe: Recipe) -> Iterator[Problem]:
    """Yield every problem of a brief as it stands beside its recipe."""
    yield from goal_problems(brief)
    for key in brief.shown:
        if key not in QUANTITY_INDEX:
            yield Problem("shown", f"found '{key}'.", _near(key, QUANTITY_INDEX))
    for number, hold in enumerate(brief.holds, start=1):
        yield from _hold_problems(f"hold {number}", hold, recipe)
    yield from _doubled_holds(brief)
    for number, swap in enumerate(brief.swaps, start=1):
        yield from _swap_problems(f"swap {number} ({swap.food})", swap, recipe)
    pinned = sum(swap.pinned and swap.allowed for swap in brief.swaps)
    if brief.max_swaps is not None and not pinned <= brief.max_swaps <= 999:
        least = f", {pinned} of which are pinned" if pinned else ""
        yield Problem(
            "max_swaps",
            f"found {brief.max_swaps}{least}.",
            f"Expected {pinned} or more, up to 999.",
        )
    if not _fraction(brief.swap_band):
        yield Problem("swap_band", f"found {brief.swap_band:g}.", "Expected 0 to 1.")


def goal_problems(brief: Brief) -> Iterator[Problem]:
    """Yield the problems of the goals alone: all that a moved handle can bring about."""
    seen: set[tuple[str, Per, int]] = set()
    for goal in brief.goals:
        yield from _goal_problems(goal)
        if (goal.nutrient, goal.per, goal.rank) in seen:
            yield Problem(
                f"goal on {goal.nutrient}",
                f"there are two goals per {goal.per}.",
                "Join them into one with at_least and at_most.",
            )
        seen.add((goal.nutrient, goal.per, goal.rank))


def _goal_problems(goal: Goal) -> Iterator[Problem]:
    where = f"goal on {goal.nutrient}"
    if goal.nutrient not in QUANTITY_INDEX:
        yield Problem(
            "goal, nutrient", f"found '{goal.nutrient}'.", _near(goal.nutrient, QUANTITY_INDEX)
        )
        return
    limits = [limit for limit in (goal.at_least, goal.at_most) if limit is not None]
    if not limits:
        yield Problem(where, "has no limit.", "Write at_least, at_most, or both.")
    for limit in limits:
        if not isfinite(limit) or limit < 0 or limit > 1e9:
            yield Problem(where, f"found the limit {limit:g}.", "Expected 0 or more, up to 1e9.")
    if goal.rank < 0 or goal.rank > 99:
        yield Problem(
            where, f"found the rank {goal.rank}.", "Expected 0 for a must, 1 to 99 for a wish."
        )
    if not (isfinite(goal.headroom) and 0 <= goal.headroom <= 0.5):
        yield Problem(where, f"found the headroom {goal.headroom:g}.", "Expected 0 to 0.5.")
    elif goal.headroom > 0 and (goal.lowest or 0.0) > (goal.highest or float("inf")):
        yield Problem(
            where, "its headroom leaves no room between its limits.", "Lower the headroom."
        )
    if goal.at_least is not None and goal.at_most is not None and goal.at_least > goal.at_most:
        yield Problem(
            where,
            f"asks for at least {goal.at_least:g} and at most {goal.at_most:g}.",
            "Lower the one or raise the other.",
        )
    if goal.per is Per.ENERGY and goal.nutrient not in ENERGY_FACTORS:
        yield Problem(
            where,
            "has no share of energy.",
            f"A share of energy can be asked of: {', '.join(ENERGY_FACTORS)}.",
        )


def _hold_problems(where: str, hold: Hold, recipe: Recipe) -> Iterator[Problem]:
    ids = {line.id for line in recipe.lines}
    match hold:
        case RatioHold():
            yield from _ratio_problems(where, hold, recipe)
        case LineHold(line=line, tolerance=tolerance, least=least, most=most):
            if line not in ids:
                yield Problem(f"{where}, line", f"found '{line}'.", _near(line, ids))
            if tolerance is not None and not _fraction(tolerance):
                yield Problem(f"{where}, tolerance", f"found {tolerance:g}.", "Expected 0 to 1.")
            for key, limit in (("least", least), ("most", most)):
                if limit is not None and not (isfinite(limit) and 0 <= limit <= 1e6):
                    yield Problem(
                        f"{where}, {key}", f"found {limit:g}.", "Expected grams, 0 to 1000000."
                    )
            if least is not None and most is not None and least > most:
                yield Problem(
                    f"{where} on {line}",
                    f"asks for at least {least:g} g and at most {most:g} g.",
                    "Lower the one or raise the other.",
                )
            if tolerance is None and least is None and most is None:
                yield Problem(
                    f"{where} on {line}", "holds nothing.", "Write tolerance, least or most."
                )
        case RoleHold(role=role, tolerance=tolerance):
            present = sorted({line.role for line in recipe.lines})
            if role not in present:
                yield Problem(
                    f"{where}, role",
                    f"found '{role}', which no line has.",
                    f"Expected one of: {', '.join(present)}.",
                )
            yield from _tolerance(where, tolerance)
        case BatchHold(tolerance=tolerance):
            yield from _tolerance(where, tolerance)
        case CharacterHold():
            yield from _character_problems(where, hold)


def _character_problems(where: str, hold: CharacterHold) -> Iterator[Problem]:
    known = [kind.key for kind in CHARACTER]
    if hold.quality not in known:
        yield Problem(f"{where}, quality", f"found '{hold.quality}'.", _near(hold.quality, known))
    if hold.tolerance is not None:
        yield from _tolerance(where, hold.tolerance)
    limits = (("at_least", hold.at_least), ("at_most", hold.at_most))
    for key, limit in limits:
        if limit is not None and not (isfinite(limit) and 0 <= limit <= 1e6):
            yield Problem(f"{where}, {key}", f"found {limit:g}.", "Expected 0 to 1000000.")
    if hold.at_least is not None and hold.at_most is not None and hold.at_least > hold.at_most:
        yield Problem(
            f"{where} on {hold.quality}",
            f"asks for at least {hold.at_least:g} and at most {hold.at_most:g}.",
            "Lower the one or raise the other.",
        )
    if hold.tolerance is None and hold.at_least is None and hold.at_most is None:
        yield Problem(
            f"{where} on {hold.quality}", "holds nothing.", "Write tolerance, at_least or at_most."
        )


def _ratio_problems(where: str, hold: RatioHold, recipe: Recipe) -> Iterator[Problem]:
    groups: list[frozenset[str]] = []
    for key, members in (("of", hold.of), ("to", hold.to)):
        found: frozenset[str] = frozenset()
        for member in members:
            lines = lines_in((member,), recipe)
            if not lines:
                known = {line.id for line in recipe.lines}
                known |= {f"role:{line.role}" for line in recipe.lines}
                yield Problem(f"{where}, {key}", f"found '{member}'.", _near(member, known))
            found |= lines
        if not members:
            yield Problem(f"{where}, {key}", "is empty.", "Name lines or roles, as in 'role:base'.")
        groups.append(found)
    shared = groups[0] & groups[1]
    if shared:
        yield Problem(
            where,
            f"holds '{', '.join(sorted(shared))}' against itself.",
            "Leave each line on one side of the ratio.",
        )
    if hold.ratio is not None and not (isfinite(hold.ratio) and 0 < hold.ratio <= 1e6):
        yield Problem(f"{where}, ratio", f"found {hold.ratio:g}.", "Expected more than 0.")
    yield from _tolerance(where, hold.tolerance)


def _doubled_holds(brief: Brief) -> Iterator[Problem]:
    seen: set[object] = set()
    for number, hold in enumerate(brief.holds, start=1):
        subject = subject_of(hold)
        if subject in seen:
            yield Problem(f"hold {number}", "holds what another hold holds.", "Keep one of them.")
        seen.add(subject)


def _swap_problems(where: str, swap: Swap, recipe: Recipe) -> Iterator[Problem]:
    ids = {line.id for line in recipe.lines}
    if not swap.stands_in_for:
        yield Problem(where, "stands in for nothing.", "Name at least one line in stands_in_for.")
    if len(set(swap.stands_in_for)) < len(swap.stands_in_for):
        yield Problem(f"{where}, stands_in_for", "names a line twice.", "Name each line once.")
    for line in swap.stands_in_for:
        if line not in ids:
            yield Problem(f"{where}, stands_in_for", f"found '{line}'.", _near(line, ids))
        elif recipe.line(line).food == swap.food:
            yield Problem(where, f"stands in for '{line}', the same food.", "Name another food.")
    if not (isfinite(swap.grams_per_gram) and 0 < swap.grams_per_gram <= 1e3):
        yield Problem(
            f"{where}, grams_per_gram", f"found {swap.grams_per_gram:g}.", "Expected more than 0."
        )
    if swap.least is not None and not (isfinite(swap.least) and 0 <= swap.least <= 1e6):
        yield Problem(f"{where}, least", f"found {swap.least:g}.", "Expected grams, 0 to 1000000.")
    if swap.pinned and not swap.allowed:
        yield Problem(where, "is pinned and not allowed.", "Allow it, or take the pin out.")
    if not (_fraction(swap.largest_share) and swap.largest_share > 0):
        yield Problem(
            f"{where}, largest_share",
            f"found {swap.largest_share:g}.",
            "Expected more than 0 and at most 1.",
        )


def _tolerance(where: str, tolerance: float) -> Iterator[Problem]:
    if not _fraction(tolerance):
        yield Problem(
            f"{where}, tolerance", f"found {tolerance:g}.", "Expected a fraction from 0 to 1."
        )


def _fraction(value: float) -> bool:
    return isfinite(value) and 0 <= value <= 1


def _near(word: str, known: object) -> str:
    choices = sorted(str(k) for k in known)  # type: ignore[attr-defined]
    near = get_close_matches(word, choices, n=1, cutoff=0.5)
    return f"Did you mean '{near[0]}'?" if near else f"Expected one of: {', '.join(choices)}."
