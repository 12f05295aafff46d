"""Declared figures: what a rule prints, and what may lie behind what is printed.

Examples: 21 CFR 101.9(c) and its meat twin 9 CFR 317.309, worked through on both sides of every
edge; the EU ones from the Commission services' guidance of December 2012.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.foods.own import Printed, Rounding, bands_of, permitted, undone
from reformulate.foods.own.bands import Band, by_last_digit, printed_between
from reformulate.foods.own.label_rounding import EU_LABEL, SERVING_MASS, US_LABEL

US, EU = Rounding.US_LABEL, Rounding.EU_LABEL

US_EXAMPLES = [
    (
        "energy_kcal",
        [4.9, 5.0, 47.4, 47.5, 50.0, 54.9, 55.0, 116.7],
        [0, 5, 45, 50, 50, 50, 60, 120],
    ),
    ("fat_g", [0.49, 0.5, 0.74, 0.75, 4.74, 4.75, 5.4, 5.5], [0, 0.5, 0.5, 1, 4.5, 5, 5, 6]),
    ("cholesterol_mg", [1.9, 2.0, 5.0, 7.4, 7.5], [0, "<5", "<5", 5, 10]),
    ("sodium_mg", [4.9, 5.0, 137.5, 140, 144.9, 145, 99.2], [0, 5, 140, 140, 140, 150, 100]),
    ("protein_g", [0.49, 0.5, 0.99, 1.49, 1.5, 2.96], [0, "<1", "<1", 1, 2, 3]),
    ("carbohydrate_g", [0.49, 0.5, 0.99, 1.49, 1.5, 2.96], [0, "<1", "<1", 1, 2, 3]),
    ("calcium_mg", [52.95], [50]),
    ("iron_mg", [0.94, 0.95], [0.9, 1.0]),
]
EU_EXAMPLES = [
    ("salt_g", [0.827, 1.26, 0.0125], [0.83, 1.3, 0]),
    ("fat_g", [6.616, 12.34, 0.4], [6.6, 12, 0]),
    ("protein_g", [9.852], [9.9]),
    ("energy_kj", [492.9], [493]),
    ("energy_kcal", [118.0], [118]),
]


def cases(examples):
    for nutrient, amounts, figures in examples:
        for amount, figure in zip(amounts, figures, strict=True):
            below = isinstance(figure, str)
            yield nutrient, amount, Printed(float(str(figure).lstrip("<")), below)


@pytest.mark.parametrize(("nutrient", "amount", "figure"), list(cases(US_EXAMPLES)))
def test_us_labels_print_the_published_figure(nutrient, amount, figure):
    assert permitted(bands_of(US, nutrient), amount)[0] == figure


@pytest.mark.parametrize(("nutrient", "amount", "figure"), list(cases(EU_EXAMPLES)))
def test_eu_labels_print_the_published_figure(nutrient, amount, figure):
    assert permitted(bands_of(EU, nutrient), amount)[0] == figure


@pytest.mark.parametrize(
    ("nutrient", "figure", "low", "high"),
    [
        ("energy_kcal", 0, 0, 5),
        ("energy_kcal", 5, 2.5, 7.5),  # below 5 "may" be 0, or go to the nearest 5
        ("energy_kcal", 50, 47.5, 55),  # steps of 5 below, of 10 above
        ("energy_kcal", 60, 55, 65),
        ("energy_kcal", 130, 125, 135),
        ("fat_g", 0, 0, 0.5),
        ("fat_g", 0.5, 0.5, 0.75),
        ("fat_g", 4.5, 4.25, 4.75),
        ("fat_g", 5, 4.75, 5.5),
        ("saturated_g", 2.5, 2.25, 2.75),
        ("cholesterol_mg", 0, 0, 2.5),
        ("cholesterol_mg", 15, 12.5, 17.5),
        ("sodium_mg", 5, 5, 7.5),
        ("sodium_mg", 140, 137.5, 145),
        ("sodium_mg", 180, 175, 185),
        ("sugars_g", 1, 0.5, 1.5),
        ("added_sugars_g", 0, 0, 0.5),
        ("vitamin_d_ug", 0, 0, 0.4),  # up to 2 % of 20 µg
        ("potassium_mg", 0, 0, 94),  # up to 2 % of 4700 mg
        ("iron_mg", 0.4, 0.35, 0.45),
    ],
)
def test_undoing_a_us_figure_gives_the_range_worked_by_hand(nutrient, figure, low, high):
    assert undone(bands_of(US, nutrient), figure) == pytest.approx((low, high), abs=1e-12)


@pytest.mark.parametrize(
    ("nutrient", "limit", "low", "high"),
    [("protein_g", 1, 0.5, 1), ("fibre_g", 1, 0.5, 1), ("cholesterol_mg", 5, 2, 5)],
)
def test_less_than_is_a_range_of_its_own(nutrient, limit, low, high):
    assert undone(bands_of(US, nutrient), limit, below=True) == (low, high)


@pytest.mark.parametrize(
    ("nutrient", "figure", "low", "high"),
    [
        ("fat_g", 0, 0, 0.5),
        ("fat_g", 10, 9.95, 10.5),
        ("saturated_g", 0, 0, 0.1),
        ("salt_g", 0.83, 0.825, 0.835),
        ("salt_g", 1, 0.995, 1.05),
        ("energy_kcal", 118, 117.5, 118.5),
        ("calcium_mg", 120, 119.5, 120.5),
        ("iron_mg", 2.1, 2.05, 2.15),
        ("potassium_mg", 100, 99.95, 100.5),
    ],
)
def test_undoing_an_eu_figure_gives_the_range_worked_by_hand(nutrient, figure, low, high):
    assert undone(bands_of(EU, nutrient), figure) == pytest.approx((low, high), abs=1e-12)


@pytest.mark.parametrize(
    ("nutrient", "figure"),
    [("energy_kcal", 47), ("energy_kcal", 55), ("fat_g", 5.5), ("fat_g", 0.3)],
)
def test_a_figure_the_rule_never_prints_has_no_range(nutrient, figure):
    assert undone(bands_of(US, nutrient), figure) is None


RULES = [(rule, key) for rule, by in ((US, US_LABEL), (EU, EU_LABEL)) for key in by]
# Near every edge of the rules, and anywhere.
amounts = st.one_of(
    st.floats(0, 3000, allow_nan=False),
    st.integers(0, 12000).map(lambda quarters: quarters / 4),
    st.integers(0, 4000).map(lambda n: math.nextafter(n / 8, math.inf)),
    st.integers(1, 4000).map(lambda n: math.nextafter(n / 8, 0)),
    st.integers(0, 4000).map(lambda n: n / 200),
)


@given(st.sampled_from(RULES), amounts)
def test_the_true_amount_lies_in_the_range_of_whatever_may_be_printed_for_it(rule, amount):
    bands = bands_of(*rule)
    for printed in permitted(bands, amount):
        found = undone(bands, printed.amount, below=printed.below)
        assert found is not None
        assert found.low <= amount <= found.high


@given(st.sampled_from(RULES), amounts, st.floats(1e-9, 5))
def test_no_amount_beyond_a_range_is_printed_so(rule, amount, beyond):
    bands = bands_of(*rule)
    for printed in permitted(bands, amount):
        found = undone(bands, printed.amount, below=printed.below)
        assert printed not in permitted(bands, found.high + beyond)
        if found.low > beyond:
            assert printed not in permitted(bands, found.low - beyond)


@given(st.sampled_from(RULES), amounts)
def test_what_is_printed_for_a_declared_figure_is_that_figure(rule, amount):
    bands = bands_of(*rule)
    for printed in permitted(bands, amount):
        if not printed.below and printed.amount > 0:
            assert printed in permitted(bands, printed.amount)


@given(amounts, amounts)
def test_more_is_never_printed_as_less(one, other):
    low, high = sorted((one, other))
    for nutrient in ("energy_kcal", "fat_g", "sodium_mg", "calcium_mg"):
        bands = bands_of(US, nutrient)
        assert permitted(bands, low)[0].amount <= permitted(bands, high)[0].amount


@given(amounts.filter(lambda grams: grams >= 0.05))
def test_the_mass_of_a_serving_lies_in_the_range_of_its_printed_mass(grams):
    (printed,) = permitted(SERVING_MASS, grams)
    found = undone(SERVING_MASS, printed.amount)
    assert found.low <= grams <= found.high


def test_the_figures_between_two_amounts_are_those_the_rule_prints():
    assert list(printed_between(bands_of(US, "fat_g"), 4.0, 7.2)) == [4.0, 4.5, 5.0, 6.0, 7.0]
    assert list(printed_between(bands_of(US, "energy_kcal"), 0, 12)) == [0.0, 5.0, 10.0]


def test_a_figure_without_a_rule_counts_to_its_last_digit():
    assert by_last_digit(3.2) == pytest.approx((3.15, 3.25))
    assert by_last_digit(47) == (46.5, 47.5)
    assert by_last_digit(0) == (0, 0.5)


def test_a_band_that_prints_nothing_but_0_has_an_end():
    with pytest.raises(ValueError, match="has an end"):
        Band()
