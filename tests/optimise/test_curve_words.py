"""A trade-off curve in words: the knee and its price, what is exact, the figures of the table."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from reformulate import (
    CHANGE,
    QUANTITIES,
    BatchHold,
    Brief,
    CurveRow,
    Per,
    Swap,
    TradeOff,
    TradeOffPoint,
    Unbounded,
    curve_axis,
    curve_is_known,
    curve_level,
    curve_name,
    curve_table,
    curve_unknown_sentence,
    exactness_sentence,
    knee_sentence,
    moved_words,
    point_words,
    short_names,
    trade_off,
    unbounded_sentence,
)
from reformulate.foods import QUANTITY_INDEX
from tests.optimise.dips import CREAMY
from tests.recipes.plain_sums import FOODS
from tests.strategies import weighed

YOGURT = Swap(food="yogurt-strained-nonfat", stands_in_for=("sour-cream",), least=30.0)
HELD = Brief(holds=(BatchHold(tolerance=0.02),), swaps=(YOGURT,))
REAL = trade_off(weighed(CREAMY), HELD, FOODS, "energy_kcal", "protein_g")


def made(*places: tuple[float, float], knee: int | None = None, **changes: object) -> TradeOff:
    """A curve through given places, with the original's amounts at each."""
    points = tuple(
        TradeOffPoint(first=a, second=b, grams=REAL.items.original, keeps_swap_rules=True)
        for a, b in places
    )
    return replace(REAL, points=points, knee=knee, **{"notes": (), **changes})  # type: ignore[arg-type]


def test_the_knee_and_the_price_on_both_its_sides() -> None:
    # From 168 kcal down to the knee 0.3 g for 30 kcal, beyond it 1.8 g for 20 kcal.
    found = made((118.0, 9.4), (138.0, 11.2), (168.0, 11.5), knee=1)
    assert knee_sentence(found) == (
        "The knee is at 138 kcal and 11.2 g protein: up to there 10 kcal less cost 0.1 g protein "
        "on average, beyond it 0.9 g."
    )


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        (
            {"second": "sodium_mg", "second_more": False},
            "10 kcal less add 20 mg sodium on average, beyond it 350 mg",
        ),
        (
            {"second": CHANGE, "second_more": False},
            "10 kcal less add 20 % change on average, beyond it 350 %",
        ),
        (
            {"first": CHANGE, "second": "fibre_g"},
            "10 % less change cost 20 g fibre on average, beyond it 350 g",
        ),
        (
            {"first": "protein_g", "first_more": True, "second": "cost", "second_more": False},
            "1 g more protein adds 2 of cost on average, beyond it 35",
        ),
        (
            {"first": "sodium_mg", "second": "energy_kcal", "second_more": True},
            "10 mg less sodium cost 20 kcal on average, beyond it 350 kcal",
        ),
    ],
)
def test_the_price_says_which_way_each_is_better(changes: dict[str, object], told: str) -> None:
    found = made((10.0, 950.0), (30.0, 250.0), (80.0, 150.0), knee=1, **changes)
    assert told in knee_sentence(found)


def test_a_step_is_no_longer_than_the_curve_allows() -> None:
    found = made((118.0, 9.4), (122.0, 9.8), knee=None)
    assert knee_sentence(found) == (
        "A straight line, with no knee: 1 kcal less costs 0.1 g protein all along."
    )


def test_two_that_do_not_compete_have_one_best_recipe() -> None:
    assert knee_sentence(made((118.0, 9.4))) == (
        "These two do not compete: 118 kcal and 9.4 g protein is the best of both at once."
    )


def test_no_point_at_all_is_said_with_what_to_do() -> None:
    assert knee_sentence(made()) == (
        "No curve: even with no goal on energy and protein, the other musts and holds cannot all "
        "be kept. Loosen one of them first."
    )
    assert exactness_sentence(made()) == ""


def test_a_curve_is_exact_a_limit_between_corners_or_a_relaxation() -> None:
    found = made((118.0, 9.4), (138.0, 11.2))
    assert exactness_sentence(found) == "Exact: all its corners, and straight lines between."
    used = found.items.original.copy()
    used[-1] = 40.0
    with_yogurt = replace(found.points[1], grams=used)
    assert "less than its least amount" in exactness_sentence(
        replace(found, points=(found.points[0], with_yogurt))
    )
    both = tuple(replace(point, grams=used) for point in found.points)
    assert exactness_sentence(replace(found, points=both)).startswith("Exact: all")
    assert exactness_sentence(replace(found, notes=("Wishes are left aside.",))) == (
        "A relaxation, so nothing lies beyond it. Wishes are left aside."
    )


def test_what_is_not_known_is_said() -> None:
    assert curve_unknown_sentence(REAL) == ""
    assert curve_is_known(REAL)
    known = REAL.items.known.copy()
    partly = replace(REAL, items=replace(REAL.items, known=known))
    most = int(np.argmax(REAL.points[0].grams))
    known[most, QUANTITY_INDEX["protein_g"]] = False
    assert curve_unknown_sentence(partly) == (
        f"Protein is at least what is shown: not known for {short_names(REAL.items)[most]}."
    )
    assert curve_is_known(partly)
    known[:, QUANTITY_INDEX["protein_g"]] = False
    assert curve_unknown_sentence(partly) == (
        "No food of this recipe has a known figure for protein."
    )
    assert not curve_is_known(partly)


def test_the_table_has_the_original_the_answer_and_every_point() -> None:
    found = made((118.25, 9.42), (138.0, 11.2), (168.0, 11.5), knee=1)
    loose = replace(found.points[2], keeps_swap_rules=False)
    found = replace(found, points=(*found.points[:2], loose), original=(186.6, 3.07))
    assert curve_table(found, (150.04, 9.0)) == (
        CurveRow(name="Original", first="186.6", second="3.07"),
        CurveRow(name="Now", first="150.0", second="9.00"),
        CurveRow(name="1", first="118.2", second="9.42"),
        CurveRow(name="2", first="138.0", second="11.20", is_knee=True),
        CurveRow(name="3", first="168.0", second="11.50", keeps_swap_rules=False),
    )
    assert [row.name for row in curve_table(found)] == ["Original", "1", "2", "3"]


@pytest.mark.parametrize(
    ("key", "per", "told"),
    [
        ("energy_kcal", Per.SERVING, "Energy (kcal per serving)"),
        ("saltiness", Per.HUNDRED_GRAMS, "Saltiness (g per 100 g)"),
        (CHANGE, Per.SERVING, "Change from the original (%)"),
        ("cost", Per.SERVING, "Cost (per serving)"),
    ],
)
def test_an_axis_has_a_name_and_a_unit(key: str, per: Per, told: str) -> None:
    assert curve_axis(key, per) == told


@pytest.mark.parametrize("key", [*(kind.key for kind in QUANTITIES), CHANGE])
def test_every_quantity_can_be_said(key: str) -> None:
    other = "energy_kcal" if key != "energy_kcal" else "protein_g"
    found = made((100.0, 30.0), (120.0, 20.0), (180.0, 10.0), knee=1, first=other, second=key)
    words = [
        knee_sentence(found),
        point_words(found, found.points[0]),
        curve_axis(key, Per.SERVING),
    ]
    assert all(words)
    assert not any("  " in text or " ," in text or "None" in text for text in words)
    assert curve_name(key)[0].isupper()


def test_where_amounts_stand_on_the_axes() -> None:
    items, grams = REAL.items, REAL.points[0].grams
    assert curve_level("energy_kcal", Per.SERVING, grams, items, 8.0) == pytest.approx(
        REAL.points[0].first
    )
    by_hand = sum(
        abs(now - before) / size
        for now, before, size in zip(grams, items.original, items.scale, strict=True)
    )
    assert curve_level(CHANGE, Per.SERVING, grams, items, 8.0) == pytest.approx(100 * by_hand)
    assert curve_level(CHANGE, Per.SERVING, items.original, items, 8.0) == 0.0


def test_what_moves_is_told_largest_first_and_what_stays_is_not() -> None:
    grams = REAL.items.original.copy()
    grams[:3] += [-100.5, 0.001, 4.25]
    grams[-1] = 60.0
    assert moved_words(REAL.items, grams) == (
        "sour cream 240 → 140 g",
        "strained yogurt 0 → 60 g",
        "mayonnaise 110 → 114 g",
    )
    assert moved_words(REAL.items, REAL.items.original) == ()


def test_names_are_as_short_as_tells_them_apart() -> None:
    swaps = (
        Swap(food="mayonnaise-light", stands_in_for=("mayonnaise",)),
        Swap(food="sour-cream-light", stands_in_for=("sour-cream",)),
        Swap(food="cream-cheese-neufchatel", stands_in_for=("cream-cheese",)),
    )
    found = trade_off(
        weighed(CREAMY), replace(HELD, swaps=swaps), FOODS, "energy_kcal", "protein_g"
    )
    names = short_names(found.items)
    assert len(set(names)) == len(names)
    assert names[:3] == ("sour cream", "cream cheese", "mayonnaise")
    assert names[-3:] == ("light mayonnaise", "light sour cream", "neufchatel cream cheese")


def test_a_quantity_without_end_is_named() -> None:
    told = unbounded_sentence(Unbounded(1), "energy_kcal", "saturated_g")
    assert told.startswith("No curve: saturated fat gets better without end. Hold the batch size")


def test_the_sentence_of_a_real_curve_has_the_figures_of_its_points() -> None:
    assert REAL.knee is not None
    knee = REAL.points[REAL.knee]
    told = knee_sentence(REAL)
    assert told.startswith(f"The knee is at {knee.first:.0f} kcal and {knee.second:.1f} g protein:")
    last = REAL.points[-1]
    price = 10 * abs(last.second - knee.second) / abs(last.first - knee.first)
    figure = float(told.split("less cost ")[1].split(" g")[0])
    assert figure == pytest.approx(price, rel=0.05)
    assert np.all(np.diff([point.first for point in REAL.points]) > 0)
