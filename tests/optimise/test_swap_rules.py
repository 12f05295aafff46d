"""A swap is left out or used enough, no more swaps are used than allowed, and no choice is better."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reformulate import (
    BatchHold,
    Brief,
    Goal,
    LineHold,
    Manner,
    Optimiser,
    Status,
    Swap,
)
from tests.optimise.dips import CREAMY, answer, grams_of
from tests.optimise.plain_rules import write_rules
from tests.optimise.plain_solvers import least_violation
from tests.optimise.plain import goal_row_count, violation
from tests.optimise.rule_cases import in_amounts, swap_cases
from tests.optimise.rule_solvers import (
    gentlest,
    least_by_cbc,
    least_by_milp,
    least_by_trying_all,
)
from tests.optimise.test_gentlest import largest
from tests.optimise.test_history import assert_same, moved
from tests.recipes.plain_sums import FOODS
from tests.strategies import Case, weighed

YOGURT = "yogurt-strained-nonfat"
FEW = settings(max_examples=max(5, settings().max_examples // 2))
"""For what starts a process of its own, or tries every set of swaps several times."""


def close(value: float) -> object:
    return pytest.approx(value, rel=1e-6, abs=1e-6)


@given(swap_cases() | swap_cases(harsh=True))
def test_a_swap_is_left_out_or_used_enough_and_no_more_are_used_than_allowed(case: Case) -> None:
    found = answer(case.recipe, case.brief)
    rules = write_rules(case.recipe, case.brief)
    assert rules.broken(found.exact.tolist()) == []
    assert rules.broken(found.grams.tolist()) == []
    assert found.certificate.holds


@given(swap_cases())
def test_no_choice_of_swaps_is_closer_says_scipy(case: Case) -> None:
    found = answer(case.recipe, case.brief)
    rules = write_rules(case.recipe, case.brief)
    least = least_by_milp(rules)
    assert (found.status is Status.OPTIMAL) == (least is not None)
    if least is not None:
        assert rules.musts.worst(found.exact) <= 1e-7
        assert rules.musts.changes(found.exact) == close(least)


@given(swap_cases())
@FEW
def test_no_choice_of_swaps_is_closer_says_cbc(case: Case) -> None:
    found = answer(case.recipe, case.brief)
    rules = write_rules(case.recipe, case.brief)
    least = least_by_cbc(rules)
    assert (found.status is Status.OPTIMAL) == (least is not None)
    if least is not None:
        assert rules.musts.changes(found.exact) == close(least)


@given(swap_cases() | swap_cases(harsh=True))
@FEW
def test_no_choice_of_swaps_is_closer_by_trying_all(case: Case) -> None:
    found = answer(case.recipe, case.brief)
    rules = write_rules(case.recipe, case.brief)
    least = least_by_trying_all(rules)
    assert (found.status is Status.OPTIMAL) == (least is not None)
    if least is not None:
        assert rules.musts.changes(found.exact) == close(least)


@given(swap_cases(harsh=True, most_swaps=3))
@FEW
def test_in_a_conflict_no_choice_of_swaps_comes_nearer(case: Case) -> None:
    brief = in_amounts(case.brief)
    found = answer(case.recipe, brief)
    rules, goals = write_rules(case.recipe, brief), goal_row_count(brief)
    tried = [least_violation(rules.under(used), goals) for used in rules.patterns()]
    can = [missed for missed in tried if missed is not None]
    if not can:  # the holds conflict among themselves
        assert found.holds
        return
    assert violation(rules.musts, found.exact, goals) == close(min(can))


@given(swap_cases(most_swaps=3))
@FEW
def test_no_choice_of_swaps_is_gentler(case: Case) -> None:
    brief = replace(case.brief, manner=Manner.GENTLEST)
    found = answer(case.recipe, brief)
    rules = write_rules(case.recipe, brief)
    tried = [gentlest(rules.under(used)) for used in rules.patterns()]
    can = [costs for costs in tried if costs is not None]
    assert (found.status is Status.OPTIMAL) == bool(can)
    if not can:
        return
    least, then = min(can)
    assert rules.broken(found.exact.tolist()) == []
    assert largest(rules.musts, found.exact.tolist()) == pytest.approx(least, rel=1e-5, abs=1e-5)
    # Only of equals in the first the sums compare; the first is known to 1e-9, at a price.
    assert rules.musts.changes(found.exact) <= then + 1e-4


@given(
    swap_cases() | swap_cases(harsh=True),
    st.lists(st.sampled_from([0.2, 0.6, 0.9, 1.0, 1.3]), min_size=1, max_size=3),
)
def test_what_was_asked_before_does_not_change_the_choice(case: Case, before: list[float]) -> None:
    batch = weighed(case.recipe)
    optimiser = Optimiser(batch, moved(case.brief, 0.7), FOODS)
    for factor in before:
        optimiser.answer(moved(case.brief, factor))
    assert_same(
        optimiser.answer(case.brief), Optimiser(batch, case.brief, FOODS).answer(case.brief)
    )


LOCKED = tuple(LineHold(line=line.id, tolerance=0.0) for line in CREAMY.lines[1:])
"""All but the sour cream, 240 g of it."""


def exchanging(fat: float, *swaps: Swap, **options: object) -> Brief:
    """Sour cream may be exchanged for swaps, gram for gram, and nothing else may move.

    A serving has 25.79 g of fat; each gram of sour cream less takes 0.0242 g (19.35 g per 100 g,
    NDB 01056, SR28; 8 servings).
    """
    goals = (Goal(nutrient="fat_g", at_most=fat),)
    return Brief(goals=goals, holds=LOCKED, swaps=swaps, swap_band=0.0, **options)  # type: ignore[arg-type]


def cream(food: str = YOGURT, **options: object) -> Swap:
    return Swap(food=food, stands_in_for=("sour-cream",), **options)  # type: ignore[arg-type]


def test_a_swap_is_used_by_a_tablespoon_at_least_or_a_tenth_of_what_it_stands_in_for() -> None:
    # 0.05 g of fat less takes 2 g of yogurt; a tablespoon is 15 g, a tenth of 240 g is more.
    found = answer(CREAMY, exchanging(25.74, cream()))
    assert found.exact[[0, -1]].tolist() == pytest.approx([225.0, 15.0], abs=1e-9)
    # Of 15 g of lemon juice a tenth is 1.5 g, and half of that does its work.
    lime = Swap(food="lime-juice", stands_in_for=("lemon-juice",), grams_per_gram=0.5, pinned=True)
    pinned = answer(CREAMY, Brief(swaps=(lime,), holds=(BatchHold(),)))
    assert pinned.exact[-1] == pytest.approx(0.75, abs=1e-9)


def test_a_least_amount_of_its_own_replaces_the_usual_one() -> None:
    for least in (0.0, 3.0, 100.0, 500.0):
        found = answer(CREAMY, exchanging(25.74, cream(least=least)))
        some = grams_of(found)[YOGURT]
        # 0.0515 g less a serving: (25.791375 - 25.74) * 8 / (0.1935 - 0.0039) = 2.17 g.
        assert some == pytest.approx(min(240.0, max(2.17, least)), abs=0.1)


def test_where_a_swap_is_not_worth_its_place_the_lines_move_instead() -> None:
    brief = replace(exchanging(25.74, cream(least=200.0)), holds=LOCKED[1:])
    found = answer(CREAMY, brief)
    assert grams_of(found)[YOGURT] == 0.0
    assert found.status is Status.OPTIMAL
    assert found.changes < 0.05


def test_no_swaps_allowed_is_as_if_there_were_none() -> None:
    goal = Goal(nutrient="energy_kcal", at_most=180.0)
    held = (BatchHold(),)
    none = answer(CREAMY, Brief(goals=(goal,), holds=held, swaps=(cream(),), max_swaps=0))
    bare = answer(CREAMY, Brief(goals=(goal,), holds=held, swap_band=1.0))
    assert none.grams[-1] == 0.0
    base = none.grams[0]
    assert 240 * 0.85 - 1e-6 <= base <= 240 * 1.15 + 1e-6  # the band of the group stays
    assert none.changes >= bare.changes - 1e-9


def test_a_pinned_swap_is_used_though_nothing_asks_for_it_and_not_more_than_it_has_to() -> None:
    found = answer(CREAMY, exchanging(100.0, cream(pinned=True, least=40.0), cream("yogurt-nonfat")))
    assert found.exact[[0, -2, -1]].tolist() == pytest.approx([200.0, 40.0, 0.0], abs=1e-9)


def test_a_pinned_swap_is_used_though_any_little_of_it_would_do() -> None:
    found = answer(CREAMY, exchanging(100.0, cream(pinned=True, least=0.0)))
    assert grams_of(found)[YOGURT] > 0.0


def test_a_pin_counts_among_the_swaps_allowed() -> None:
    swaps = (cream(pinned=True), cream("sour-cream-fat-free"))
    found = answer(CREAMY, exchanging(22.0, *swaps, max_swaps=1))
    assert grams_of(found)[YOGURT] > 15.0
    assert grams_of(found)["sour-cream-fat-free"] == 0.0


def test_more_swaps_than_allowed_of_which_any_little_would_do_come_to_an_end() -> None:
    """Four that would all be used, two allowed, none with a least amount."""
    shares = (0.3, 0.3, 0.3, 0.3)
    foods = (YOGURT, "cottage-cheese-2", "chickpeas-canned", "yogurt-nonfat")
    swaps = tuple(
        Swap(
            food=food,
            stands_in_for=("sour-cream", "cream-cheese", "mayonnaise"),
            largest_share=share,
            least=0.0,
        )
        for food, share in zip(foods, shares, strict=True)
    )
    goals = (
        Goal(nutrient="energy_kcal", at_most=120.0),
        Goal(nutrient="protein_g", at_least=5.0),
        Goal(nutrient="fibre_g", at_least=1.0),
    )
    brief = Brief(goals=goals, holds=(BatchHold(),), swaps=swaps, max_swaps=2, swap_band=0.3)
    found = answer(CREAMY, brief)
    assert sum(found.exact[-4:] > 1e-6) <= 2
    least = least_by_trying_all(write_rules(CREAMY, brief))
    assert least is not None
    assert found.changes == close(least)


def test_of_two_swaps_that_cost_the_same_the_choice_does_not_hang_on_what_was_asked_before() -> None:
    """15 g of either overshoot the goal alike, so only the tie-break tells them apart."""
    swaps = (cream(), cream("yogurt-nonfat"))
    asked = exchanging(25.6, *swaps)
    goals = (*asked.goals, Goal(nutrient="protein_g", at_least=0.0))
    asked = replace(asked, goals=goals)
    cold = answer(CREAMY, asked).exact.tolist()
    chosen = set()
    for protein in (2.0, 3.2):  # the leaner yogurt has less of it
        optimiser = Optimiser(weighed(CREAMY), asked, FOODS)
        before = replace(
            asked,
            goals=(
                Goal(nutrient="fat_g", at_most=22.0),
                Goal(nutrient="protein_g", at_least=protein),
            ),
        )
        optimiser.answer(before)
        chosen.add(tuple(optimiser.answer(asked).exact.tolist()))
    assert [pytest.approx(one, abs=1e-7) for one in chosen] == [cold] * len(chosen)


def test_after_a_conflict_every_swap_may_come_in_again() -> None:
    goals = (Goal(nutrient="fat_g", at_most=20.0),)
    swaps = (cream(least=100.0), cream("sour-cream-fat-free", least=100.0))
    brief = replace(exchanging(20.0, *swaps, max_swaps=1), goals=goals)
    optimiser = Optimiser(weighed(CREAMY), brief, FOODS)
    for limit in (1.0, 24.0, 0.0, 22.0, 20.0):
        asked = replace(brief, goals=(Goal(nutrient="fat_g", at_most=limit),))
        assert_same(optimiser.answer(asked), answer(CREAMY, asked))
