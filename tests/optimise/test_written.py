"""Amounts of an answer as a cook reads them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import (
    SYSTEMS,
    BatchHold,
    Brief,
    ItemAmount,
    Line,
    Per,
    Reach,
    food_table,
    grams_words,
    household_words,
    original_words,
    parse_amount,
    weigh,
)
from reformulate.optimise.words import reach_ends
from tests.optimise.dips import CREAMY, answer

US = SYSTEMS["us"]


def amounts() -> tuple[ItemAmount, ...]:
    return answer(CREAMY, Brief(holds=(BatchHold(),))).amounts


@given(st.sampled_from(range(len(CREAMY.lines))), st.floats(0.01, 800.0))
def test_a_household_amount_is_near_the_grams_beside_it(index: int, grams: float) -> None:
    amount = replace(amounts()[index], line=None, after=grams)
    words = household_words(amount, US)
    if words:
        weighed = weigh(parse_amount(words.removeprefix("≈ ")), amount.measures, US).grams
        off = abs(weighed - grams) / grams
        assert off <= 0.1
        assert words.startswith("≈") == (off > 0.01 and abs(weighed - grams) > 0.05)


def test_a_line_written_in_grams_has_one_figure() -> None:
    cream = next(a for a in amounts() if a.food == "cream-cheese")
    assert cream.line is not None
    line = replace(cream.line, amount="225 g", grams=None)
    assert household_words(replace(cream, line=line, after=127.0), US) == ""
    assert grams_words(127.0) == "127 g"


def test_the_juice_of_fruits_is_counted_in_fruits_and_says_so() -> None:
    juice = food_table().food("lemon-juice")
    line = Line(id="lemon", food=juice.key, amount="1", role="acid")
    acid = replace(
        amounts()[0], line=line, food=juice.key, measures=juice.measures, before=48.0, after=48.0
    )
    assert original_words(acid) == "juice of 1"
    assert household_words(acid, US) == "juice of 1"
    assert household_words(replace(acid, after=72.0), US) == "juice of 1 1/2"
    spoons = replace(acid, line=replace(line, amount="3 tbsp"), after=30.5)
    assert original_words(spoons) == "3 tbsp"
    assert household_words(spoons, US) == "2 tbsp"


@pytest.mark.parametrize(
    ("low", "high", "written"),
    [
        (127.3, 235.9, ("128", "235")),
        (127.0, 127.0, ("127", "127")),
        (127.3, 127.4, ("127", "127")),
        (10.0, float("inf"), ("10", "no end")),
    ],
)
def test_a_written_reach_can_be_had(low: float, high: float, written: tuple[str, str]) -> None:
    reach = Reach(nutrient="energy_kcal", per=Per.SERVING, low=low, high=high)
    assert reach_ends(reach) == written
