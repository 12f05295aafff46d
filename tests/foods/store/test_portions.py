"""Household weights as the releases word them."""

from __future__ import annotations

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from reformulate.foods.store.portions import measures_of, serving_wording, wording_of


def read(grams: float, wording: str) -> list[tuple[str, str, float]]:
    found = measures_of([(grams, wording)], "invented")
    assert all(measure.source == "invented" for measure in found)
    return [(measure.unit, measure.qualifier, measure.grams) for measure in found]


@pytest.mark.parametrize(
    ("grams", "wording", "expected"),
    [
        (160.0, "1 cup, chopped", ("cup", "chopped", 160.0)),
        (33.9, "1 tablespoon", ("tbsp", "", 33.9)),
        (30.0, "2 Tbsp", ("tbsp", "", 15.0)),
        (90.0, "1 1/2 cup", ("cup", "", 60.0)),
        (90.0, "1-1/2 cup", ("cup", "", 60.0)),
        (28.0, "14 chips", ("chip", "", 2.0)),
    ],
)
def test_a_household_weight_is_read(
    grams: float, wording: str, expected: tuple[str, str, float]
) -> None:
    assert read(grams, wording) == [expected]


@pytest.mark.parametrize(
    ("grams", "wording"),
    [
        *[(28.35, "1 oz"), (10.0, ""), (10.0, "Quantity not specified"), (10.0, "1/0 cup")],
        *[(0.0, "1 cup"), (-1.0, "1 cup"), (math.nan, "1 cup"), (math.inf, "1 cup")],
        *[(1e9, "1 cup"), (10.0, "0 cup"), (1.0, "9" * 5000 + " cup")],
    ],
)
def test_what_weighs_no_household_amount_is_left_out(grams: float, wording: str) -> None:
    assert read(grams, wording) == []


def test_the_first_weight_of_a_unit_and_qualifier_counts() -> None:
    found = measures_of([(10.0, "1 cup"), (20.0, "1 cup"), (5.0, "1 cup, sliced")], "")
    assert [(m.unit, m.qualifier, m.grams) for m in found] == [
        ("cup", "", 10.0),
        ("cup", "sliced", 5.0),
    ]


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        (("1.0", "cup", "chopped", ""), "1.0 cup, chopped"),
        (("1.0", "tablespoon", "", ""), "1.0 tablespoon"),
        (("2", "undetermined", "cup, whole", ""), "2 cup, whole"),
        (("", "undetermined", "10205", "1 cup, NFS"), "1 cup, NFS"),
        (("", "undetermined", "90000", "Quantity not specified"), ""),
        (("", "undetermined", "62000", "Guideline amount per cup"), ""),
        (("1", "racc", "", ""), ""),
        (("", "cup", "chopped", ""), ""),
        (("", "undetermined", "cup", ""), ""),
    ],
)
def test_each_kind_of_food_words_its_portions_in_its_own_way(
    row: tuple[str, str, str, str], expected: str
) -> None:
    assert wording_of(*row) == expected


def test_a_labels_serving_is_its_household_part() -> None:
    assert serving_wording("About 2 Tbsp (30 g)") == "2 Tbsp"
    assert serving_wording("14 chips | 28g") == "14 chips"
    assert serving_wording("1 cup") == "1 cup"
    assert serving_wording("30 g") == "30 g"


WORDS = st.lists(
    st.sampled_from(
        [
            *("1", "2", "1/2", "0", "-1", "1e9", "nan", "(", ")", ",", "large", "chopped"),
            *("cup", "tbsp", "can", "slice", "oz", "g", "package", "NLEA", "serving"),
        ]
    ),
    max_size=4,
).map(" ".join)
"""What portions of releases are worded with, in any order."""


@given(st.floats() | st.floats(-1.0, 60e3), st.text(max_size=60) | WORDS)
@example(240.0, "1 cup")
@example(7.0, "1/2 slice")
def test_any_wording_gives_sound_grams_or_nothing(grams: float, wording: str) -> None:
    for measure in measures_of([(grams, wording)], ""):
        assert measure.unit
        assert 0 < measure.grams <= 50e3
