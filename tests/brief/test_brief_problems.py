"""What a brief that cannot be solved says: where, what, what to do."""

from __future__ import annotations

import math

import pytest

from reformulate import (
    ENERGY_FACTORS,
    SYSTEMS,
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
    Swap,
    brief_problems,
    solve,
)
from tests.recipes.plain_sums import FOODS

RECIPE = Recipe(
    title="t",
    servings=4,
    lines=(
        Line(id="sour-cream", food="sour-cream", grams=200.0),
        Line(id="mayonnaise", food="mayonnaise", grams=50.0, role="fat"),
        Line(id="garlic", food="garlic", grams=3.0, role="flavouring"),
    ),
)


def problems(**brief: object) -> list[str]:
    return [str(problem) for problem in brief_problems(Brief(**brief), RECIPE)]  # type: ignore[arg-type]


def of_goal(**goal: object) -> list[str]:
    return problems(goals=(Goal(**goal),))  # type: ignore[arg-type]


def test_a_brief_in_order_has_no_problems() -> None:
    assert (
        problems(
            goals=(
                Goal(nutrient="energy_kcal", at_most=100.0),
                Goal(nutrient="energy_kcal", at_most=60.0, per=Per.ORIGINAL),
                Goal(nutrient="fat_g", at_least=0.0, at_most=30.0, per=Per.ENERGY),
                Goal(nutrient="protein_g", at_least=5.0, at_most=5.0, per=Per.HUNDRED_GRAMS),
            ),
            holds=(
                BatchHold(),
                RatioHold(of=("garlic",), to=("role:base", "mayonnaise")),
                LineHold(line="garlic", tolerance=0.0),
                LineHold(line="mayonnaise", least=5.0, most=5.0),
                RoleHold(role="base", tolerance=1.0),
            ),
            swaps=(
                Swap(food="yogurt-strained-nonfat", stands_in_for=("sour-cream", "mayonnaise")),
            ),
        )
        == []
    )


def test_a_goal_on_a_nutrient_nobody_knows_gets_the_nearest_one() -> None:
    assert of_goal(nutrient="energy_kcl", at_most=1.0) == [
        "goal, nutrient: found 'energy_kcl'. Did you mean 'energy_kcal'?"
    ]


def test_a_nutrient_like_none_gets_the_list() -> None:
    (told,) = of_goal(nutrient="zzzz", at_most=1.0)
    assert told.startswith("goal, nutrient: found 'zzzz'. Expected one of: added_sugars_g, ")


def test_a_goal_without_a_limit_asks_for_one() -> None:
    assert of_goal(nutrient="fat_g") == [
        "goal on fat_g: has no limit. Write at_least, at_most, or both."
    ]


@pytest.mark.parametrize(
    ("limit", "shown"), [(math.nan, "nan"), (math.inf, "inf"), (-1.0, "-1"), (1e10, "1e+10")]
)
@pytest.mark.parametrize("side", ["at_least", "at_most"])
def test_a_limit_has_to_be_a_number_of_at_least_nothing(
    limit: float, shown: str, side: str
) -> None:
    (told,) = of_goal(nutrient="fat_g", **{side: limit})
    assert told.startswith(f"goal on fat_g: found the limit {shown}. Expected 0 ")


def test_limits_the_wrong_way_round_are_told() -> None:
    assert of_goal(nutrient="fat_g", at_least=5.0, at_most=4.0) == [
        "goal on fat_g: asks for at least 5 and at most 4. Lower the one or raise the other."
    ]


@pytest.mark.parametrize("nutrient", ["sodium_mg", "energy_kcal", "water_g"])
def test_only_what_brings_energy_has_a_share_of_it(nutrient: str) -> None:
    assert of_goal(nutrient=nutrient, at_most=5.0, per=Per.ENERGY) == [
        f"goal on {nutrient}: has no share of energy. "
        f"A share of energy can be asked of: {', '.join(ENERGY_FACTORS)}."
    ]


def test_two_goals_on_one_thing_are_joined() -> None:
    assert problems(
        goals=(Goal(nutrient="fat_g", at_least=1.0), Goal(nutrient="fat_g", at_most=9.0))
    ) == [
        "goal on fat_g: there are two goals per serving. "
        "Join them into one with at_least and at_most."
    ]


def test_a_nutrient_shown_has_to_exist() -> None:
    assert problems(shown=("fat",))[0].startswith("shown: found 'fat'. Did you mean 'fat_g'?")


def test_a_hold_on_a_line_that_is_not_there_gets_the_nearest() -> None:
    assert problems(holds=(LineHold(line="garlik", most=1.0),)) == [
        "hold 1, line: found 'garlik'. Did you mean 'garlic'?"
    ]


def test_a_line_held_between_contradictory_limits_is_told() -> None:
    assert problems(holds=(BatchHold(), LineHold(line="garlic", least=5.0, most=4.0))) == [
        "hold 2 on garlic: asks for at least 5 g and at most 4 g. Lower the one or raise the other."
    ]


def test_a_hold_that_holds_nothing_is_told() -> None:
    assert problems(holds=(LineHold(line="garlic"),)) == [
        "hold 1 on garlic: holds nothing. Write tolerance, least or most."
    ]


@pytest.mark.parametrize(("mass", "shown"), [(-1.0, "-1"), (math.nan, "nan"), (math.inf, "inf")])
@pytest.mark.parametrize("side", ["least", "most"])
def test_limits_of_a_line_are_grams(mass: float, shown: str, side: str) -> None:
    assert problems(holds=(LineHold(line="garlic", **{side: mass}),)) == [
        f"hold 1, {side}: found {shown}. Expected grams, 0 to 1000000."
    ]


@pytest.mark.parametrize(("tolerance", "shown"), [(-0.1, "-0.1"), (1.5, "1.5"), (math.nan, "nan")])
def test_a_tolerance_is_a_fraction(tolerance: float, shown: str) -> None:
    for hold in (
        BatchHold(tolerance=tolerance),
        RoleHold(role="base", tolerance=tolerance),
        RatioHold(of=("garlic",), to=("mayonnaise",), tolerance=tolerance),
    ):
        assert problems(holds=(hold,)) == [
            f"hold 1, tolerance: found {shown}. Expected a fraction from 0 to 1."
        ]
    (told,) = problems(holds=(LineHold(line="garlic", tolerance=tolerance),))
    assert told.startswith(f"hold 1, tolerance: found {shown}. Expected ")
    (told,) = problems(swap_band=tolerance)
    assert told.startswith(f"swap_band: found {shown}. Expected ")


def test_a_group_is_not_held_against_itself() -> None:
    assert problems(holds=(RatioHold(of=("role:base",), to=("garlic", "sour-cream")),)) == [
        "hold 1: holds 'sour-cream' against itself. Leave each line on one side of the ratio."
    ]


def test_a_group_names_something() -> None:
    assert problems(holds=(RatioHold(of=(), to=("garlic",)),)) == [
        "hold 1, of: is empty. Name lines or roles, as in 'role:base'."
    ]


def test_a_member_of_a_group_that_is_not_there_gets_the_nearest() -> None:
    assert problems(holds=(RatioHold(of=("role:basse",), to=("garlic",)),)) == [
        "hold 1, of: found 'role:basse'. Did you mean 'role:base'?"
    ]


@pytest.mark.parametrize("ratio", [0.0, -1.0, math.nan, math.inf])
def test_a_ratio_is_a_positive_number(ratio: float) -> None:
    (told,) = problems(holds=(RatioHold(of=("garlic",), to=("mayonnaise",), ratio=ratio),))
    assert told.startswith(f"hold 1, ratio: found {ratio:g}. Expected more than 0")


def test_a_role_that_no_line_has_cannot_be_held() -> None:
    assert problems(holds=(RoleHold(role="acid"),)) == [
        "hold 1, role: found 'acid', which no line has. Expected one of: base, fat, flavouring."
    ]


@pytest.mark.parametrize(
    "pair",
    [
        (BatchHold(), BatchHold(tolerance=0.1)),
        (LineHold(line="garlic", most=5.0), LineHold(line="garlic", least=1.0)),
        (RoleHold(role="base"), RoleHold(role="base", tolerance=0.2)),
        (
            RatioHold(of=("garlic", "mayonnaise"), to=("sour-cream",)),
            RatioHold(of=("mayonnaise", "garlic"), to=("sour-cream",), ratio=2.0),
        ),
    ],
    ids=["batch", "line", "role", "ratio"],
)
def test_two_holds_on_one_thing_are_told(pair: tuple[object, object]) -> None:
    assert problems(holds=pair) == ["hold 2: holds what another hold holds. Keep one of them."]


def test_a_swap_for_a_line_that_is_not_there_gets_the_nearest() -> None:
    assert problems(swaps=(Swap(food="cheddar", stands_in_for=("sour-creme",)),)) == [
        "swap 1 (cheddar), stands_in_for: found 'sour-creme'. Did you mean 'sour-cream'?"
    ]


def test_a_food_does_not_stand_in_for_itself() -> None:
    assert problems(swaps=(Swap(food="garlic", stands_in_for=("garlic",)),)) == [
        "swap 1 (garlic): stands in for 'garlic', the same food. Name another food."
    ]


def test_a_swap_stands_in_for_something() -> None:
    assert problems(swaps=(Swap(food="cheddar", stands_in_for=()),)) == [
        "swap 1 (cheddar): stands in for nothing. Name at least one line in stands_in_for."
    ]


@pytest.mark.parametrize("value", [0.0, -1.0, math.nan, math.inf])
def test_the_figures_of_a_swap_are_positive(value: float) -> None:
    swap = Swap(food="cheddar", stands_in_for=("garlic",), grams_per_gram=value)
    (told,) = problems(swaps=(swap,))
    assert told.startswith(
        f"swap 1 (cheddar), grams_per_gram: found {value:g}. Expected more than 0"
    )
    swap = Swap(food="cheddar", stands_in_for=("garlic",), largest_share=value)
    assert problems(swaps=(swap,)) == [
        f"swap 1 (cheddar), largest_share: found {value:g}. Expected more than 0 and at most 1."
    ]


def test_a_swap_with_a_food_that_is_not_there_is_refused() -> None:
    brief = Brief(swaps=(Swap(food="chedar", stands_in_for=("garlic",)),))
    with pytest.raises(BadInput, match=r"There is no food with this key\. Did you mean cheddar"):
        solve(RECIPE, brief, FOODS, SYSTEMS["us"])


def test_solving_tells_all_problems_at_once() -> None:
    brief = Brief(
        goals=(Goal(nutrient="fat_g"), Goal(nutrient="energy", at_most=1.0)),
        holds=(LineHold(line="garlic"), RoleHold(role="acid")),
        swaps=(Swap(food="garlic", stands_in_for=("garlic",)),),
        swap_band=2.0,
    )
    with pytest.raises(BadInput) as caught:
        solve(RECIPE, brief, FOODS, SYSTEMS["us"])
    places = [problem.where for problem in caught.value.problems]
    assert places == [
        "goal on fat_g",
        "goal, nutrient",
        "hold 1 on garlic",
        "hold 2, role",
        "swap 1 (garlic)",
        "swap_band",
    ]
