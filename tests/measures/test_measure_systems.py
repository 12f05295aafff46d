"""Cups, spoons and masses against the definitions they come from."""

from __future__ import annotations

import inspect
import subprocess
import sys
from pathlib import Path

import pint
import pytest

from reformulate import measures
from reformulate.errors import BadInput
from reformulate.measures import SYSTEMS, canonical_unit, grams_per, millilitres, system

INCH_ML = 16.387064  # 1 cubic inch = 2.54^3 mL, exact by definition of the inch


@pytest.mark.parametrize(
    ("key", "unit", "volume"),
    [
        ("us", "gallon", 231 * INCH_ML),  # US gallon = 231 cubic inches, by definition
        ("us", "gallon", 3785.411784),
        ("us", "quart", 946.352946),
        ("us", "pint", 473.176473),
        ("us", "cup", 236.5882365),
        ("us", "fl oz", 29.5735295625),
        ("us", "tbsp", 14.78676478125),
        ("us", "tsp", 4.92892159375),
        ("label", "cup", 240.0),  # 21 CFR 101.9(b)(5)(viii)
        ("label", "tbsp", 15.0),
        ("label", "tsp", 5.0),
        ("label", "fl oz", 30.0),
        ("metric", "cup", 250.0),  # common practice
        ("metric", "tbsp", 15.0),
        ("metric", "tsp", 5.0),
        ("uk", "gallon", 4546.09),  # imperial gallon, by definition
        ("uk", "pint", 568.26125),
        ("uk", "fl oz", 28.4130625),
        ("uk", "cup", 568.26125 / 2),  # half a pint, common practice
        ("uk", "tbsp", 15.0),  # common practice
        ("uk", "dessertspoon", 10.0),
        ("uk", "tsp", 5.0),
        ("australian", "cup", 250.0),  # AS 1325, from memory
        ("australian", "tbsp", 20.0),
        ("australian", "tsp", 5.0),
    ],
)
def test_a_household_volume_is_what_its_definition_says(key: str, unit: str, volume: float) -> None:
    assert millilitres(unit, system(key)) == pytest.approx(volume, rel=1e-12)


@pytest.mark.parametrize(
    ("unit", "mass"),
    [
        ("g", 1.0),
        ("kg", 1000.0),
        ("mg", 0.001),
        ("oz", 28.349523125),  # avoirdupois, exact by definition
        ("lb", 453.59237),
    ],
)
def test_a_mass_is_exact(unit: str, mass: float) -> None:
    assert grams_per(unit) == mass


def test_the_us_relations_of_cups_and_spoons_hold() -> None:
    us = system("us")
    tsp, tbsp, cup, fluid = (millilitres(u, us) or 0.0 for u in ("tsp", "tbsp", "cup", "fl oz"))
    assert tbsp == pytest.approx(3 * tsp, rel=1e-12)
    assert cup == pytest.approx(16 * tbsp, rel=1e-12)
    assert fluid == pytest.approx(2 * tbsp, rel=1e-12)
    assert cup / 3 == pytest.approx(16 / 3 * tbsp, rel=1e-12)


def test_an_australian_cup_is_twelve_and_a_half_tablespoons() -> None:
    australian = system("australian")
    assert (millilitres("cup", australian) or 0) / (millilitres("tbsp", australian) or 1) == 12.5


@pytest.mark.parametrize(("unit", "parts"), [("dash", 8), ("pinch", 16), ("smidgen", 32)])
@pytest.mark.parametrize("key", SYSTEMS)
def test_a_pinch_is_a_share_of_the_systems_own_teaspoon(key: str, unit: str, parts: int) -> None:
    # As sold in sets of small spoons: common practice.
    tsp = millilitres("tsp", system(key))
    assert tsp is not None
    assert millilitres(unit, system(key)) == pytest.approx(tsp / parts, rel=1e-12)


@pytest.mark.parametrize(("unit", "volume"), [("ml", 1.0), ("cl", 10.0), ("dl", 100.0), ("l", 1e3)])
@pytest.mark.parametrize("key", SYSTEMS)
def test_a_litre_is_a_litre_in_every_system(key: str, unit: str, volume: float) -> None:
    assert millilitres(unit, system(key)) == volume


def test_a_system_without_a_word_gives_no_volume() -> None:
    assert millilitres("fl oz", system("metric")) is None
    assert millilitres("dessertspoon", system("us")) is None
    assert millilitres("clove", system("us")) is None
    assert grams_per("cup") is None


def test_the_us_and_imperial_figures_agree_with_pints_own_definitions() -> None:
    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    names = {
        "us": {
            "cup": "cup",
            "tbsp": "tablespoon",
            "tsp": "teaspoon",
            "fl oz": "fluid_ounce",
            "pint": "pint",
            "quart": "quart",
            "gallon": "gallon",
        },
        "uk": {
            "cup": "imperial_cup",
            "fl oz": "imperial_fluid_ounce",
            "pint": "imperial_pint",
            "quart": "imperial_quart",
            "gallon": "imperial_gallon",
        },
    }
    for key, words in names.items():
        for word, name in words.items():
            own = registry.Quantity(1, name).to("milliliter").magnitude
            assert millilitres(word, system(key)) == pytest.approx(own, rel=1e-12), (key, word)


def test_one_system_leaves_no_trace_in_the_next() -> None:
    before = millilitres.__wrapped__("cup", system("us"))
    millilitres.__wrapped__("cup", system("australian"))
    assert millilitres.__wrapped__("cup", system("us")) == before


@pytest.mark.parametrize(
    ("written", "unit"),
    [
        ("tablespoons", "tbsp"),
        ("Tbsp.", "tbsp"),
        ("T", "tbsp"),
        ("t.", "tsp"),
        ("c.", "cup"),
        ("ML", "ml"),
        ("litre", "l"),
        ("liters", "l"),
        ("fl. oz.", "fl oz"),
        ("Fluid Ounces", "fl oz"),
        ("lbs", "lb"),
        ("leaves", "leaf"),
        ("bunches", "bunch"),
        ("pkg.", "pack"),
        ("furlong", None),
        ("", None),
    ],
)
def test_a_unit_is_known_by_all_its_spellings(written: str, unit: str | None) -> None:
    assert canonical_unit(written) == unit


def test_an_unknown_system_is_refused_with_those_that_exist() -> None:
    with pytest.raises(BadInput) as caught:
        system("austalian")
    assert str(caught.value) == (
        "measures 'austalian': There is no such system of measures. Did you mean 'australian'? "
        "Choose one of: us, metric, label, uk, australian."
    )


def test_importing_the_measures_and_reading_an_amount_leave_pint_alone() -> None:
    root = Path(__file__).parents[2]
    code = (
        "import sys; from reformulate.measures import parse_amount; "
        "parse_amount('1 cup'); print('pint' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=root, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == "False"


def test_all_is_exactly_the_public_names() -> None:
    public = {n for n, v in vars(measures).items() if n[0] != "_" and not inspect.ismodule(v)}
    assert set(measures.__all__) == public
    assert len(measures.__all__) == len(public)
