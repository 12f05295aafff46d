"""Shares of the daily value: 21 CFR 101.9(c)(8)(iii) and (iv), (c)(9), (d)(7)(ii)."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.foods.nutrients import INDEX
from reformulate.foods.own import DAILY_VALUES, Rounding, bands_of, permitted
from reformulate.foods.own.daily_values import behind_percent, percent_bands

US = Rounding.US_LABEL


def test_the_daily_values_are_those_of_the_rule_of_2016():
    published = {
        "fat_g": 78,
        "saturated_g": 20,
        "cholesterol_mg": 300,
        "sodium_mg": 2300,
        "carbohydrate_g": 275,
        "fibre_g": 28,
        "added_sugars_g": 50,
        "vitamin_d_ug": 20,
        "calcium_mg": 1300,
        "iron_mg": 18,
        "potassium_mg": 4700,
    }
    assert {key: DAILY_VALUES[key] for key in published} == published
    assert set(DAILY_VALUES) <= set(INDEX)


@pytest.mark.parametrize(
    ("share", "printed"),
    [(1.9, 0), (3.0, 4), (9.0, 10), (12.4, 10), (12.5, 15), (54, 50), (55, 60)],
)
def test_shares_of_minerals_are_printed_as_published(share, printed):
    assert permitted(percent_bands("calcium_mg"), share)[0].amount == printed


def test_calcium_of_53_mg_is_4_percent():
    share = 52.95 / 1300 * 100
    assert permitted(percent_bands("calcium_mg"), share)[0].amount == 4


@pytest.mark.parametrize(
    ("nutrient", "percent", "low", "high"),
    [
        # 3 to 5 % of 1300 mg are 39 to 65; 40 to 60 mg printed reach from 35 to 65.
        ("calcium_mg", 4, 35, 65),
        # 0 to 2 % of 18 mg; 0.3 mg printed is 1.7 %, and 0 may be printed up to 0.36.
        ("iron_mg", 0, 0, 0.36),
        # 5.5 to 6.5 % of 78 g are 4.29 to 5.07; 4.5 and 5 g printed reach from 4.25 to 5.5.
        ("fat_g", 6, 4.25, 5.5),
        # 9 to 12.5 % of 90 mg; no rule for the amount.
        ("vitamin_c_mg", 10, 8.1, 11.25),
    ],
)
def test_undoing_a_share_gives_the_range_worked_by_hand(nutrient, percent, low, high):
    assert behind_percent(nutrient, percent, bands_of(US, nutrient)) == pytest.approx((low, high))


@given(st.sampled_from(sorted(DAILY_VALUES)), st.floats(0, 3), st.booleans(), st.data())
def test_the_true_amount_lies_in_the_range_of_its_printed_share(nutrient, part, from_printed, data):
    daily = DAILY_VALUES[nutrient]
    amount = part * daily
    counted = amount
    bands = bands_of(US, nutrient)
    if from_printed and (ways := permitted(bands, amount)):
        printed = data.draw(st.sampled_from(ways))
        counted = amount if printed.below else printed.amount
    share = float(Fraction(counted) / Fraction(daily) * 100)
    for printed in permitted(percent_bands(nutrient), share):
        found = behind_percent(nutrient, printed.amount, bands)
        assert found.low * (1 - 1e-12) <= amount <= found.high * (1 + 1e-12)
