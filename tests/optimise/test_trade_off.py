"""The curve of a brief: every point keeps the rest of it, and nothing that can be had is beyond."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import (
    CHANGE,
    BadInput,
    BatchHold,
    Brief,
    Goal,
    LineHold,
    Manner,
    Optimiser,
    Per,
    RatioHold,
    Recipe,
    Status,
    Stopped,
    Swap,
    TradeOff,
    TradeOffPoint,
    Unbounded,
    more_is_better,
    trade_off,
    with_point,
)
from tests.optimise.dips import CREAMY, PAIR, answer
from tests.optimise.plain import PlainProblem, violation, write_out
from tests.recipes.plain_sums import FOODS, item_foods, level_in
from tests.strategies import COMMON, Case, cases, weighed

LIGHTER = Brief(
    goals=(
        Goal(nutrient="energy_kcal", at_most=150.0),
        Goal(nutrient="sodium_mg", at_most=110.0, per=Per.ORIGINAL),
    ),
    holds=(
        BatchHold(tolerance=0.02),
        RatioHold(of=("garlic",), to=("sour-cream",), tolerance=0.3),
        LineHold(line="mayonnaise", least=40.0),
    ),
    swaps=(
        Swap(food="yogurt-strained-nonfat", stands_in_for=("sour-cream",), least=0.0),
        Swap(food="mayonnaise-light", stands_in_for=("mayonnaise",), largest_share=0.5, least=0.0),
    ),
    swap_band=0.2,
)


def curve(recipe: Recipe, brief: Brief, first: str, second: str, **options: object) -> TradeOff:
    return trade_off(weighed(recipe), brief, FOODS, first, second, **options)  # type: ignore[arg-type]


def rest_of(recipe: Recipe, brief: Brief, *keys: str) -> PlainProblem:
    """The musts but those on given quantities, and the holds, written out plainly."""
    goals = tuple(goal for goal in brief.goals if goal.nutrient not in keys)
    return write_out(recipe, replace(brief, goals=goals))


def misses(problem: PlainProblem, grams: list[float]) -> float:
    """What amounts miss of all rows, each as a fraction of its size, and of the bounds [g]."""
    off = [
        max(low - mass, mass - high)
        for mass, (low, high) in zip(grams, problem.bounds, strict=True)
    ]
    return violation(problem, grams, len(problem.rows)) + max(0.0, *off)


def between(found: TradeOff, first: float) -> float:
    """The second quantity on the curve where the first has a value."""
    points = sorted(found.points, key=lambda point: point.first)
    return float(np.interp(first, [p.first for p in points], [p.second for p in points]))


def swept(recipe: Recipe, brief: Brief, found: TradeOff, limit: float) -> float:
    """The best the second can be where the first is kept to a limit, by the reach of the second."""
    side = "at_least" if found.first_more else "at_most"
    goals = tuple(g for g in brief.goals if g.nutrient not in (found.first, found.second))
    goal = Goal(nutrient=found.first, per=found.per, **{side: limit})  # type: ignore[arg-type]
    asked = replace(brief, goals=(*goals, goal), shown=(found.second,), shown_per=found.per)
    reach = Optimiser(weighed(recipe), asked, FOODS).answer(asked).reach_of(found.second)
    assert reach is not None
    return reach.high if found.second_more else reach.low


def assert_is_the_front(recipe: Recipe, brief: Brief, found: TradeOff) -> None:
    """Falling and bent one way, every point within the rest of the brief, and as a sweep has it."""
    problem = rest_of(recipe, brief, found.first, found.second)
    foods = item_foods(recipe, brief)
    at = np.array([(point.first, point.second) for point in found.points])
    for point in found.points:
        grams = point.grams.tolist()
        assert misses(problem, grams) <= 1e-6
        for key, value in ((found.first, point.first), (found.second, point.second)):
            assert value == pytest.approx(
                level_in(recipe, foods, grams, key, found.per), rel=1e-9, abs=1e-9
            )
    worse = at * np.where([found.first_more, found.second_more], -1.0, 1.0)
    assert np.all(np.diff(worse[:, 0]) > 0)
    assert np.all(np.diff(worse[:, 1]) < 0)
    if len(at) > 1:
        assert np.all(np.diff(np.diff(worse[:, 1]) / np.diff(worse[:, 0])) > 0)
    size = float(np.abs(at[:, 1]).max())
    for share in (0.0, 0.13, 0.5, 0.77, 1.0):
        limit = float(at[0, 0] + share * (at[-1, 0] - at[0, 0]))
        limit += 1e-9 * abs(limit) * (-1 if found.first_more else 1)  # the end itself may be lost
        assert swept(recipe, brief, found, limit) == pytest.approx(
            between(found, limit), rel=1e-6, abs=1e-6 * max(size, 1.0)
        )


@pytest.mark.parametrize("per", [Per.SERVING, Per.HUNDRED_GRAMS])
@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("energy_kcal", "protein_g"),
        ("protein_g", "energy_kcal"),
        ("sodium_mg", "calcium_mg"),
        ("saturated_g", "sodium_mg"),
        ("protein_g", "fat_g"),
    ],
)
def test_the_curve_of_a_dip_is_what_a_sweep_of_goals_finds(
    first: str, second: str, per: Per
) -> None:
    found = curve(CREAMY, LIGHTER, first, second, per=per)
    assert len(found.points) > 1
    assert found.exact
    assert_is_the_front(CREAMY, LIGHTER, found)


@given(cases(most_lines=8, most_swaps=3), st.data())
def test_the_curve_of_any_brief_keeps_the_rest_of_it(case: Case, data: st.DataObject) -> None:
    first, second = data.draw(
        st.lists(st.sampled_from(COMMON), min_size=2, max_size=2, unique=True)
    )
    per = data.draw(st.sampled_from([Per.SERVING, Per.HUNDRED_GRAMS]))
    problem = rest_of(case.recipe, case.brief, first, second)
    found = curve(case.recipe, case.brief, first, second, per=per)
    assert found.points
    foods = item_foods(case.recipe, case.brief)
    for point in found.points:
        grams = point.grams.tolist()
        assert misses(problem, grams) <= 1e-6
        for key, value in ((first, point.first), (second, point.second)):
            told = level_in(case.recipe, foods, grams, key, per)
            assert value == pytest.approx(told, rel=1e-8, abs=1e-8)
    assert case.witness is not None
    known = [level_in(case.recipe, foods, list(case.witness), key, per) for key in (first, second)]
    assert np.isfinite(known).all()
    signs = np.where([found.first_more, found.second_more], -1.0, 1.0)
    at = np.array([(point.first, point.second) for point in found.points]) * signs
    one, other = np.array(known) * signs
    # What is known to keep the musts is on the curve or on its worse side.
    size = np.abs(at).max(axis=0) + 1.0
    assert one >= at[0, 0] - 1e-6 * size[0]
    assert other >= float(np.interp(one, at[:, 0], at[:, 1])) - 1e-6 * size[1]


@pytest.mark.parametrize("key", ["energy_kcal", "protein_g", "sodium_mg"])
def test_the_curve_against_change_is_the_closest_answer_at_each_level(key: str) -> None:
    found = curve(CREAMY, LIGHTER, key, CHANGE)
    problem = rest_of(CREAMY, LIGHTER, key)
    assert len(found.points) > 2
    for point in found.points:
        assert misses(problem, point.grams.tolist()) <= 1e-6
        assert 100 * problem.changes(point.grams) == pytest.approx(point.second, abs=1e-6)
    ends = found.points[0].first, found.points[-1].first
    side = "at_least" if found.first_more else "at_most"
    for share in (0.03, 0.2, 0.4, 0.6, 0.8, 0.97):
        limit = float(ends[0] + share * (ends[1] - ends[0]))
        asked = LIGHTER.with_goal(Goal(nutrient=key, **{side: limit}))  # type: ignore[arg-type]
        closest = answer(CREAMY, asked)
        assert closest.status is Status.OPTIMAL
        assert 100 * closest.changes == pytest.approx(between(found, limit), rel=1e-5, abs=1e-4)


def test_change_first_turns_the_curve_round() -> None:
    one = curve(CREAMY, LIGHTER, "energy_kcal", CHANGE)
    other = curve(CREAMY, LIGHTER, CHANGE, "energy_kcal")
    turned = [(point.second, point.first) for point in other.points[::-1]]
    assert [(point.first, point.second) for point in one.points] == [
        pytest.approx(place, rel=1e-7, abs=1e-6) for place in turned
    ]


def test_two_lines_and_a_held_batch_worked_by_hand() -> None:
    # s of sour cream and 300 - s of yogurt: one straight line, from all yogurt to all sour cream.
    held = Brief(holds=(BatchHold(tolerance=0.0),))
    found = curve(PAIR, held, "energy_kcal", "fat_g", more=["fat_g"])
    creams = [FOODS.values[FOODS.index(line.food)] for line in PAIR.lines]
    assert [(point.first, point.second) for point in found.points] == [
        pytest.approx((3 * food[1] / 4, 3 * food[3] / 4)) for food in creams[::-1]
    ]
    assert [point.grams.tolist() for point in found.points] == [
        pytest.approx([0.0, 300.0]),
        pytest.approx([300.0, 0.0]),
    ]
    assert found.original == pytest.approx([(2 * creams[0][i] + creams[1][i]) / 4 for i in (1, 3)])
    assert found.knee is None


@pytest.mark.parametrize(
    ("first", "second"), [("energy_kcal", "protein_g"), ("energy_kcal", CHANGE)]
)
def test_a_loaded_point_is_met_and_is_as_good_as_the_point(first: str, second: str) -> None:
    found = curve(CREAMY, LIGHTER, first, second)
    for point in found.points:
        loaded = with_point(LIGHTER, found, point)
        there = answer(CREAMY, loaded)
        assert there.status is Status.OPTIMAL
        for key, value, more in (
            (first, point.first, found.first_more),
            (second, point.second, found.second_more),
        ):
            if key == CHANGE:
                continue
            got = level_in(
                CREAMY, item_foods(CREAMY, LIGHTER), there.exact.tolist(), key, Per.SERVING
            )
            step = 1.0 if key == "energy_kcal" else 0.1
            assert got >= value - step - 1e-6 if more else got <= value + step + 1e-6


def test_a_loaded_point_keeps_every_other_goal_and_says_which_way() -> None:
    found = curve(CREAMY, LIGHTER, "energy_kcal", "protein_g", per=Per.HUNDRED_GRAMS)
    place = TradeOffPoint(
        first=131.2, second=4.77, grams=found.points[0].grams, keeps_swap_rules=True
    )
    loaded = with_point(LIGHTER, found, place)
    assert loaded.goal_on("energy_kcal") == Goal(
        nutrient="energy_kcal", at_most=132.0, per=Per.HUNDRED_GRAMS
    )
    assert loaded.goal_on("protein_g") == Goal(
        nutrient="protein_g", at_least=4.7, per=Per.HUNDRED_GRAMS
    )
    assert loaded.goal_on("sodium_mg") == LIGHTER.goal_on("sodium_mg")


def test_goals_on_the_two_themselves_and_the_manner_do_not_matter() -> None:
    plain = curve(CREAMY, LIGHTER, "energy_kcal", "protein_g")
    asked = replace(
        LIGHTER.with_goal(Goal(nutrient="energy_kcal", at_most=1.0)), manner=Manner.GENTLEST
    )
    other = curve(CREAMY, asked, "energy_kcal", "protein_g")
    assert [(p.first, p.second) for p in plain.points] == [
        pytest.approx((p.first, p.second)) for p in other.points
    ]


def test_a_goal_says_which_way_is_better_and_common_sense_where_there_is_none() -> None:
    salty = Brief(goals=(Goal(nutrient="sodium_mg", at_least=200.0),))
    assert more_is_better("sodium_mg", salty)
    assert not more_is_better("sodium_mg", Brief())
    assert more_is_better("protein_g", Brief())
    both = Brief(goals=(Goal(nutrient="protein_g", at_least=5.0, at_most=6.0),))
    assert more_is_better("protein_g", both)


def test_wishes_are_left_aside_and_that_is_said() -> None:
    wish = Goal(nutrient="fat_g", at_most=1.0, rank=1)
    asked = replace(LIGHTER, goals=(*LIGHTER.goals, wish))
    found = curve(CREAMY, asked, "energy_kcal", "protein_g")
    assert not found.exact
    assert found.notes == ("Wishes are left aside.",)
    plain = curve(CREAMY, LIGHTER, "energy_kcal", "protein_g")
    assert len(found.points) == len(plain.points)


def test_points_that_use_too_little_of_a_swap_are_told() -> None:
    swaps = tuple(replace(swap, least=30.0) for swap in LIGHTER.swaps)
    asked = replace(LIGHTER, swaps=swaps, max_swaps=1)
    found = curve(CREAMY, asked, "energy_kcal", "protein_g")
    foods = len(CREAMY.lines)
    for point in found.points:
        used = point.grams[foods:][point.grams[foods:] > 1e-6]
        assert point.keeps_swap_rules == (len(used) <= 1 and bool((used >= 30.0 - 1e-6).all()))
    loose = sum(not point.keeps_swap_rules for point in found.points)
    assert loose
    assert any(f"{loose} of the {len(found.points)} points" in note for note in found.notes)


def test_musts_in_conflict_leave_no_point() -> None:
    asked = replace(LIGHTER, goals=(Goal(nutrient="sodium_mg", at_most=1.0),))
    found = curve(CREAMY, asked, "energy_kcal", "protein_g")
    assert found.points == ()
    assert found.knee is None


def test_a_batch_that_is_free_has_no_end() -> None:
    with pytest.raises(Unbounded) as caught:
        curve(CREAMY, Brief(), "protein_g", "energy_kcal")
    assert caught.value.objective == 0


@pytest.mark.parametrize(
    ("first", "second", "per", "told"),
    [
        ("energy_kcal", "energy_kcal", Per.SERVING, "given twice"),
        ("taste", "energy_kcal", Per.SERVING, "found 'taste'"),
        ("energy_kcal", CHANGE, Per.HUNDRED_GRAMS, "change has no figure per 100 g"),
        ("energy_kcal", "protein_g", Per.ENERGY, "cannot be per energy"),
    ],
)
def test_what_cannot_be_traded_off_is_refused(first: str, second: str, per: Per, told: str) -> None:
    with pytest.raises(BadInput, match=told):
        curve(CREAMY, LIGHTER, first, second, per=per)


def test_work_given_up_stops_at_once() -> None:
    asked: list[float] = []

    def progress(fraction: float) -> bool:
        asked.append(fraction)
        return len(asked) < 4

    with pytest.raises(Stopped):
        curve(CREAMY, LIGHTER, "energy_kcal", "protein_g", progress=progress)
    assert 0.0 <= min(asked) <= max(asked) < 1.0
