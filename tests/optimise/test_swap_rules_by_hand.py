"""Rules on swaps, each by an example that can be worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from reformulate import BatchHold, Brief, Goal, LineHold, Optimiser, Status, Swap
from tests.optimise.dips import CREAMY, answer, grams_of
from tests.optimise.plain_rules import write_rules
from tests.optimise.rule_solvers import least_by_trying_all
from tests.optimise.test_history import assert_same
from tests.recipes.plain_sums import FOODS
from tests.strategies import weighed

YOGURT = "yogurt-strained-nonfat"

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
    found = answer(
        CREAMY, exchanging(100.0, cream(pinned=True, least=40.0), cream("yogurt-nonfat"))
    )
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
    assert found.changes == pytest.approx(least, rel=1e-6, abs=1e-6)


def test_between_two_swaps_that_cost_the_same_what_was_asked_before_does_not_decide() -> None:
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
