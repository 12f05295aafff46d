"""Recipes and briefs whose optimum was derived by hand, through the whole of ``solve``.

The three dips are constructed for this purpose; their figures per 100 g stand in the table below,
and the same problems as bare programs in ``test_linear_programs``.
"""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reformulate import (
    NUTRIENTS,
    SYSTEMS,
    Answer,
    BatchHold,
    Brief,
    Food,
    FoodTable,
    Goal,
    Hold,
    Line,
    LineHold,
    Per,
    Recipe,
    Status,
    Swap,
    linear_program,
    solve,
)
from tests.published.programs import least

COLUMN = {nutrient.key: i for i, nutrient in enumerate(NUTRIENTS)}
KEYS = ("energy_kcal", "protein_g", "fat_g")
FIGURES: dict[str, tuple[float, float, float]] = {
    # kcal, protein, fat per 100 g; constructed
    "yogurt": (59, 10.2, 0.4),
    "cream-cheese": (342, 5.9, 34),
    "chickpeas": (139, 7.0, 2.6),
    "oil": (884, 0, 100),
    "sour-cream": (198, 2.4, 19.4),
    "mayonnaise": (680, 1.0, 74.9),
    "flavouring": (0, 0, 0),
}


def table(figures: dict[str, tuple[float, float, float]]) -> FoodTable:
    """A food table of energy, protein and fat, everything else unknown."""
    values = np.zeros((len(figures), len(NUTRIENTS)))
    known = np.zeros(values.shape, dtype=np.bool_)
    columns = [COLUMN[key] for key in KEYS]
    values[:, columns], known[:, columns] = list(figures.values()), True
    return FoodTable(foods=tuple(Food(key=k, name=k) for k in figures), values=values, known=known)


HELD = BatchHold(tolerance=0.0)
FAT = Goal(nutrient="fat_g", at_least=12.0, per=Per.HUNDRED_GRAMS)
ENERGY = Goal(nutrient="energy_kcal", at_most=120.0, per=Per.HUNDRED_GRAMS)
PROTEIN = Goal(nutrient="protein_g", at_least=8.0, per=Per.HUNDRED_GRAMS)


def lean_dip(*goals: Goal, shown: str = "energy_kcal", per: Per = Per.HUNDRED_GRAMS) -> Answer:
    """Answer goals on 100 g of yogurt, cream cheese, chickpeas and oil."""
    grams = {"yogurt": 60.0, "cream-cheese": 15.0, "chickpeas": 20.0, "oil": 5.0}
    recipe = Recipe(
        title="Lean dip",
        servings=4,
        lines=tuple(Line(id=key, food=key, grams=mass) for key, mass in grams.items()),
    )
    brief = Brief(goals=goals, holds=(HELD,), shown=(shown,), shown_per=per)
    return proven(solve(recipe, brief, table(FIGURES), SYSTEMS["us"]))


def proven(answer: Answer) -> Answer:
    """Every optimum carries its certificate, and weighs what the original did."""
    assert answer.certificate.holds
    assert answer.exact.sum() == pytest.approx(100.0)
    assert answer.grams.sum() == pytest.approx(100.0)
    return answer


def reach(answer: Answer, nutrient: str) -> tuple[float, float]:
    found = answer.reach_of(nutrient)
    assert found is not None
    return found.low, found.high


def test_fat_energy_and_protein_of_the_lean_dip_conflict() -> None:
    assert lean_dip(FAT, ENERGY, PROTEIN).status is Status.CONFLICT


def test_dropping_fat_or_energy_ends_the_conflict_and_dropping_protein_does_not() -> None:
    assert lean_dip(ENERGY, PROTEIN).status is Status.OPTIMAL
    assert lean_dip(FAT, PROTEIN).status is Status.OPTIMAL
    assert lean_dip(FAT, ENERGY).status is Status.CONFLICT


def test_the_reach_of_energy_beside_enough_fat_starts_at_the_least_energy() -> None:
    # 88.353414 g yogurt and 11.646586 g oil.
    low, high = reach(lean_dip(FAT), "energy_kcal")
    assert low == pytest.approx(155.084337, abs=6e-7)
    assert high == pytest.approx(884.0)  # nothing but oil


def test_the_reach_of_a_goal_leaves_the_goal_itself_out() -> None:
    at_200 = Goal(nutrient="energy_kcal", at_most=200.0, per=Per.HUNDRED_GRAMS)
    low, _ = reach(lean_dip(FAT, at_200), "energy_kcal")
    assert low == pytest.approx(155.084337, abs=6e-7)


def test_energy_can_be_met_down_to_the_end_of_its_reach_and_no_further() -> None:
    def asked(kcal: float) -> Status:
        goal = Goal(nutrient="energy_kcal", at_most=kcal, per=Per.HUNDRED_GRAMS)
        return lean_dip(FAT, goal, PROTEIN).status

    assert asked(155.09) is Status.OPTIMAL
    assert asked(155.07) is Status.CONFLICT


def test_the_nearest_answer_relaxes_energy_by_the_least_that_helps() -> None:
    # A gram of yogurt turned to oil costs 8.25 / 120 of the energy goal and wins 0.996 / 12 of the
    # fat goal: of the two, energy gives, by 155.084337 - 120.
    answer = lean_dip(FAT, ENERGY, PROTEIN)
    exact = dict(zip((line.id for line in answer.items.lines), answer.exact.tolist(), strict=True))
    assert exact == pytest.approx(
        {"yogurt": 88.353414, "cream-cheese": 0, "chickpeas": 0, "oil": 11.646586}, abs=1e-5
    )
    energy = sum(FIGURES[food][0] * grams / 100 for food, grams in exact.items())
    assert energy - 120.0 == pytest.approx(35.084337, abs=1e-5)
    missed = {result.goal.nutrient: result.misses_by for result in answer.goals}
    # The grams shown keep the other goals and put yogurt in whole grams, so half a gram may turn
    # from yogurt to oil.
    assert 35.084337 - 1e-5 <= missed["energy_kcal"] <= 35.084337 + 0.5 * 8.25
    assert missed["protein_g"] == missed["fat_g"] == 0.0


@pytest.mark.parametrize("goals", [(ENERGY, PROTEIN), (FAT, PROTEIN), (FAT,), (PROTEIN,)])
def test_goals_called_met_are_met_by_the_grams_shown(goals: tuple[Goal, ...]) -> None:
    answer = lean_dip(*goals)
    assert all(result.met for result in answer.goals)
    per_gram = np.array([FIGURES[line.food] for line in answer.items.lines])
    levels = dict(zip(KEYS, (answer.grams @ per_gram / answer.grams.sum()).tolist(), strict=True))
    for goal in goals:
        level = levels[goal.nutrient]
        assert goal.at_least is None or level >= goal.at_least * (1 - 1e-9)
        assert goal.at_most is None or level <= goal.at_most * (1 + 1e-9)


def test_the_reach_of_a_share_of_energy_is_that_of_the_fractional_program() -> None:
    # Charnes and Cooper's substitution (1962) gives 4 protein / kcal = 0.3653824, at 94.377510 g
    # yogurt and 5.622490 g oil; protein counts 4 kcal/g, 21 CFR 101.9(c)(1)(i)(B).
    fat = Goal(nutrient="fat_g", at_least=6.0, per=Per.HUNDRED_GRAMS)
    low, high = reach(lean_dip(fat, shown="protein_g", per=Per.ENERGY), "protein_g")
    assert high == pytest.approx(36.53824, abs=6e-6)
    assert low == pytest.approx(0.0, abs=1e-9)  # nothing but oil


def test_the_largest_share_of_energy_can_be_asked_for() -> None:
    fat = Goal(nutrient="fat_g", at_least=6.0, per=Per.HUNDRED_GRAMS)

    def asked(percent: float) -> Answer:
        return lean_dip(fat, Goal(nutrient="protein_g", at_least=percent, per=Per.ENERGY))

    answer = asked(36.538)
    assert answer.status is Status.OPTIMAL
    exact = dict(zip((line.id for line in answer.items.lines), answer.exact.tolist(), strict=True))
    assert exact == pytest.approx(
        {"yogurt": 94.377510, "cream-cheese": 0, "chickpeas": 0, "oil": 5.622490}, abs=0.02
    )
    assert asked(36.539).status is Status.CONFLICT


amounts_of_five = st.lists(
    st.tuples(
        st.integers(30, 900),  # kcal per 100 g
        st.integers(0, 25),  # protein per 100 g
        st.integers(5, 90),  # grams in the original
        st.integers(5, 90),  # more grams that the line may grow by
    ),
    min_size=5,
    max_size=5,
)


@settings(deadline=None)  # two cores, shared
@given(amounts_of_five)
def test_the_reach_of_any_share_of_energy_is_that_of_its_substituted_program(
    drawn: list[tuple[int, int, int, int]],
) -> None:
    # Charnes and Cooper's substitution (1962) against what the reach does: grams as shares of the
    # batch's energy, the last column 1 / kcal.
    kcal, protein, grams, growth = np.array(drawn, dtype=float).T
    most = grams + growth
    foods_of_five = table({f"f{i}": (*row[:2], 0) for i, row in enumerate(drawn)})
    recipe = Recipe(
        title="Five",
        servings=1,
        lines=tuple(Line(id=f"f{i}", food=f"f{i}", grams=g) for i, g in enumerate(grams)),
    )
    holds: tuple[Hold, ...] = (
        BatchHold(tolerance=0.2),
        *(LineHold(line=f"f{i}", most=m) for i, m in enumerate(most)),
    )
    brief = Brief(holds=holds, shown=("protein_g",), shown_per=Per.ENERGY)
    low, high = reach(solve(recipe, brief, foods_of_five, SYSTEMS["us"]), "protein_g")

    batch, one = grams.sum(), np.ones((1, 5))
    rows = np.block(
        [
            [kcal[None] / 100, np.zeros((1, 1))],
            [one, np.full((1, 1), -0.8 * batch)],
            [one, np.full((1, 1), -1.2 * batch)],
            [np.eye(5), -most[:, None]],
        ]
    )
    lower = [1.0, 0.0, *([-np.inf] * 6)]
    upper = [1.0, np.inf, *([0.0] * 6)]
    share = np.append(400.0 * protein / 100, 0.0)
    lowest = least(linear_program(share, rows, lower, upper))
    highest = -least(linear_program(-share, rows, lower, upper))
    assert (low, high) == pytest.approx((lowest, highest), rel=1e-6, abs=1e-6)


def light_dip(most_fat: float) -> Answer:
    """60 g sour cream, 30 g mayonnaise, 10 g flavouring; yogurt may stand in for the first two."""
    recipe = Recipe(
        title="Light dip",
        servings=1,
        lines=(
            Line(id="sour-cream", food="sour-cream", grams=60.0),
            Line(id="mayonnaise", food="mayonnaise", grams=30.0, role="fat"),
            Line(id="flavouring", food="flavouring", grams=10.0, role="flavouring"),
        ),
    )
    brief = Brief(
        goals=(Goal(nutrient="fat_g", at_most=most_fat),),
        holds=(HELD, LineHold(line="flavouring", tolerance=0.0)),
        swaps=(Swap(food="yogurt", stands_in_for=("sour-cream", "mayonnaise"), least=0.0),),
        shown=("fat_g",),
    )
    return proven(solve(recipe, brief, table(FIGURES), SYSTEMS["us"]))


@pytest.mark.parametrize(
    ("most_fat", "grams"),
    [
        (34.11, (60, 30, 0)),
        (30, (60, 24.483, 5.517)),
        (25, (60, 17.772, 12.228)),
        (17.055, (60, 7.107, 22.893)),
        (12, (60, 0.322, 29.678)),
        (8, (40.211, 0, 49.789)),
        (4, (19.158, 0, 70.842)),
    ],
)
def test_the_closest_light_dip_is_that_of_least_distance(
    most_fat: float, grams: tuple[float, ...]
) -> None:
    # Least distance in grams, derived by hand. Our manner counts relative changes (60, 30 and 90 g
    # count as one), which here rank the exchanges alike: a gram of fat costs least from mayonnaise
    # to yogurt, (1/30 + 1/90) / 0.745, and only then from sour cream, (1/60 + 1/90) / 0.190.
    answer = light_dip(most_fat)
    assert answer.status is Status.OPTIMAL
    sour_cream, mayonnaise, flavouring, yogurt = answer.exact.tolist()
    assert (sour_cream, mayonnaise, yogurt) == pytest.approx(grams, abs=6e-4)
    assert flavouring == pytest.approx(10.0)
    assert answer.goals[0].met


def test_the_light_dip_says_what_moved_and_what_stands_in() -> None:
    rows = {row.name: row for row in light_dip(25).amounts}
    assert not rows["sour-cream"].moved
    assert not rows["flavouring"].moved
    assert rows["mayonnaise"].after < 30.0
    assert rows["yogurt"].swap is not None
    assert rows["yogurt"].after == pytest.approx(30.0 - rows["mayonnaise"].after)


def test_no_fat_at_all_is_beyond_the_light_dips_reach() -> None:
    # The leanest dip is 90 g of yogurt, 0.36 g fat: sour cream and mayonnaise may go altogether.
    low, high = reach(light_dip(25), "fat_g")
    assert low == pytest.approx(0.36)
    assert high == pytest.approx(90 * 0.749)
    assert light_dip(0.3).status is Status.CONFLICT
    assert light_dip(0.36).status is Status.OPTIMAL
