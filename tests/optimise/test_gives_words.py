"""What gives, in words: no longer a step than stays true, no wider a range than holds."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import (
    BatchHold,
    Brief,
    Give,
    Goal,
    Optimiser,
    Per,
    Swap,
    give_words,
    gives_heading,
    what_gives,
)
from reformulate.foods import QUANTITIES, QUANTITY_INDEX
from tests.optimise.dips import CREAMY
from tests.recipes.plain_sums import FOODS
from tests.strategies import weighed

BRIEF = Brief(
    goals=(Goal(nutrient="energy_kcal", at_most=140.0),),
    holds=(BatchHold(tolerance=0.02),),
    swaps=(Swap(food="yogurt-strained-nonfat", stands_in_for=("sour-cream",), least=0.0),),
)
ITEMS = Optimiser(weighed(CREAMY), BRIEF, FOODS).exact(BRIEF).model.items
REAL = what_gives(weighed(CREAMY), BRIEF, FOODS)[0]
SHOWN = ("energy_kcal", "protein_g", "fat_g", "sodium_mg")


def made(
    grams: dict[int, float], low: float, high: float, others: dict[str, float] | None = None
) -> Give:
    """A give of 10 kcal less from 140 kcal with given moves."""
    moves, quantities = np.zeros(len(ITEMS.original)), np.zeros(len(QUANTITIES))
    for item, change in grams.items():
        moves[item] = change
    for key, change in (others or {}).items():
        quantities[QUANTITY_INDEX[key]] = change
    return replace(REAL, grams=moves, per_serving=quantities, low=low, high=high)


def test_a_step_what_moves_and_how_far_it_is_true() -> None:
    give = made(
        {0: 3.21, 1: -9.02, 6: 14.4, 3: 0.004},
        128.2,
        142.9,
        {"energy_kcal": -10.0, "protein_g": 0.32, "sodium_mg": -11.7, "fat_g": 0.01},
    )
    words = give_words(give, ITEMS, SHOWN)
    assert words.asked == "energy at most 140 kcal per serving"
    assert words.step == "10 kcal less"
    assert words.moves == ("+14 g strained yogurt", "−9 g cream cheese", "+3.2 g sour cream")
    assert words.others == ("protein +0.32 g", "sodium −12 mg")
    assert words.true == "true from 142 down to 129 kcal"
    assert words.possible
    assert str(words) == (
        "energy at most 140 kcal per serving. 10 kcal less: +14 g strained yogurt, "
        "−9 g cream cheese, +3.2 g sour cream; protein +0.32 g, sodium −12 mg per serving; "
        "true from 142 down to 129 kcal"
    )


def test_a_step_is_cut_to_what_stays_true_and_the_moves_with_it() -> None:
    words = give_words(made({1: -10.0, 6: 10.0}, 137.9, 142.0, {"protein_g": 1.0}), ITEMS, SHOWN)
    assert words.step == "2 kcal less"
    assert words.moves == ("−2 g cream cheese", "+2 g strained yogurt")
    assert words.others == ("protein +0.2 g",)


def test_where_it_bends_at_once_a_rate_is_told_and_said_to_be_one() -> None:
    words = give_words(made({1: -10.0}, 139.999, 140.001), ITEMS, SHOWN)
    assert words.step == "per 10 kcal less"
    assert words.moves == ("−10 g cream cheese",)
    assert words.true == "true close to 140 kcal only"


def test_the_end_of_the_reach_is_said_to_be_one() -> None:
    nan = np.full(len(ITEMS.original), math.nan)
    give = replace(REAL, grams=nan, per_serving=np.full(len(QUANTITIES), math.nan))
    words = give_words(give, ITEMS, SHOWN)
    assert not words.possible
    assert words.moves == words.others == ()
    assert words.true == "cannot go further"
    assert str(words) == "energy at most 140 kcal per serving: cannot go further"


@given(st.floats(0.6, 60.0), st.floats(0.0, 60.0), st.sampled_from([140.0, 139.5, 12.3, 70.0]))
def test_the_range_written_lies_within_the_range_that_holds(
    down: float, up: float, limit: float
) -> None:
    low, high = max(limit - down, 0.0), limit + up
    give = replace(made({1: -10.0}, low, high), lever=replace(REAL.lever, limit=limit))
    words = give_words(give, ITEMS, SHOWN).true
    if words.endswith("only"):
        return
    top, bottom = map(float, re.findall(r"\d+(?:\.\d+)?", words))
    assert low - 1e-6 <= bottom <= limit + 1e-6
    assert limit - 1e-6 <= top <= high + 1e-6
    assert top - bottom >= 0.5 * (high - low)


@given(st.floats(0.5, 60.0))
def test_a_step_written_never_leads_out_of_the_range(down: float) -> None:
    words = give_words(made({1: -10.0}, 140.0 - down, 150.0), ITEMS, SHOWN)
    size = float(words.step.split()[0])
    assert size <= down + 1e-9
    assert f"−{size:g} g cream cheese" in words.moves or size < 1.0


def test_a_real_give_in_words_has_its_figures() -> None:
    words = give_words(REAL, ITEMS, BRIEF.shown)
    largest = int(np.argmax(np.abs(REAL.grams)))
    size = float(words.step.split()[0])
    figure = float(words.moves[0].split(" g")[0].replace("−", "-"))
    assert figure == pytest.approx(size / 10 * float(REAL.grams[largest]), rel=0.06)
    assert not any("energy" in other for other in words.others)


def test_a_floor_is_true_upwards_and_a_share_in_percent() -> None:
    brief = replace(BRIEF, goals=(Goal(nutrient="protein_g", at_least=150.0, per=Per.ORIGINAL),))
    give = what_gives(weighed(CREAMY), brief, FOODS)[0]
    words = give_words(give, ITEMS, SHOWN)
    assert words.step.endswith("% more")
    assert re.fullmatch(r"true from \d+ up to \d+ %", words.true)


@pytest.mark.parametrize(
    ("count", "told"),
    [
        (0, "Nothing binds: no goal or hold keeps the amounts from the original's."),
        (1, "One limit keeps the amounts where they are. Move it a little, and this gives:"),
        (3, "3 limits keep the amounts where they are. Move one a little, and this gives:"),
    ],
)
def test_the_heading_counts_the_limits(count: int, told: str) -> None:
    assert gives_heading((REAL,) * count) == told


def test_a_conflict_has_a_heading_of_its_own() -> None:
    assert gives_heading((), conflict=True).startswith("The musts and holds cannot all be kept")
