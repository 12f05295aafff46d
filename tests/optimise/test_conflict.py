"""Where the musts conflict: the least that gives way, the nearest answer, and what is said."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import (
    Answer,
    BadInput,
    BatchHold,
    Brief,
    Goal,
    Line,
    LineHold,
    Per,
    RatioHold,
    Recipe,
    RoleHold,
    Status,
    state_sentence,
)
from tests.optimise.dips import PAIR, answer
from tests.optimise.plain import goal_row_count, violation, write_out
from tests.optimise.plain_solvers import least_violation
from tests.recipes.plain_sums import brought_by_a_gram, item_foods, level_in, original_grams
from tests.strategies import Case, asked, cases, harsh_cases

ENERGY = "energy_kcal"
ROUNDING = 0.002
"""How much more of its size a goal that gives way may be missed by for a weighable amount."""


SHARES = (Per.HUNDRED_GRAMS, Per.ENERGY)


@given(harsh_cases())
def test_what_gives_way_is_the_least_an_elastic_program_finds(case: Case) -> None:
    amounts = tuple(goal for goal in case.brief.goals if goal.per not in SHARES)
    brief = replace(case.brief, goals=amounts)
    found = answer(case.recipe, brief)
    problem, goals = write_out(case.recipe, brief), goal_row_count(brief)
    least = least_violation(problem, goals)
    assert least is not None
    assert violation(problem, found.exact, goals) == pytest.approx(least, rel=1e-6, abs=1e-6)
    shown = violation(problem, found.grams, goals)
    assert shown <= least + goals * ROUNDING + 1e-6
    # A goal is met to a millionth of its limit.
    assert found.status is Status.CONFLICT or shown < 1e-5
    assert found.status is Status.OPTIMAL or shown > 0.0


@given(harsh_cases())
def test_beside_shares_too_no_more_gives_way_than_has_to(case: Case) -> None:
    """A share that gives is brought nearer as a share; nothing else gives more for its sake."""
    found = answer(case.recipe, case.brief)
    problem, goals = write_out(case.recipe, case.brief), goal_row_count(case.brief)
    least = least_violation(problem, goals)
    assert least is not None
    amounts = tuple(goal for goal in case.brief.goals if goal.per not in SHARES)
    only = write_out(case.recipe, replace(case.brief, goals=amounts))
    assert violation(only, found.exact, len(amounts)) <= least + 1e-6
    assert found.status is Status.CONFLICT or least < 1e-5
    assert found.status is Status.OPTIMAL or least > 0.0


@given(cases())
def test_nothing_gives_way_where_all_can_be_kept(case: Case) -> None:
    found = answer(case.recipe, case.brief)
    problem, goals = write_out(case.recipe, case.brief), goal_row_count(case.brief)
    assert least_violation(problem, goals) == pytest.approx(0.0, abs=1e-9)
    assert violation(problem, found.exact, goals) == pytest.approx(0.0, abs=1e-8)
    assert violation(problem, found.grams, goals) == pytest.approx(0.0, abs=1e-8)


def unseen(case: Case, grams: list[float], key: str) -> float:
    """What solvers do not see of a sum, as a fraction of it: beside soy sauce a little sodium is dust.

    Ten times their tolerance of a billionth of the largest change that an item brings.
    """
    unit = write_out(case.recipe, case.brief).unit
    foods = item_foods(case.recipe, case.brief)
    lines = [*case.recipe.lines, *[None] * (len(foods) - len(case.recipe.lines))]
    each = [brought_by_a_gram(case.recipe, *item, key) for item in zip(lines, foods, strict=True)]
    largest = max(abs(brings) * size for brings, size in zip(each, unit, strict=True))
    return 1e-8 * largest / sum(b * mass for b, mass in zip(each, grams, strict=True))


@given(asked(most_goals=0), st.booleans())
def test_a_goal_alone_gets_as_far_as_its_reach(drawn: tuple[Case, str, Per], is_low: bool) -> None:
    case, key, per = drawn
    foods, start = item_foods(case.recipe, case.brief), original_grams(case.recipe, case.brief)
    brief = case.brief.with_goal(Goal(nutrient=key, per=per, at_least=0.0))
    reach = answer(case.recipe, brief).reach_of(key)
    assert reach is not None
    is_low = is_low and reach.low > 0.01  # nothing is less than nothing
    end = reach.low if is_low else reach.high
    goal = Goal(nutrient=key, per=per)
    goal = replace(goal, at_most=0.7 * end) if is_low else replace(goal, at_least=1.3 * end)
    found = answer(case.recipe, brief.with_goal(goal))
    assert found.status is Status.CONFLICT
    grams = found.exact.tolist()
    reached = level_in(case.recipe, foods, grams, key, per)
    assert reached == pytest.approx(
        end, rel=1e-6, abs=max(1e-6, unseen(case, grams, key) * reached)
    )
    shown = level_in(case.recipe, foods, found.grams.tolist(), key, per)
    if per in SHARES:
        return  # the room for rounding is one in amounts
    original = level_in(case.recipe, foods, start, key, per)
    size = max((goal.at_most if is_low else goal.at_least) or 0.0, 0.05 * original)
    assert abs(shown - end) <= ROUNDING * size + 1e-6


def test_a_conflict_by_hand() -> None:
    # 300 g of two creams held exactly, 4 servings: all yogurt has 59 kcal per 100 g (NDB 01256,
    # SR28), 44.25 kcal a serving; 30 is asked.
    goal = Goal(nutrient=ENERGY, at_most=30.0)
    found = answer(PAIR, Brief(goals=(goal,), holds=(BatchHold(tolerance=0.0),)))
    assert found.status is Status.CONFLICT
    assert found.grams.tolist() == [0.0, 300.0]
    (result,) = found.goals
    assert result.level == pytest.approx(44.25)
    assert result.misses_by == pytest.approx(14.25)
    assert found.holds == ()
    assert state_sentence(found) == (
        "Out of reach: energy stays 14 kcal above 30 kcal per serving. This is the nearest answer."
    )


def test_a_goal_that_asks_for_too_much_stays_below() -> None:
    # All sour cream has 9.675 g of fat in 50 g (19.35 g per 100 g, NDB 01056, SR28): 15 g asked,
    # 14.5125 g to be had.
    goal = Goal(nutrient="fat_g", at_least=15.0)
    found = answer(PAIR, Brief(goals=(goal,), holds=(BatchHold(tolerance=0.0),)))
    assert found.grams.tolist() == [300.0, 0.0]
    assert state_sentence(found) == (
        "Out of reach: fat stays 0.5 g below 15.0 g per serving. This is the nearest answer."
    )


def test_all_shortfalls_are_listed() -> None:
    goals = (
        Goal(nutrient=ENERGY, at_most=30.0),
        Goal(nutrient="protein_g", at_least=9.0),
        Goal(nutrient="fat_g", at_most=60.0, per=Per.ORIGINAL),
    )
    found = answer(PAIR, Brief(goals=goals, holds=(BatchHold(tolerance=0.0),)))
    assert state_sentence(found) == (
        "Out of reach: energy stays 14 kcal above 30 kcal per serving and protein stays 1.4 g "
        "below 9.0 g per serving. This is the nearest answer."
    )
    assert [result.met for result in found.goals] == [False, False, True]


def test_goals_give_way_before_holds() -> None:
    goal = Goal(nutrient=ENERGY, at_most=10.0)
    holds = (BatchHold(tolerance=0.0), LineHold(line="sour-cream", least=150.0))
    found = answer(PAIR, Brief(goals=(goal,), holds=holds))
    assert found.status is Status.CONFLICT
    assert found.holds == ()
    assert found.grams.tolist() == [150.0, 150.0]


def test_among_conflicting_goals_the_sum_of_what_each_gives_is_least() -> None:
    # At most 60 kcal, at least 12 g of fat: what counts is each miss as a share of its limit, so
    # that one of the two is kept whole.
    goals = (Goal(nutrient=ENERGY, at_most=60.0), Goal(nutrient="fat_g", at_least=12.0))
    found = answer(PAIR, Brief(goals=goals, holds=(BatchHold(tolerance=0.0),)))
    misses = [result.misses_by for result in found.goals]
    energy = {m: (1.98 * m + 0.59 * (300 - m)) / 4 for m in range(301)}
    fat = {m: (0.1935 * m + 0.0039 * (300 - m)) / 4 for m in range(301)}
    best = min(max(0.0, energy[m] - 60) / 60 + max(0.0, 12 - fat[m]) / 12 for m in range(301))
    assert misses[0] / 60 + misses[1] / 12 == pytest.approx(best, abs=0.01)


def test_a_line_that_cannot_fit_makes_the_batch_give_way() -> None:
    holds = (BatchHold(tolerance=0.0), LineHold(line="sour-cream", least=450.0))
    found = answer(PAIR, Brief(holds=holds))
    assert found.status is Status.CONFLICT
    assert found.grams.tolist() == [450.0, 0.0]
    (short,) = found.holds
    assert short.name == "batch size"
    assert short.gives == pytest.approx(0.5, abs=1e-6)
    told = state_sentence(found)
    assert told.startswith("Out of reach: batch size gives way by 50")
    assert told.endswith("This is the nearest answer.")


def test_when_holds_give_way_the_goals_that_can_be_met_are() -> None:
    holds = (BatchHold(tolerance=0.0), LineHold(line="sour-cream", least=450.0))
    goals = (
        Goal(nutrient=ENERGY, at_most=450 * 1.98 / 4 + 1.0),
        Goal(nutrient="protein_g", at_most=100.0),
    )
    found = answer(PAIR, Brief(goals=goals, holds=holds))
    assert found.status is Status.CONFLICT
    assert all(result.met for result in found.goals)


def test_reach_in_a_conflict_is_that_beside_the_limits_that_gave_way() -> None:
    goal = Goal(nutrient=ENERGY, at_most=30.0)
    found = answer(PAIR, Brief(goals=(goal,), holds=(BatchHold(tolerance=0.0),)))
    energy, fat = found.reach_of(ENERGY), found.reach_of("fat_g")
    assert energy is not None
    assert fat is not None
    assert (energy.low, energy.high) == pytest.approx((44.25, 148.5))
    assert fat.low == pytest.approx(fat.high, abs=1e-6)  # the energy as low as it gets: all yogurt


def circle(*holds: BatchHold | RoleHold) -> Answer:
    """Ask for a twice b, b twice c, c twice a."""
    recipe = Recipe(
        title="t",
        servings=4,
        lines=(
            Line(id="a", food="sour-cream", grams=100.0),
            Line(id="b", food="yogurt-strained-nonfat", grams=100.0),
            Line(id="c", food="cheddar", grams=100.0),
        ),
    )
    ratios = tuple(
        RatioHold(of=(of,), to=(to,), ratio=2.0, tolerance=0.0) for of, to in ("ab", "bc", "ca")
    )
    return answer(recipe, Brief(holds=(*holds, *ratios)))


def test_ratios_in_a_circle_are_a_conflict_that_says_what_gives_way() -> None:
    found = circle(BatchHold(tolerance=0.0))
    assert found.status is Status.CONFLICT
    assert found.holds
    assert "gives way by" in state_sentence(found)
    assert found.certificate.holds


@given(cases(most_goals=2), st.floats(1.5, 10))
def test_holds_that_conflict_always_end_in_an_answer(case: Case, times: float) -> None:
    recipe = case.recipe
    ids = [line.id for line in recipe.lines]
    ring = zip(ids, [*ids[1:], ids[0]], strict=True)
    holds = tuple(RatioHold(of=(of,), to=(to,), ratio=times, tolerance=0.0) for of, to in ring)
    if len(ids) == 2:
        holds = (*holds[:1], RoleHold(role="base", tolerance=0.0))
    brief = replace(case.brief, holds=(BatchHold(tolerance=0.0), *holds))
    found = answer(recipe, brief)
    assert (found.status is Status.CONFLICT) or not found.holds
    if len(ids) > 2:
        assert found.holds
    assert all(hold.gives > 0 for hold in found.holds)


@given(
    asked(most_goals=2, pers=(Per.SERVING,)),
    st.sampled_from([1e-12, 1e-11, 1e-10, 1e-9, 1e-8]),
    st.sampled_from([-1, 1]),
)
def test_a_goal_a_hair_beyond_its_reach_ends_in_an_answer(
    drawn: tuple[Case, str, Per], hair: float, side: int
) -> None:
    case, key, _ = drawn
    brief = case.brief.with_goal(Goal(nutrient=key, at_least=0.0))
    reach = answer(case.recipe, brief).reach_of(key)
    assert reach is not None
    if reach.low > 0.01:
        goal = Goal(nutrient=key, at_most=reach.low * (1 + side * hair))
    else:
        goal = Goal(nutrient=key, at_least=reach.high * (1 + side * hair))
    found = answer(case.recipe, brief.with_goal(goal))
    assert found.certificate.holds


def test_a_goal_a_hair_beyond_its_reach_by_example() -> None:
    recipe = Recipe(
        title="t",
        servings=8,
        lines=(
            Line(id="cheddar", food="cheddar", grams=300.0),
            Line(id="cream-cheese", food="cream-cheese", grams=120.0, role="flavouring"),
        ),
    )
    held = Brief(holds=(BatchHold(tolerance=0.0),))
    reach = answer(recipe, held).reach_of("fat_g")
    assert reach is not None
    for hair in (1e-11, 1e-10, 1e-9):
        goal = Goal(nutrient="fat_g", at_most=reach.low * (1 - hair))
        assert answer(recipe, held.with_goal(goal)).certificate.holds


def test_limits_on_one_nutrient_in_two_units_that_contradict_are_a_conflict() -> None:
    goals = (
        Goal(nutrient=ENERGY, at_least=110.0),
        Goal(nutrient=ENERGY, at_most=50.0, per=Per.ORIGINAL),
    )
    found = answer(PAIR, Brief(goals=goals, holds=(BatchHold(),)))
    assert found.status is Status.CONFLICT
    assert not all(result.met for result in found.goals)


def test_a_lock_that_contradicts_a_range_is_refused_in_words() -> None:
    hold = LineHold(line="sour-cream", tolerance=0.0, least=400.0)
    with pytest.raises(BadInput) as caught:
        answer(PAIR, Brief(holds=(hold,)))
    assert str(caught.value) == (
        "hold on sour-cream: asks for at least 400 g and at most 200 g, its tolerance counted. "
        "Loosen its tolerance or its range."
    )


def test_a_goal_per_100_g_alone_gets_as_far_as_its_reach() -> None:
    # With at least 100 g of the 198 kcal cream in 300 g +- 10 %, 330 g reach the least per 100 g.
    goal = Goal(nutrient=ENERGY, at_most=40.0, per=Per.HUNDRED_GRAMS)
    holds = (BatchHold(tolerance=0.1), LineHold(line="sour-cream", least=100.0))
    found = answer(PAIR, Brief(goals=(goal,), holds=holds))
    least = (198 + 2.3 * 59) / 3.3
    reach = found.reach_of(ENERGY)
    assert reach is not None
    assert reach.low == pytest.approx(least)
    assert found.status is Status.CONFLICT
    assert found.goals[0].level == pytest.approx(least, abs=0.2)
