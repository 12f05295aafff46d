"""Random briefs with rules: swaps with a least amount, wishes, headroom, holds on character."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from reformulate import ENERGY_FACTORS, BatchHold, Brief, CharacterHold, Goal, Per, Recipe, Swap
from tests.optimise.plain_rules import LITTLE, finished_of_each, quantity_of_each
from tests.recipes.plain_sums import (
    item_foods,
    level_in,
    original_grams,
    tied_groups,
)
from tests.strategies import (
    ALL_KEYS,
    COMMON,
    SLACKS,
    Case,
    cases,
    fair_witness,
    goals_around,
    harsh_cases,
    moved_in,
    recipes,
)

SHARES = (Per.HUNDRED_GRAMS, Per.ENERGY)


@st.composite
def ruled_swaps(draw: st.DrawFn, recipe: Recipe, swaps: tuple[Swap, ...]) -> tuple[Swap, ...]:
    """The same swaps, some with a least amount of their own, some pinned."""
    found = []
    for swap in swaps:
        share = draw(st.sampled_from([None, None, 0.0, 0.2, 0.5, 1.0]))
        pinned = swap.allowed and share != 0.0 and draw(st.sampled_from([False] * 5 + [True]))
        found.append(
            replace(
                swap, least=None if share is None else share * most_of(recipe, swap), pinned=pinned
            )
        )
    return tuple(found)


@st.composite
def swap_cases(draw: st.DrawFn, *, harsh: bool = False, most_swaps: int = 5) -> Case:
    """Briefs made to be met with swaps, were it not for the rules; nobody knows whether they can be.

    Some grams use swaps by as much as may be; the goals are drawn around what these have.
    """
    recipe = draw(recipes(most=6))
    brief = Brief(swaps=draw(some_swaps(recipe, most_swaps)))
    grams = [
        float(line.grams or 0.0) * draw(st.sampled_from([0.4, 0.8, 1.0, 1.1]))
        for line in recipe.lines
    ]
    for swap in brief.swaps:
        share = draw(st.sampled_from([0.0, 0.05, 0.4, 1.0]))
        grams.append(share * most_of(recipe, swap))
    if not fair_witness(recipe, brief, grams):
        grams = original_grams(recipe, brief)
    moved, batch = moved_in(recipe, brief, grams)
    band = max(map(moved, tied_groups(recipe, brief)))
    goals = draw(goals_around(recipe, brief, grams))
    if harsh:
        goals = tuple(draw(harder(goal)) for goal in goals)
    swaps = draw(ruled_swaps(recipe, brief.swaps))
    pinned = sum(swap.pinned for swap in swaps)
    most = draw(st.sampled_from([None, None, 0, 1, 1, 2, 3]))
    brief = Brief(
        goals=goals,
        holds=(BatchHold(tolerance=batch + draw(SLACKS) / 4),),
        swaps=swaps,
        max_swaps=None if most is None else max(most, pinned),
        swap_band=min(1.0, band + draw(SLACKS)),
    )
    return Case(recipe=recipe, brief=brief, witness=None)


@st.composite
def some_swaps(draw: st.DrawFn, recipe: Recipe, most: int) -> tuple[Swap, ...]:
    used = {line.food for line in recipe.lines}
    others = st.sampled_from(ALL_KEYS).filter(lambda key: key not in used)
    ids = st.sampled_from([line.id for line in recipe.lines])
    return tuple(
        Swap(
            food=food,
            stands_in_for=tuple(draw(st.lists(ids, min_size=1, max_size=2, unique=True))),
            grams_per_gram=draw(st.sampled_from([0.5, 1.0, 1.0, 2.0])),
            largest_share=draw(st.sampled_from([0.25, 0.7, 1.0])),
        )
        for food in draw(st.lists(others, min_size=1, max_size=most, unique=True))
    )


def most_of(recipe: Recipe, swap: Swap) -> float:
    """Most grams of a swap that may be used."""
    stood_for = sum(float(recipe.line(name).grams or 0.0) for name in swap.stands_in_for)
    return swap.largest_share * swap.grams_per_gram * stood_for


@st.composite
def harder(draw: st.DrawFn, goal: Goal) -> Goal:
    by = draw(st.sampled_from([1.0, 1.0, 0.8, 0.4]))
    return replace(
        goal,
        at_least=None if goal.at_least is None or goal.at_most is not None else goal.at_least / by,
        at_most=None if goal.at_most is None else goal.at_most * by,
    )


def in_amounts(brief: Brief) -> Brief:
    """The brief without goals that are shares: what those miss is moved on as a share."""
    return replace(brief, goals=tuple(g for g in brief.goals if g.per not in SHARES))


@st.composite
def wishes_for(draw: st.DrawFn, case: Case, *, most: int = 4) -> tuple[Goal, ...]:
    """Wishes some of which can be met, by rank; several may share one."""
    recipe, brief = case.recipe, case.brief
    foods, start = item_foods(recipe, brief), original_grams(recipe, brief)
    found: dict[tuple[str, Per, int], Goal] = {}
    for key in draw(st.lists(st.sampled_from(COMMON), min_size=1, max_size=most)):
        per = draw(st.sampled_from([Per.SERVING, Per.SERVING, *Per]))
        if per is Per.ENERGY and key not in ENERGY_FACTORS:
            per = Per.HUNDRED_GRAMS
        value = level_in(recipe, foods, start, key, per)
        if not 1e-3 < value < 1e6 or not level_in(recipe, foods, start, key, Per.SERVING) > 1e-3:
            continue
        rank = draw(st.sampled_from([1, 1, 2, 5]))
        low, high = draw(
            st.sampled_from(
                [(None, 0.1), (None, 0.7), (None, 0.9), (1.1, None), (2.0, None), (0.95, 1.05)]
            )
        )
        found[key, per, rank] = Goal(
            nutrient=key,
            per=per,
            rank=rank,
            at_least=None if low is None else value * low,
            at_most=None if high is None else value * high,
        )
    return tuple(found.values())


@st.composite
def wish_cases(draw: st.DrawFn, *, harsh: bool = False) -> Case:
    """Briefs with wishes beside musts."""
    case = draw((harsh_cases if harsh else cases)(most_lines=8, most_swaps=3, most_goals=2))
    goals = (*case.brief.goals, *draw(wishes_for(case)))
    return replace(case, brief=replace(case.brief, goals=tuple(draw(st.permutations(goals)))))


@st.composite
def wish_and_swap_cases(draw: st.DrawFn) -> Case:
    """Briefs with wishes beside rules on swaps."""
    case = draw(swap_cases(most_swaps=3))
    goals = (*case.brief.goals, *draw(wishes_for(case)))
    return replace(case, brief=replace(case.brief, goals=goals))


@st.composite
def with_headroom(draw: st.DrawFn, case: Case) -> Case:
    """The same goals further out with headroom that brings them back in, to the rounding."""
    goals = []
    for goal in case.brief.goals:
        room = draw(st.sampled_from([0.0, 0.02, 0.05, 0.2]))
        low, high = goal.at_least, goal.at_most
        goals.append(
            replace(
                goal,
                at_least=None if low is None else low / (1 + room),
                at_most=None if high is None else high / (1 - room),
                headroom=room,
            )
        )
    return replace(case, brief=replace(case.brief, goals=tuple(goals)))


@st.composite
def character_holds(draw: st.DrawFn, case: Case) -> tuple[CharacterHold, ...]:
    """Holds on character that the case's witness keeps."""
    recipe, brief, grams = case.recipe, case.brief, case.witness
    assert grams is not None
    start = original_grams(recipe, brief)
    kept = finished_of_each(recipe, brief)
    found = []
    for quality in draw(st.lists(st.sampled_from(sorted(LITTLE)), max_size=3, unique=True)):
        each = quantity_of_each(recipe, brief, quality)
        before, now = (
            100
            * sum(c * g for c, g in zip(each, masses, strict=True))
            / sum(c * g for c, g in zip(kept, masses, strict=True))
            for masses in (start, grams)
        )
        if min(before, now) < 1e-3:
            continue
        slack = draw(st.sampled_from([0.001, 0.02, 0.1]))
        off = abs(now / before - 1)
        kind = draw(st.sampled_from(["tolerance", "least", "most", "both"]))
        if kind in ("tolerance", "both") and off + slack > 1:
            continue
        found.append(
            CharacterHold(
                quality=quality,
                tolerance=off + slack if kind in ("tolerance", "both") else None,
                at_least=now * (1 - slack) if kind in ("least", "both") else None,
                at_most=now * (1 + slack) if kind in ("most", "both") else None,
            )
        )
    return tuple(found)


@st.composite
def character_cases(draw: st.DrawFn) -> Case:
    """Briefs with holds on character that the witness meets."""
    case = draw(cases(most_lines=8, most_swaps=3, most_goals=2))
    holds = draw(character_holds(case))
    return replace(case, brief=replace(case.brief, holds=(*case.brief.holds, *holds)))
