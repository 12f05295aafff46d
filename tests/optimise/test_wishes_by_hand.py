"""Wishes by rank in examples: a textbook's, and some that can be worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from reformulate import (
    SYSTEMS,
    BatchHold,
    Brief,
    Food,
    FoodTable,
    Goal,
    Line,
    LineHold,
    Per,
    Recipe,
    Status,
    Swap,
    solve,
    state_sentence,
)
from reformulate.foods import INDEX
from tests.optimise.dips import PAIR, answer

ENERGY = "energy_kcal"
KEYS = ("protein_g", "carbohydrate_g", "fat_g", ENERGY)


def invented(rows: dict[str, tuple[float, float, float, float]]) -> FoodTable:
    """Foods with g of protein, carbohydrate and fat, and kcal, in 100 g."""
    values = np.zeros((len(rows), len(INDEX)))
    for i, figures in enumerate(rows.values()):
        values[i, [INDEX[key] for key in KEYS]] = figures
    return FoodTable(
        foods=tuple(Food(key=key, name=key, source="invented") for key in rows),
        values=values,
        known=np.ones_like(values, dtype=bool),
    )


def advertising(*ranks: int) -> tuple[Recipe, Brief, FoodTable]:
    """Two spots, three audiences and a budget, put as a dish.

    Each spot is a food of our own invention: what it reaches of the three audiences, in millions,
    stands for g of protein, carbohydrate and fat in 100 g, its price in thousands for kcal. A third
    line is locked; it adds to all three, so that missing them counts 4 : 2 : 1 in one rank.

    Source: W. L. Winston, Operations Research: Applications and Algorithms, goal programming, the
    advertising example; its figures from memory. Goals of 40, 60 and 35 million, 200, 100 and
    50 thousand for each million short, 600 thousand to spend.
    """
    foods = invented(
        {
            "football": (7.0, 10.0, 5.0, 100.0),
            "soap": (3.0, 5.0, 4.0, 60.0),
            "ground": (1.0, 2.5, 7.1, 0.0),
        }
    )
    grams = {"football": 100.0, "soap": 100.0, "ground": 1000.0}
    recipe = Recipe(
        title="Spots",
        servings=1.0,
        lines=tuple(Line(id=key, food=key, grams=mass) for key, mass in grams.items()),
    )
    ground = (10.0, 25.0, 71.0)  # so the original has 20, 40 and 80: what counts as missed wholly
    asked = (40.0, 60.0, 35.0)
    wishes = tuple(
        Goal(nutrient=key, at_least=want + more, rank=rank)
        for key, want, more, rank in zip(KEYS[:3], asked, ground, ranks, strict=True)
    )
    brief = Brief(
        goals=(Goal(nutrient=ENERGY, at_most=600.0), *wishes),
        holds=(LineHold(line="ground", tolerance=0.0),),
    )
    return recipe, brief, foods


@pytest.mark.parametrize(
    ("ranks", "spots", "short"),
    [
        ((1, 1, 1), (6.0, 0.0), (0.0, 0.0, 5.0)),
        ((1, 2, 3), (6.0, 0.0), (0.0, 0.0, 5.0)),
        ((1, 3, 2), (5.0, 5 / 3), (0.0, 5 / 3, 10 / 3)),
        ((3, 2, 1), (3.0, 5.0), (4.0, 5.0, 0.0)),
    ],
    ids=["weighted", "1 > 2 > 3", "1 > 3 > 2", "3 > 2 > 1"],
)
def test_the_advertising_example_of_a_textbook(
    ranks: tuple[int, int, int], spots: tuple[float, float], short: tuple[float, ...]
) -> None:
    recipe, brief, foods = advertising(*ranks)
    found = solve(recipe, brief, foods, SYSTEMS["us"])
    assert found.status is Status.OPTIMAL
    assert found.exact[:2] / 100 == pytest.approx(spots, abs=1e-6)
    missed = [
        max(0.0, float(goal.at_least or 0.0) - float(found.exact @ found.items.per_gram[:, column]))
        for goal, column in zip(
            brief.goals[1:], (INDEX[goal.nutrient] for goal in brief.goals[1:]), strict=True
        )
    ]
    assert missed == pytest.approx(short, abs=1e-6)
    if len(set(ranks)) == 1:
        assert float(np.dot(missed, (200, 100, 50))) == pytest.approx(250.0, abs=1e-4)


def test_a_wish_alone_is_met_where_it_can_be_and_nothing_gives_for_one_that_cannot() -> None:
    # 300 g of two creams, 198 and 59 kcal per 100 g (NDB 01056 and 01256, SR28), 4 servings, batch
    # held: 80 kcal needs 1.98 s + 0.59 (300 - s) = 320, s = 143 / 1.39; 44.25 is the least.
    held = (BatchHold(tolerance=0.0),)
    met = answer(PAIR, Brief(goals=(Goal(nutrient=ENERGY, at_most=80.0, rank=1),), holds=held))
    assert met.exact.tolist() == pytest.approx([143 / 1.39, 300 - 143 / 1.39], abs=1e-5)
    assert met.goals[0].met
    out = answer(PAIR, Brief(goals=(Goal(nutrient=ENERGY, at_most=30.0, rank=1),), holds=held))
    assert out.status is Status.OPTIMAL
    assert out.grams.tolist() == [0.0, 300.0]
    assert out.holds == ()
    assert state_sentence(out).startswith(
        "As near to its wishes as can be: energy stays 14 kcal above 30 kcal per serving."
    )


def test_the_same_goal_as_a_must_and_as_a_stricter_wish() -> None:
    goals = (
        Goal(nutrient=ENERGY, at_most=100.0),
        Goal(nutrient=ENERGY, at_most=30.0, rank=2),
        Goal(nutrient="fat_g", at_least=5.0, rank=1),
    )
    found = answer(PAIR, Brief(goals=goals, holds=(BatchHold(tolerance=0.0),)))
    assert found.status is Status.OPTIMAL
    # 19.35 and 0.39 g of fat per 100 g: 0.1935 s + 0.0039 (300 - s) = 20 leaves the least energy.
    assert found.exact[0] == pytest.approx(18.83 / 0.1896, abs=0.01)
    assert [result.met for result in found.goals] == [True, False, True]


def test_ranks_need_not_follow_each_other_and_their_order_alone_counts() -> None:
    recipe, brief, foods = advertising(3, 2, 1)
    _, spread, _ = advertising(99, 7, 4)
    one, other = (solve(recipe, b, foods, SYSTEMS["us"]).exact for b in (brief, spread))
    assert one.tolist() == pytest.approx(other.tolist(), abs=1e-9)


def test_a_swap_may_come_in_for_a_wish() -> None:
    swap = Swap(food="yogurt-strained-nonfat", stands_in_for=("sour-cream",), least=50.0)
    recipe = replace(PAIR, lines=PAIR.lines[:1])
    wish = Goal(nutrient=ENERGY, at_most=60.0, per=Per.HUNDRED_GRAMS, rank=1)
    found = answer(recipe, Brief(goals=(wish,), holds=(BatchHold(tolerance=0.0),), swaps=(swap,)))
    # All but 1 / 139 of it is yogurt then, were it not for the band that holds the group.
    assert found.goals[0].met
    assert found.exact[1] == pytest.approx(200 * 138 / 139, abs=1e-4)


@pytest.mark.parametrize("servings", [1.0, 2.0])
@pytest.mark.parametrize(("fat", "spent_on"), [(4.5, "curd"), (2.0, "cream")])
def test_within_a_rank_a_little_of_something_counts_as_a_unit_a_serving(
    fat: float, spent_on: str, servings: float
) -> None:
    # A kcal of curd brings 0.1 g of protein, one of cream 0.3 g of fat. The original has 0.2 g of
    # protein in its serving, so 1 g counts as all of it: 0.1 a kcal against 0.3 / fat.
    foods = invented(
        {
            "curd": (10.0, 0.0, 0.0, 100.0),
            "cream": (0.0, 0.0, 60.0, 200.0),
            "broth": (0.1, 0.0, fat - 0.6, 0.0),
        }
    )
    grams = {"curd": 1.0, "cream": 1.0, "broth": 100.0}
    recipe = Recipe(
        title="t",
        servings=servings,
        lines=tuple(Line(id=key, food=key, grams=mass * servings) for key, mass in grams.items()),
    )
    brief = Brief(
        goals=(
            Goal(nutrient=ENERGY, at_most=20.0),
            Goal(nutrient="protein_g", at_least=10.0, rank=1),
            Goal(nutrient="fat_g", at_least=50.0, rank=1),
        ),
        holds=(LineHold(line="broth", tolerance=0.0),),
    )
    found = solve(recipe, brief, foods, SYSTEMS["us"])
    expected = [20.0, 0.0] if spent_on == "curd" else [0.0, 10.0]
    assert (found.exact[:2] / servings).tolist() == pytest.approx(expected, abs=1e-5)
