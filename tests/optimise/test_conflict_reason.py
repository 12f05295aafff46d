"""Why a brief cannot be met: irreducible sets, and ways out that lead out."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given

from reformulate import (
    SYSTEMS,
    BatchHold,
    Brief,
    Conflict,
    Food,
    FoodTable,
    Goal,
    Line,
    LineHold,
    Outcome,
    Per,
    Recipe,
    Status,
    Swap,
    find_conflict,
    solve,
    solve_program,
    weigh_recipe,
)
from reformulate.foods import INDEX
from reformulate.optimise.items import collect_items
from reformulate.optimise.members import Member, members_of, without
from reformulate.optimise.model import build_model
from tests.optimise.dips import CREAMY, PAIR
from tests.strategies import FOODS, Case, cases, harsh_cases, weighed


def reason(recipe: Recipe, brief: Brief) -> Conflict | None:
    return find_conflict(weighed(recipe), brief, FOODS)


def can_be_kept(recipe: Recipe, brief: Brief, left_out: tuple[Member, ...]) -> bool:
    """Ask a cold program, with nothing of the filter's warm one."""
    batch = weighed(recipe)
    model = build_model(collect_items(batch, brief, FOODS), brief, recipe)
    program = without(model, left_out)
    if np.any(program.row_lower > program.row_upper):
        return False
    return solve_program(program).outcome is not Outcome.INFEASIBLE


@given(harsh_cases())
def test_what_is_in_conflict_cannot_be_kept_and_without_any_one_of_it_can(case: Case) -> None:
    found = reason(case.recipe, case.brief)
    answer = solve(case.recipe, case.brief, FOODS, SYSTEMS["us"])
    if found is None:
        assert answer.status is Status.OPTIMAL
        return
    batch = weighed(case.recipe)
    model = build_model(collect_items(batch, case.brief, FOODS), case.brief, case.recipe)
    everything = members_of(model, case.brief)
    others = tuple(m for m in everything if m not in found.members)
    assert not can_be_kept(case.recipe, case.brief, others)
    for member in found.members:
        assert can_be_kept(case.recipe, case.brief, (*others, member)), member.words


@given(cases())
def test_a_brief_that_can_be_met_has_no_conflict(case: Case) -> None:
    assert reason(case.recipe, case.brief) is None


@given(harsh_cases())
def test_each_way_out_alone_leads_to_an_answer(case: Case) -> None:
    found = reason(case.recipe, case.brief)
    for way in found.ways_out if found else ():
        answer = solve(case.recipe, way.brief, FOODS, SYSTEMS["us"])
        assert answer.status is Status.OPTIMAL, way.words
        assert way.brief != case.brief


def test_a_smallest_set_found_by_trying_all() -> None:
    brief = Brief(
        goals=(
            Goal(nutrient="protein_g", at_least=12.0),
            Goal(nutrient="energy_kcal", at_most=60.0),
        ),
        holds=(BatchHold(), LineHold(line=CREAMY.lines[0].id, most=300.0)),
    )
    found = reason(CREAMY, brief)
    assert found is not None
    batch = weighed(CREAMY)
    everything = members_of(build_model(collect_items(batch, brief, FOODS), brief, CREAMY), brief)
    irreducible = []
    for size in range(1, len(everything) + 1):
        for kept in combinations(everything, size):
            if any(set(smaller) <= set(kept) for smaller in irreducible):
                continue
            if not can_be_kept(CREAMY, brief, tuple(m for m in everything if m not in kept)):
                irreducible.append(kept)
    assert set(found.members) in [set(kept) for kept in irreducible]


def test_the_words_are_a_cooks() -> None:
    brief = Brief(
        goals=(Goal(nutrient="energy_kcal", at_most=30.0),),
        holds=(BatchHold(), LineHold(line="sour-cream", tolerance=0.0)),
    )
    found = reason(PAIR, brief)
    assert found is not None
    # All yogurt would still be 294 g at 59 kcal per 100 g in 4 servings: 43 kcal. So the lock is no
    # part of the reason, but it bounds the way out.
    assert [member.words for member in found.members] == [
        "batch size within ± 2 %",
        "energy at most 30 kcal per serving",
    ]
    # By hand: 200 g of sour cream at 198 kcal per 100 g in 4 servings (NDB 01056, SR28) is 99 kcal;
    # the batch asks for 94 g of yogurt at 59 (NDB 01256) beside it: (396 + 55.46) / 4 = 112.9.
    assert [way.words for way in found.ways_out] == ["energy at most 113 kcal per serving"]


def test_limits_that_cross_are_told_together() -> None:
    goals = (
        Goal(nutrient="energy_kcal", at_least=120.0),
        Goal(nutrient="energy_kcal", at_most=90.0, per=Per.ORIGINAL),
    )
    found = reason(PAIR, Brief(goals=goals, holds=(BatchHold(),)))
    assert found is not None
    assert [member.words for member in found.members] == [
        "energy at least 120 kcal per serving",
        "energy at most 90 % of the original",
    ]
    assert len(found.ways_out) == 2


def dips_of(*rows: tuple[str, float, float, float]) -> FoodTable:
    """Foods with energy, protein and fat per 100 g."""
    values = np.zeros((len(rows), len(INDEX)))
    for i, (_, energy, protein, fat) in enumerate(rows):
        values[i, [INDEX["energy_kcal"], INDEX["protein_g"], INDEX["fat_g"]]] = energy, protein, fat
    return FoodTable(
        foods=tuple(
            Food(key=key, name=key, group="", words=(), source="worked example", edible_share=1.0)
            for key, *_ in rows
        ),
        values=values,
        known=np.ones_like(values, dtype=bool),
    )


def test_a_worked_conflict() -> None:
    """A constructed example whose irreducible set is {sum, fat, energy}.

    The least energy with 12 g of fat per 100 g is 155.084337 kcal.
    """
    foods = dips_of(
        ("yogurt", 59, 10.2, 0.4),
        ("cheese", 342, 5.9, 34),
        ("chickpeas", 139, 7, 2.6),
        ("oil", 884, 0, 100),
    )
    recipe = Recipe(title="t", servings=1, lines=(Line(id="yogurt", food="yogurt", grams=100.0),))
    swaps = tuple(
        Swap(food=food, stands_in_for=("yogurt",)) for food in ("cheese", "chickpeas", "oil")
    )
    brief = Brief(
        goals=(
            Goal(nutrient="fat_g", at_least=12.0, per=Per.HUNDRED_GRAMS),
            Goal(nutrient="energy_kcal", at_most=120.0, per=Per.HUNDRED_GRAMS),
        ),
        holds=(BatchHold(tolerance=0.0),),
        swaps=swaps,
        swap_band=1.0,
    )
    found = find_conflict(weigh_recipe(recipe, foods, SYSTEMS["us"]), brief, foods)
    assert found is not None
    assert [member.words for member in found.members] == [
        "batch size within ± 0 %",
        "fat at least 12.0 g per 100 g",
        "energy at most 120 kcal per 100 g",
    ]
    assert "energy at most 156 kcal per 100 g" in [way.words for way in found.ways_out]


@pytest.mark.parametrize("limit", [300.0, 130.0])
def test_a_hold_on_a_line_is_loosened_to_grams(limit: float) -> None:
    brief = Brief(
        goals=(Goal(nutrient="energy_kcal", at_most=70.0),),
        holds=(BatchHold(), LineHold(line="sour-cream", least=limit)),
    )
    found = reason(PAIR, brief)
    assert found is not None
    ways = [way.words for way in found.ways_out]
    # Energy of 70 a serving in a batch of 294 g or more: 1.98 s + 0.59 y <= 280, s + y >= 294.
    # s <= (280 - 0.59 * 294) / 1.39 = 76.65; a batch may also shrink no further.
    assert "sour cream at least 76.6 g" in ways


def test_a_looser_goal_on_the_same_nutrient_is_no_part_of_the_reason() -> None:
    loose = Goal(nutrient="energy_kcal", at_most=120.0, per=Per.ORIGINAL)
    tight = Goal(nutrient="energy_kcal", at_most=30.0)
    for goals in ((tight, loose), (loose, tight)):
        found = reason(PAIR, Brief(goals=goals, holds=(BatchHold(),)))
        assert found is not None
        assert [member.words for member in found.members] == [
            "batch size within ± 2 %",
            "energy at most 30 kcal per serving",
        ]
        assert [way.words for way in found.ways_out] == [
            "batch size within ± 33 %",
            "energy at most 44 kcal per serving",
        ]
