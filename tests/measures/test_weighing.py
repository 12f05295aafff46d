"""Amounts in grams through a food's own measures."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.errors import BadInput
from reformulate.measures import Amount, Measure, Term, parse_amount, scaled, system, weigh

SR = "SR26 household weight"
# NDB 11282, onions, raw: release 26, household weights.
ONION = (
    Measure(unit="cup", grams=160.0, qualifier="chopped", source=SR),
    Measure(unit="cup", grams=115.0, qualifier="sliced", source=SR),
    Measure(unit="tbsp", grams=10.0, qualifier="chopped", source=SR),
    Measure(unit="piece", grams=150.0, qualifier="large", source=SR),
    Measure(unit="piece", grams=110.0, qualifier='medium (2-1/2" dia)', source=SR),
    Measure(unit="piece", grams=70.0, qualifier="small", source=SR),
)
# NDB 11215, garlic, raw.
GARLIC = (
    Measure(unit="cup", grams=136.0, source=SR),
    Measure(unit="tsp", grams=2.8, source=SR),
    Measure(unit="clove", grams=3.0, source=SR),
)
# NDB 19334, sugar, brown.
SUGAR = (
    Measure(unit="tsp", grams=3.0, qualifier="unpacked", source=SR),
    Measure(unit="cup", grams=220.0, qualifier="packed", source=SR),
    Measure(unit="cup", grams=145.0, qualifier="unpacked", source=SR),
    Measure(unit="tsp", grams=4.6, qualifier="packed", source=SR),
)
# NDB 01123, egg: the release's own sizes.
EGG = (
    Measure(unit="piece", grams=56.0, qualifier="extra large", source=SR),
    Measure(unit="piece", grams=50.0, qualifier="large", source=SR),
)
# Drained weight of a 15 oz can of chickpeas: published, several public pages agree.
CHICKPEAS = (
    Measure(unit="cup", grams=164.0, source=SR),
    Measure(unit="can", grams=255.0, qualifier="15 oz, drained", source="published"),
)
# A cup of water at room temperature weighs its volume: 1 g/mL.
WATER = (Measure(unit="cup", grams=236.5882365, source="1 g/mL"),)
US = system("us")


def grams(text: str, measures: Sequence[Measure], key: str = "us", prep: str = "") -> float:
    return weigh(parse_amount(text), measures, system(key), prep).grams


@pytest.mark.parametrize(
    ("written", "measures", "prep", "mass", "route"),
    [
        ("225 g", (), "", 225.0, "225 g as written"),
        ("8 oz", (), "", 226.796185, "8 oz as written; 1 oz = 28.3495 g"),
        ("2 cups", ONION, "", 320.0, f"1 cup, chopped = 160 g ({SR})"),
        ("2 cups", ONION, "thinly sliced", 230.0, f"1 cup, sliced = 115 g ({SR})"),
        ("1 cup", SUGAR, "", 220.0, f"1 cup, packed = 220 g ({SR})"),
        ("1 cup", SUGAR, "unpacked", 145.0, f"1 cup, unpacked = 145 g ({SR})"),
        ("2 packed tsp", SUGAR, "", 9.2, f"1 tsp, packed = 4.6 g ({SR})"),
        ("2 medium", ONION, "", 220.0, f'1 medium (2-1/2" dia) = 110 g ({SR})'),
        ("1 large", EGG, "", 50.0, f"1 large = 50 g ({SR})"),
        ("1 extra large", EGG, "", 56.0, f"1 extra large = 56 g ({SR})"),
        ("3 cloves", GARLIC, "", 9.0, f"1 clove = 3 g ({SR})"),
        ("3", GARLIC, "", 9.0, f"a piece taken as a clove; 1 clove = 3 g ({SR})"),
        (
            "2 large cloves",
            GARLIC,
            "",
            6.0,
            f"large not told apart; 1 clove = 3 g ({SR})",
        ),
        ("1 tbsp", GARLIC, "", 8.4, f"1 tbsp = 3 tsp; 1 tsp = 2.8 g ({SR})"),
        ("1 pinch", GARLIC, "", 0.175, f"1 pinch = 1/16 tsp; 1 tsp = 2.8 g ({SR})"),
        ("1 tbsp", CHICKPEAS, "", 10.25, f"1 tbsp = 1/16 cup; 1 cup = 164 g ({SR})"),
        (
            "1/4 cup + 2 tbsp",
            ONION,
            "",
            60.0,
            f"1 cup, chopped = 160 g ({SR}); 1 tbsp, chopped = 10 g ({SR})",
        ),
        (
            "1/2 can (15 oz)",
            CHICKPEAS,
            "",
            127.5,
            "1 can (15 oz, drained) = 255 g (published)",
        ),
        (
            "1 can (425 g)",
            CHICKPEAS,
            "",
            255.0,
            "1 can (15 oz, drained) = 255 g (published)",
        ),
        ("1 can", CHICKPEAS, "", 255.0, "1 can (15 oz, drained) = 255 g (published)"),
        (
            "1 tin (400 g)",
            CHICKPEAS,
            "",
            400 * 255 / (15 * 28.349523125),
            "1 tin (400 g) = 239.9 g at the same share of the net weight, 60.0%, as "
            "1 can (15 oz, drained) = 255 g (published)",
        ),
        (
            "1 can (15 oz)",
            WATER,
            "drained",
            15 * 28.349523125,
            "1 can (15 oz) = 425.2 g, net weight as stated. No drained weight is known.",
        ),
        (
            "2 jars (12 fl oz)",
            WATER,
            "",
            24 * 29.5735295625,
            "1 jar (12 fl oz) = 354.9 g, net weight as stated.",
        ),
    ],
)
def test_an_amount_weighs_what_its_route_says(
    written: str, measures: Sequence[Measure], prep: str, mass: float, route: str
) -> None:
    weighed = weigh(parse_amount(written), measures, US, prep)
    assert weighed.grams == pytest.approx(mass, rel=1e-12)
    assert weighed.route == route


def test_a_scaled_tin_lies_in_the_published_range_of_drained_weights() -> None:
    # Published: a 400 g can of chickpeas holds 235 to 250 g drained.
    assert 235 <= grams("1 can (400 g)", CHICKPEAS) <= 250


def test_a_can_of_nearly_the_size_is_that_can_and_any_other_is_scaled() -> None:
    fifteen_ounces = 15 * 28.349523125
    assert grams("1 can (427 g)", CHICKPEAS) == 255.0
    assert grams("1 can (430 g)", CHICKPEAS) == pytest.approx(255.0 * 430 / fifteen_ounces)


@pytest.mark.parametrize(
    ("key", "cup", "tbsp", "tsp"),
    [
        ("us", 236.5882365, 14.78676478125, 4.92892159375),
        ("label", 240, 15, 5),
        ("metric", 250, 15, 5),
        ("uk", 284.130625, 15, 5),
        ("australian", 250, 20, 5),
    ],
)
def test_water_weighs_its_volume_in_every_system(
    key: str, cup: float, tbsp: float, tsp: float
) -> None:
    assert grams("1 cup", WATER, key) == pytest.approx(cup, rel=1e-12)
    assert grams("1 tbsp", WATER, key) == pytest.approx(tbsp, rel=1e-12)
    assert grams("1 tsp", WATER, key) == pytest.approx(tsp, rel=1e-12)
    assert grams("100 ml", WATER, key) == pytest.approx(100, rel=1e-12)


def test_an_australian_cup_weighs_twelve_and_a_half_tablespoons() -> None:
    assert grams("1 cup", WATER, "australian") == pytest.approx(
        grams("12 1/2 tbsp", WATER, "australian"), rel=1e-12
    )


def test_another_systems_spoon_goes_by_density_and_says_so() -> None:
    weighed = weigh(parse_amount("1 tbsp"), ONION, system("australian"))
    assert weighed.grams == pytest.approx(10.0 * 20 / 14.78676478125, rel=1e-12)
    assert weighed.route == (
        f"1 tbsp (Australian) = 20 mL = 1.353 tbsp (US customary); 1 tbsp, chopped = 10 g ({SR})"
    )


def test_density_comes_from_the_measure_nearest_in_volume() -> None:
    assert "1 cup = 136 g" in weigh(parse_amount("1 pint"), GARLIC, US).route
    assert "1 tsp = 2.8 g" in weigh(parse_amount("1 tbsp"), GARLIC, US).route
    assert "1 cup = 136 g" in weigh(parse_amount("100 ml"), GARLIC, US).route


def test_density_keeps_to_the_named_qualifier_and_the_preparation() -> None:
    # 1 tbsp of packed sugar is 3 packed tsp, of unpacked 3 unpacked tsp.
    assert grams("1 packed tbsp", SUGAR) == pytest.approx(13.8)
    assert grams("1 tbsp", SUGAR, prep="unpacked") == pytest.approx(9.0)


ONION_HAS = (
    "It has 1 cup, chopped (160 g), 1 cup, sliced (115 g), 1 tbsp, chopped (10 g), "
    '1 large (150 g), 1 medium (2-1/2" dia) (110 g), 1 small (70 g): '
    "use one of these or write grams."
)


@pytest.mark.parametrize(
    ("written", "measures", "key", "what", "fix"),
    [
        ("1 jumbo", ONION, "us", "This food has no weight for 1 jumbo.", ONION_HAS),
        ("1 packed cup", ONION, "us", "This food has no weight for 1 packed cup.", ONION_HAS),
        ("2 cloves", ONION, "us", "This food has no weight for 1 clove.", ONION_HAS),
        (
            "2",
            CHICKPEAS,
            "us",
            "This food has no weight for 1 piece.",
            "It has 1 cup (164 g), 1 can (15 oz, drained) (255 g): "
            "use one of these or write grams.",
        ),
        (
            "2 cups",
            (),
            "us",
            "This food has no weight for 1 cup.",
            "It has no household measures: write grams.",
        ),
        (
            "1 jar",
            WATER,
            "us",
            "This food has no weight for 1 jar without its size.",
            "Write the net weight in brackets, as in 1 jar (400 g), or grams.",
        ),
        (
            "1 fl oz",
            WATER,
            "metric",
            "The system of measures 'Metric' has no fl oz.",
            "Write millilitres or grams instead.",
        ),
    ],
)
def test_an_amount_without_a_measure_is_refused_with_those_there_are(
    written: str, measures: Sequence[Measure], key: str, what: str, fix: str
) -> None:
    with pytest.raises(BadInput) as caught:
        weigh(parse_amount(written), measures, system(key))
    assert str(caught.value) == f"amount '{written}': {what} {fix}"


def test_a_bare_count_is_refused_where_two_kinds_of_piece_could_be_meant() -> None:
    both = (*GARLIC, Measure(unit="head", grams=50.0, source="common practice"))
    with pytest.raises(BadInput):
        weigh(parse_amount("2"), both, US)


def test_all_terms_without_a_measure_are_told_at_once() -> None:
    with pytest.raises(BadInput) as caught:
        weigh(parse_amount("1 jar + 2 cloves"), ONION, US)
    assert [p.where for p in caught.value.problems] == ["amount '1 jar + 2 cloves'"] * 2


@given(
    st.sampled_from(["cup", "tbsp", "tsp", "pint", "piece", "ml", "g", "lb"]),
    st.fractions(min_value=Fraction(1, 8), max_value=50, max_denominator=24),
    st.fractions(min_value=Fraction(1, 8), max_value=50, max_denominator=24),
)
def test_weight_is_proportional_to_the_amount(unit: str, many: Fraction, factor: Fraction) -> None:
    amount = Amount((Term(quantity=many, unit=unit),))
    once = weigh(amount, ONION, US).grams
    assert weigh(scaled(amount, factor), ONION, US).grams == pytest.approx(
        float(factor) * once, rel=1e-12
    )


@given(st.permutations(ONION))
def test_a_named_size_does_not_depend_on_the_order_of_the_measures(
    measures: list[Measure],
) -> None:
    assert grams("1 medium", measures) == 110.0
    assert grams("1 cup", measures, prep="sliced") == 115.0


def _household_weights() -> list[tuple[str, float, str, float]]:
    path = Path(__file__).parents[2].parent / "shared" / "data" / "sr26" / "WEIGHT.txt"
    if not path.exists():
        pytest.skip("the published household weights are not beside this checkout")
    with path.open(encoding="latin-1", newline="") as lines:
        rows = list(csv.reader(lines, delimiter="^", quotechar="~"))
    return [(row[0], float(row[2]), row[3], float(row[4])) for row in rows]


def test_the_releases_own_weights_come_back_from_an_amount() -> None:
    checked = 0
    for food, count, text, mass in _household_weights():
        if text not in ("cup", "tbsp", "tsp", "clove", "slice", "stick") or not count or not mass:
            continue
        measures = (Measure(unit=text, grams=mass / count, source=f"NDB {food}, SR26"),)
        many = Term(quantity=Fraction(str(count)), unit=text)
        assert weigh(Amount((many,)), measures, US).grams == pytest.approx(mass, rel=1e-9)
        checked += 1
    assert checked > 2000


def test_the_foods_of_these_tests_have_the_releases_figures() -> None:
    by_food: dict[str, set[tuple[str, float]]] = {}
    for food, count, text, mass in _household_weights():
        if count == 1:
            by_food.setdefault(food, set()).add((text, mass))
    assert {("cup, chopped", 160.0), ("cup, sliced", 115.0), ("tbsp chopped", 10.0)} <= by_food[
        "11282"
    ]
    assert {('medium (2-1/2" dia)', 110.0), ("large", 150.0), ("small", 70.0)} <= by_food["11282"]
    assert {("cup", 136.0), ("tsp", 2.8), ("clove", 3.0)} <= by_food["11215"]
    assert {("cup packed", 220.0), ("tsp packed", 4.6), ("cup unpacked", 145.0)} <= by_food["19334"]
    assert {("large", 50.0), ("extra large", 56.0)} <= by_food["01123"]
    assert ("cup", 164.0) in by_food["16057"]
