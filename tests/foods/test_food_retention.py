"""What cooking leaves of vitamins and minerals."""

from __future__ import annotations

import csv
from collections import defaultdict

import numpy as np
import pytest

from reformulate.errors import BadInput
from reformulate.foods import (
    INDEX,
    NUTRIENTS,
    retention_codes,
    retention_factors,
    retention_words,
)
from tests.foods.food_files import shared_file

NUMBER_OF = {  # nutrient numbers of the release
    "calcium_mg": "301",
    "iron_mg": "303",
    "magnesium_mg": "304",
    "phosphorus_mg": "305",
    "potassium_mg": "306",
    "sodium_mg": "307",
    "zinc_mg": "309",
    "vitamin_a_ug": "392",
    "vitamin_c_mg": "401",
    "thiamin_mg": "404",
    "riboflavin_mg": "405",
    "niacin_mg": "406",
    "vitamin_b6_mg": "415",
    "vitamin_b12_ug": "418",
    "folate_ug": "417",
}
UNTOUCHED = [nutrient.key for nutrient in NUTRIENTS if nutrient.key not in NUMBER_OF]


@pytest.fixture(scope="module")
def release() -> dict[int, dict[str, str]]:
    """Percent retained by code and nutrient number, as the release writes it."""
    found: dict[int, dict[str, str]] = defaultdict(dict)
    with shared_file("retention6.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            found[int(row["code"])][row["nutrient_no"]] = row["percent_retained"]
    return found


def test_every_code_of_the_release_is_here(release: dict[int, dict[str, str]]) -> None:
    assert set(retention_codes()) == set(release)
    assert len(retention_codes()) == 270


def test_every_factor_is_that_of_the_release(release: dict[int, dict[str, str]]) -> None:
    for code, percents in release.items():
        factors = retention_factors(code)
        for key, number in NUMBER_OF.items():
            expected = float(percents[number] or 100) / 100
            assert factors[INDEX[key]] == pytest.approx(expected), (code, key)


def test_folic_acid_and_food_folate_are_kept_alike_so_one_factor_serves(
    release: dict[int, dict[str, str]],
) -> None:
    assert all(row["417"] == row["431"] == row["432"] for row in release.values())


@pytest.mark.parametrize("code", retention_codes())
def test_factors_are_fractions_and_touch_vitamins_and_minerals_only(code: int) -> None:
    factors = retention_factors(code)
    assert factors.shape == (len(NUTRIENTS),)
    assert np.all((factors >= 0) & (factors <= 1))
    assert np.all(factors[[INDEX[key] for key in UNTOUCHED]] == 1)


def test_onions_sauteed_lose_the_published_shares() -> None:
    factors = retention_factors(3460)
    assert retention_words(3460) == "roots and similar, sautéed"
    assert factors[INDEX["energy_kcal"]] == 1
    assert factors[INDEX["vitamin_c_mg"]] < 1
    assert factors[INDEX["calcium_mg"]] == 1


def test_a_code_whose_factors_are_blank_takes_nothing_off() -> None:
    assert np.all(retention_factors(5005) == 1)


def test_factors_cannot_be_changed() -> None:
    with pytest.raises(ValueError, match="read-only"):
        retention_factors(1)[0] = 0.5


@pytest.mark.parametrize("code", [0, 3461, 99999, -1])
def test_an_unknown_code_names_the_nearest_ones(code: int) -> None:
    with pytest.raises(BadInput) as caught:
        retention_factors(code)
    (problem,) = caught.value.problems
    assert str(code) in problem.where
    nearest = min(retention_codes(), key=lambda known: abs(known - code))
    assert str(nearest) in problem.fix
    assert retention_words(nearest) in problem.fix


def test_every_method_has_words_of_its_own() -> None:
    words = [retention_words(code) for code in retention_codes()]
    assert len(set(words)) == len(words)
    assert all(text == text.lower() for text in words)
