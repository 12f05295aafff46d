"""Swaps stand in for lines by their working mass, up to a share, and only where allowed."""

from __future__ import annotations

import pytest
from hypothesis import given

from reformulate import (
    SYSTEMS,
    Answer,
    BatchHold,
    Brief,
    Goal,
    Line,
    LineHold,
    RatioHold,
    Recipe,
    RoleHold,
    Status,
    Swap,
    food_table,
    weigh_recipe,
)
from reformulate.optimise.closest import ClosestEngine, Found
from reformulate.optimise.items import collect_items
from reformulate.optimise.model import Model, build_model
from reformulate.optimise.swap_choice import choose_swaps
from tests.optimise.dips import CREAMY, answer, grams_of
from tests.strategies import Case, cases

FOODS = food_table()
LEAN = Goal(nutrient="fat_g", at_most=8.0)
YOGURT = "yogurt-strained-nonfat"
LOCKED = tuple(
    LineHold(line=line, tolerance=0.0)
    for line in ("cream-cheese", "mayonnaise", "lemon-juice", "garlic", "salt-table")
)


def swapped(swap: Swap, goal: Goal = LEAN, **brief: object) -> tuple[Answer, dict[str, float]]:
    found = answer(CREAMY, Brief(goals=(goal,), swaps=(swap,), **brief))  # type: ignore[arg-type]
    return found, grams_of(found)


def test_a_swap_takes_the_place_of_its_line() -> None:
    swap = Swap(food=YOGURT, stands_in_for=("sour-cream", "cream-cheese", "mayonnaise"))
    found, grams = swapped(swap, holds=(BatchHold(),))
    assert found.status is Status.OPTIMAL
    assert grams[YOGURT] > 100
    assert sum(grams.values()) == pytest.approx(599, rel=0.02 + 1e-9)


def test_a_swap_counts_as_the_mass_it_does_the_work_of() -> None:
    # Nothing else may move: the fat goal is met by exchanging sour cream alone.
    goal = Goal(nutrient="fat_g", at_most=22.0)
    swap = Swap(food=YOGURT, stands_in_for=("sour-cream",), grams_per_gram=2.0)
    found, grams = swapped(swap, goal, holds=LOCKED, swap_band=0.0)
    assert found.status is Status.OPTIMAL
    assert grams[YOGURT] > 10
    assert grams["sour-cream"] + grams[YOGURT] / 2 == pytest.approx(240, abs=1e-6)


@pytest.mark.parametrize("band", [0.05, 0.15])
def test_a_group_with_swaps_keeps_its_working_mass_within_the_band(band: float) -> None:
    goal = Goal(nutrient="energy_kcal", at_most=150.0)
    swap = Swap(food=YOGURT, stands_in_for=("sour-cream", "mayonnaise"), grams_per_gram=1.25)
    found, grams = swapped(swap, goal, swap_band=band)
    assert found.status is Status.OPTIMAL
    working = grams["sour-cream"] + grams["mayonnaise"] + grams[YOGURT] / 1.25
    assert 350 * (1 - band) - 1e-6 <= working <= 350 * (1 + band) + 1e-6


def test_a_swap_replaces_no_more_than_its_largest_share() -> None:
    swap = Swap(food=YOGURT, stands_in_for=("sour-cream",), largest_share=0.25, grams_per_gram=2.0)
    found, grams = swapped(swap, Goal(nutrient="fat_g", at_most=1.0), holds=LOCKED)
    assert found.status is Status.CONFLICT
    assert grams[YOGURT] == pytest.approx(0.25 * 2 * 240)


@given(cases())
def test_no_swap_exceeds_its_largest_share(case: Case) -> None:
    found = answer(case.recipe, case.brief)
    for amount in found.amounts:
        if amount.swap is None:
            continue
        replaced = sum(
            float(case.recipe.line(name).grams or 0.0) for name in amount.swap.stands_in_for
        )
        most = amount.swap.largest_share * amount.swap.grams_per_gram * replaced
        assert 0.0 <= amount.after <= most + 1e-6


def test_a_swap_that_is_not_allowed_stays_out() -> None:
    swap = Swap(food=YOGURT, stands_in_for=("sour-cream", "mayonnaise"), allowed=False)
    found, grams = swapped(swap, holds=(BatchHold(),))
    assert YOGURT not in grams
    assert found.items.swaps == ()
    assert len(found.grams) == len(CREAMY.lines)
    plain = answer(CREAMY, Brief(goals=(LEAN,), holds=(BatchHold(),)))
    assert found.grams.tolist() == plain.grams.tolist()


@given(cases())
def test_only_lines_and_allowed_swaps_enter_an_answer(case: Case) -> None:
    found = answer(case.recipe, case.brief)
    assert [amount.food for amount in found.amounts] == [
        *(line.food for line in case.recipe.lines),
        *(swap.food for swap in case.brief.swaps if swap.allowed),
    ]


def test_a_swap_that_is_not_needed_is_not_used() -> None:
    swap = Swap(food=YOGURT, stands_in_for=("sour-cream",))
    _, grams = swapped(swap, Goal(nutrient="fat_g", at_most=1000.0))
    assert grams[YOGURT] == 0.0


def test_a_swap_counts_in_ratios_and_roles_for_what_it_stands_in_for() -> None:
    swap = Swap(food=YOGURT, stands_in_for=("sour-cream",), grams_per_gram=0.8)
    holds = (
        BatchHold(tolerance=0.1),
        RoleHold(role="base", tolerance=0.05),
        RatioHold(of=("garlic",), to=("role:base",), tolerance=0.0),
    )
    found, grams = swapped(swap, Goal(nutrient="fat_g", at_most=14.0), holds=holds, swap_band=0.5)
    assert found.status is Status.OPTIMAL
    assert grams[YOGURT] > 10
    base = grams["sour-cream"] + grams[YOGURT] / 0.8
    assert 240 * 0.95 - 1e-6 <= base <= 240 * 1.05 + 1e-6
    assert grams["garlic"] / base == pytest.approx(6 / 240, abs=1e-8)


def test_the_row_of_a_swap_tells_what_came_in() -> None:
    swap = Swap(food=YOGURT, stands_in_for=("sour-cream",), caution="Thins when heated.")
    found, _ = swapped(swap, holds=(BatchHold(),))
    row = found.amounts[-1]
    assert row.line is None
    assert row.swap == swap
    assert row.before == 0.0
    assert row.change == float("inf")
    assert row.moved


def test_where_no_swap_may_be_used_one_program_says_so() -> None:
    recipe = Recipe(
        title="t", servings=4, lines=(Line(id="sour-cream", food="sour-cream", grams=200.0),)
    )
    swaps = tuple(
        Swap(food=food, stands_in_for=("sour-cream",))
        for food in ("yogurt-strained-nonfat", "quark-nonfat", "cottage-cheese-2")
    )
    goal = Goal(nutrient="energy_kcal", at_most=60.0)
    brief = Brief(goals=(goal,), holds=(BatchHold(),), swaps=swaps)
    batch = weigh_recipe(recipe, FOODS, SYSTEMS["us"])
    model = build_model(collect_items(batch, brief, FOODS), brief, recipe)
    engine = ClosestEngine(model, brief.manner)
    asked: list[Model] = []

    def find(model: Model) -> Found | None:
        asked.append(model)
        return engine.find(model)

    # Sour cream alone has 99 kcal a serving, and the batch stays.
    assert choose_swaps(model, 0, find) is None
    assert len(asked) == 1
    free = choose_swaps(model, None, find)
    assert free is not None
    assert free.x[model.swap_columns].any()
