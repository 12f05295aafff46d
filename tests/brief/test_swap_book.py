"""The swap book: each exchange is possible, says truly what changes and warns of what it brings."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.brief import Exchange, exchanges_for, swap_book, swap_for
from reformulate.foods import INDEX, food_table, stated_character
from reformulate.foods.character import STATED
from reformulate.sets import read_set

DEMO = Path(__file__).resolve().parents[2] / "sample_sets" / "harvest-evening"
BOOK = swap_book()
FOODS = food_table()
KINDS = {
    *("base", "fat", "cheese", "sweetener", "salt", "acid", "thickener", "nut", "legume"),
    *("plant-based", "allergen-avoiding", "seasoning", "liquid", "protein"),
}

ALLERGENS = {
    "milk": r"(sour-|half-)?cream(?!-of-tartar)|butter|creme|yogurt|cottage|ricotta|milk-|mascarpone"
    r"|quark|ghee|cheese-sauce|whey|whipped-topping|margarine|dressing-(ranch|blue|caesar)|queso-dip|pesto|bouillon",
    "egg": r"egg-|mayonnaise(?!-tofu)|dressing-(ranch|blue|caesar|thousand|honey)|tartar|bread-egg"
    r"|wonton|crab-imitation",
    "mustard": r"mustard|mayonnaise|dressing-|tartar",
    "fish": r"fish-sauce|worcestershire|dressing-caesar|salmon|trout|whitefish|haddock|herring|mackerel"
    r"|tuna|anchovies|sardines|caviar|roe|cod-|crab-imitation",
    "crustacean": r"crab|shrimp|lobster",
    "mollusc": r"clam|oyster|mussel|scallop",
    "tree nut": r"(oil-)?(almond|cashew|walnut|pecan|pistachio|pine-nut|hazelnut|macadamia)|pesto",
    "peanut": r"(oil-)?peanut",
    "wheat": r"flour$|flour-whole|bread|cracker(?!s-rye)|pita|naan|focaccia|tortilla-flour|croutons"
    r"|bagel|melba|wonton|phyllo|pretzel|couscous|bulgur|wheat|soy-sauce|teriyaki|hoisin|crab-imitation",
    "gluten": r"beer|crispbread|crackers-rye|oat|yeast-extract|miso|worcestershire",
    "soy": r"tofu|tempeh|soy|edamame|miso|tamari|teriyaki|hoisin|mayonnaise-tofu|crab-imitation",
    "sesame": r"tahini|sesame|oil-sesame|hummus",
    "celery": r"celer|vegetable-juice|broth-|bouillon|onion-soup",
    "sulphites": r"wine|vinegar-(red|balsamic)|apricots-dried|(lemon|lime)-juice-bottled|horseradish"
    r"|wasabi-paste|potato-flakes|coconut-dried|tomatoes-sun|mustard-dijon|raisins|molasses|shrimp-c",
    "lupin": r"lupin",
}
"""What each allergen is known by: how the keys of the foods that hold it, or often do, begin."""

CLAIMS = {
    "lighter": ("energy_kcal", -1),
    "more energy": ("energy_kcal", 1),
    "less fat": ("fat_g", -1),
    "less saturated fat": ("saturated_g", -1),
    "more saturated fat": ("saturated_g", 1),
    "less salt": ("sodium_mg", -1),
    "saltier": ("sodium_mg", 1),
    "less sugar": ("sugars_g", -1),
    "more protein": ("protein_g", 1),
    "less protein": ("protein_g", -1),
    "more fibre": ("fibre_g", 1),
    "less cholesterol": ("cholesterol_mg", -1),
}
"""Words in an effect or a caution, the nutrient they speak of and which way."""


def pairs() -> Iterator[tuple[str, Exchange]]:
    return ((food, exchange) for exchange in BOOK for food in exchange.replaces)


def exchange_of(food: str, stand_in: str) -> Exchange:
    return next(e for e in exchanges_for(food) if e.food == stand_in)


def allergens(key: str) -> set[str]:
    found = {allergen for allergen, keys in ALLERGENS.items() if re.match(keys, key)}
    return found | ({"milk"} if FOODS.food(key).group == "Cheese" else set())


def brought(exchange: Exchange) -> set[str]:
    """Return the allergens of the stand-in that one of what it replaces does not hold."""
    holds = allergens(exchange.food)
    return {a for food in exchange.replaces for a in holds - allergens(food)}


def named(allergen: str, text: str) -> bool:
    return re.search(rf"\b{allergen}s?\b", text.lower()) is not None


def per_gram(key: str, nutrient: str) -> float:
    row, column = FOODS.index(key), INDEX[nutrient]
    assert FOODS.known[row, column], f"{key}: {nutrient} is not known"
    return float(FOODS.values[row, column]) / 100


def grams(key: str, unit: str, qualifier: str = "") -> float:
    return next(
        m.grams for m in FOODS.food(key).measures if m.unit == unit and m.qualifier == qualifier
    )


def test_the_book_has_well_over_a_hundred_exchanges() -> None:
    assert len(BOOK) >= 140


def test_the_book_is_read_once() -> None:
    assert swap_book() is swap_book()


def test_every_food_of_the_book_is_in_the_food_table() -> None:
    assert [k for e in BOOK for k in (*e.replaces, e.food) if k not in FOODS] == []


def test_no_pair_of_foods_stands_in_the_book_twice() -> None:
    found = [(food, exchange.food) for food, exchange in pairs()]
    assert len(found) == len(set(found))


def test_no_food_stands_in_for_itself() -> None:
    assert [e.food for e in BOOK if e.food in e.replaces] == []


def test_every_kind_is_known_and_used() -> None:
    assert {e.kind for e in BOOK} == KINDS


def equal(amount: Callable[[str], float]) -> Callable[[str, str], float]:
    return lambda food, stand_in: amount(food) / amount(stand_in)


def taste(key: str) -> Callable[[str], float]:
    column = STATED.index(key)
    return lambda food: float(stated_character([FOODS.food(food)]).values[0, column])


def spoons(food: str, stand_in: str) -> float:
    fresh = next(m.grams for m in FOODS.food(food).measures if m.unit == "tbsp")
    return next(m.grams for m in FOODS.food(stand_in).measures if m.unit == "tsp") / fresh


RATIOS = {
    "equal sweetness": equal(taste("sweetness")),
    "equal sourness": equal(taste("sourness")),
    "equal pungency": equal(taste("pungency")),
    "equal sodium": equal(lambda food: per_gram(food, "sodium_mg")),
    "equal dry matter": equal(lambda food: 1 - per_gram(food, "water_g")),
    "the same fat as butter": equal(lambda food: per_gram(food, "fat_g")),
    "butter is about four fifths fat, oil is all fat": equal(lambda food: per_gram(food, "fat_g")),
    "1 tbsp fresh for 1 tsp dried": spoons,
}
"""Grams of the stand-in per gram replaced, by what a computed source says it rests on."""


def faults(check: Callable[[Exchange], str | None]) -> list[str]:
    """Return what a check has against each exchange, with the two foods it is about."""
    found = ((exchange, check(exchange)) for exchange in BOOK)
    return [f"{e.food} for {';'.join(e.replaces)}: {fault}" for e, fault in found if fault]


def test_every_ratio_and_share_is_in_range() -> None:
    assert [e for e in BOOK if not 0.01 <= e.grams_per_gram <= 10] == []
    assert [e for e in BOOK if not 0.1 <= e.largest_share <= 1] == []


def test_effects_and_cautions_are_short_phrases_in_sentence_case() -> None:
    phrases = [(e, phrase) for e in BOOK for phrase in (e.effect, e.caution)]
    sound = re.compile(r"(?=.{5,90}$)[A-Z].*[^.,;: ]")
    assert [phrase for e, phrase in phrases if not sound.fullmatch(phrase)] == []


def test_every_exchange_says_where_its_figures_come_from() -> None:
    sources = re.compile(r"common practice|from memory|computed: .{10,}")
    assert [e for e in BOOK if not sources.fullmatch(e.source)] == []


def test_a_caution_names_each_allergen_the_stand_in_brings_and_no_other() -> None:
    def check(exchange: Exchange) -> str | None:
        said = re.search(r"Brings ([^;:]+)", exchange.caution)
        names = {a for a in ALLERGENS if said and named(a, said[1])}
        return None if names == brought(exchange) else f"{names} but brings {brought(exchange)}"

    assert faults(check) == []


def test_an_exchange_claims_only_what_the_food_table_bears_out() -> None:
    def check(exchange: Exchange) -> str | None:
        said = f"{exchange.effect} {exchange.caution}".lower()
        for claim, (nutrient, way) in CLAIMS.items():
            if re.search(rf"\b{claim}\b", said):
                for food in exchange.replaces:
                    before = per_gram(food, nutrient)
                    after = per_gram(exchange.food, nutrient) * exchange.grams_per_gram
                    # A twentieth is the least a cook or a label would call a difference.
                    if (after - before) * way <= 0.05 * before:
                        return f"not {claim} than {food}"
        return None

    assert faults(check) == []


def test_a_stand_in_is_free_of_the_allergen_it_is_said_to_avoid() -> None:
    def check(exchange: Exchange) -> str | None:
        for allergen in ALLERGENS:
            said = rf"\b{allergen} free\b|\b(no|free of) {allergen}s?\b"
            if re.search(said, exchange.effect.lower()):
                holders = {allergen in allergens(food) for food in exchange.replaces}
                if holders != {True} or allergen in allergens(exchange.food):
                    return allergen
        return None

    assert faults(check) == []


def test_a_computed_ratio_is_the_one_its_source_gives() -> None:
    def check(exchange: Exchange) -> str | None:
        basis = exchange.source.removeprefix("computed: ")
        for food in exchange.replaces if basis in RATIOS else ():
            expected = RATIOS[basis](food, exchange.food)
            if exchange.grams_per_gram != pytest.approx(expected, rel=0.06):
                return f"{exchange.grams_per_gram}, not {expected:.3g}"
        return None

    assert faults(check) == []


def test_every_allergen_free_stand_in_may_take_the_whole_share() -> None:
    partly = [e for e in BOOK if re.search(r"\w free\b", e.effect) and e.largest_share < 1]
    assert partly == []


def test_the_claims_and_sources_that_are_tested_occur() -> None:
    said = " ".join(f"{e.effect} {e.caution}" for e in BOOK).lower()
    assert [claim for claim in CLAIMS if claim not in said] == []
    sources = {e.source.removeprefix("computed: ") for e in BOOK}
    assert set(RATIOS) <= sources


def test_garlic_powder_does_the_work_of_seven_and_a_half_times_its_weight_of_fresh() -> None:
    dried = exchange_of("garlic", "garlic-powder")
    fresh = exchange_of("garlic-powder", "garlic")
    # A clove of 3 g for an eighth of a teaspoon, which the table weighs at 3.1 g a teaspoon.
    powder = grams("garlic-powder", "tsp") / 8
    assert grams("garlic", "clove") / powder == pytest.approx(7.5, rel=0.05)
    assert 1 / dried.grams_per_gram == pytest.approx(7.5, rel=0.05)
    assert fresh.grams_per_gram == pytest.approx(7.5)
    assert "clove" in dried.source


def test_ground_ginger_and_onion_powder_follow_the_spoon_ratios_of_the_trade() -> None:
    ginger = grams("ginger-ground", "tsp") / 4 / grams("ginger", "tbsp", "grated")
    onion = grams("onion-powder", "tbsp") / grams("onion-yellow", "piece", "medium")
    flakes = 3 * grams("onion-flakes", "tbsp") / grams("onion-yellow", "piece", "medium")
    assert exchange_of("ginger", "ginger-ground").grams_per_gram == pytest.approx(ginger, rel=0.02)
    assert exchange_of("onion-yellow", "onion-powder").grams_per_gram == pytest.approx(
        onion, rel=0.02
    )
    assert exchange_of("onion-yellow", "onion-flakes").grams_per_gram == pytest.approx(
        flakes, rel=0.02
    )


def test_a_teaspoon_of_mustard_powder_replaces_a_tablespoon_of_mustard() -> None:
    ratio = grams("mustard-powder", "tsp") / grams("mustard-yellow", "tbsp")
    assert exchange_of("mustard-yellow", "mustard-powder").grams_per_gram == pytest.approx(
        ratio, rel=0.02
    )
    back = exchange_of("mustard-powder", "mustard-yellow").grams_per_gram
    assert back == pytest.approx(1 / ratio, rel=0.02)


def test_dried_herbs_replace_fresh_ones_by_less_weight() -> None:
    dried = [(f, e) for f, e in pairs() if e.food == f"{f}-dried"]
    assert len(dried) >= 7
    assert all(0.05 <= e.grams_per_gram <= 0.5 for _, e in dried)


def test_a_starch_thickens_as_twice_its_weight_of_flour() -> None:
    assert exchange_of("flour", "cornstarch").grams_per_gram == 0.5
    assert exchange_of("cornstarch", "flour").grams_per_gram == 2


def test_honey_always_warns_of_infants() -> None:
    honey = [e for e in BOOK if e.food == "honey"]
    assert honey
    assert all("infants" in e.caution for e in honey)


def test_an_uncertain_exchange_is_never_passed_off_as_computed() -> None:
    computed = [e for e in BOOK if e.source.startswith("computed")]
    assert len(computed) >= 30
    assert all(len(e.source) > len("computed: ") for e in computed)


def test_every_demo_recipe_has_candidates_for_most_of_its_foods() -> None:
    for document in read_set(DEMO).documents:
        foods = {FOODS.food(line.food).key for line in document.recipe.lines}
        met = {food for food in foods if exchanges_for(food)}
        assert len(met) >= 0.6 * len(foods), document.recipe.title
        assert sum(len(exchanges_for(food)) for food in met) >= 15, document.recipe.title


def test_a_food_no_book_knows_has_no_exchanges() -> None:
    assert exchanges_for("no-such-food") == ()


@given(st.sampled_from(sorted({food for food, _ in pairs()})))
def test_the_book_answers_for_each_food_it_knows_and_only_for_that(food: str) -> None:
    found = exchanges_for(food)
    assert found
    assert all(food in e.replaces for e in found)
    assert found == tuple(e for e in BOOK if food in e.replaces)


def test_the_users_own_exchange_comes_first_and_hides_the_one_of_the_book() -> None:
    own = replace(exchange_of("sour-cream", "yogurt-strained-whole"), largest_share=0.25)
    found = exchanges_for("sour-cream", (own,))
    assert found[0] is own
    assert [e.largest_share for e in found if e.food == own.food] == [0.25]
    assert len(found) == len(exchanges_for("sour-cream"))


def test_the_users_exchange_for_another_food_is_left_out() -> None:
    own = Exchange(replaces=("cheddar",), food="parmesan", kind="cheese")
    assert exchanges_for("sour-cream", (own,)) == exchanges_for("sour-cream")


def test_a_swap_takes_over_the_figures_of_its_exchange() -> None:
    exchange = exchange_of("cream-cheese", "beans-white-cooked")
    swap = swap_for(exchange, ("soft", "firm"))
    assert (swap.food, swap.stands_in_for) == ("beans-white-cooked", ("soft", "firm"))
    assert swap.grams_per_gram == exchange.grams_per_gram
    assert swap.largest_share == exchange.largest_share
    assert swap.caution == exchange.caution
    assert swap.allowed
