"""From the components of a release to the thirty nutrients."""

from __future__ import annotations

import csv
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.foods import INDEX, NUTRIENTS
from reformulate.foods.store.figures import (
    COMPONENT_OF,
    COMPONENTS,
    impossible,
    nutrients_of,
    scale_between,
)
from tests.foods.store.releases import shared_file


def value(key: str, **components: float) -> float | None:
    """One nutrient of components written ``c1008=229``; None where unknown."""
    figures, _ = nutrients_of({int(name[1:]): amount for name, amount in components.items()})
    found = figures[INDEX[key]]
    return None if math.isnan(found) else found


def note(**components: float) -> str:
    return nutrients_of({int(name[1:]): amount for name, amount in components.items()})[1]


def test_what_is_not_told_is_unknown_and_not_zero() -> None:
    figures, words = nutrients_of({})
    assert len(figures) == len(NUTRIENTS)
    assert all(math.isnan(figure) for figure in figures)
    assert words == ""


def test_energy_is_the_released_figure_then_specific_then_general_factors_then_kilojoules() -> None:
    assert value("energy_kcal", c1008=21, c2048=20, c2047=24, c1062=86) == 21
    assert value("energy_kcal", c2048=20, c2047=24, c1062=86) == 20
    assert value("energy_kcal", c2047=24, c1062=86) == 24
    assert value("energy_kcal", c1062=418.4) == pytest.approx(100)


def test_sugars_are_the_total_else_the_total_of_labels() -> None:
    assert value("sugars_g", c2000=3.0, c1063=2.0) == 3
    assert value("sugars_g", c1063=2.0) == 2


def test_vitamin_a_is_never_guessed_from_international_units() -> None:
    assert value("vitamin_a_ug", c1106=5.0, c1104=500.0) == 5
    assert value("vitamin_a_ug", c1104=500.0) is None
    assert "IU" in note(c1104=500.0)
    assert value("vitamin_a_ug", c1104=0.0) == 0
    # 10 + 120/12 + (24 + 24)/24 = 22
    assert value("vitamin_a_ug", c1105=10, c1107=120, c1108=24, c1120=24) == 22
    assert value("vitamin_a_ug", c1105=10, c1107=120) is None


def test_vitamin_d_is_micrograms_however_it_is_told() -> None:
    assert value("vitamin_d_ug", c1114=2.3, c1110=91) == 2.3
    assert value("vitamin_d_ug", c1110=40) == 1
    assert value("vitamin_d_ug", c1111=0.5, c1112=1.5) == 2
    assert value("vitamin_d_ug", c1112=1.5) is None


def test_vitamin_e_in_international_units_is_unknown_unless_there_is_none() -> None:
    assert value("vitamin_e_mg", c1109=1.5) == 1.5
    assert value("vitamin_e_mg", c1124=10) is None
    assert "IU" in note(c1124=10)
    assert value("vitamin_e_mg", c1124=0) == 0


def test_folate_counts_folic_acid_by_its_factor() -> None:
    assert value("folate_ug", c1190=9, c1177=7) == 9
    assert value("folate_ug", c1187=10, c1186=100) == pytest.approx(180)
    assert value("folate_ug", c1177=110, c1186=100) == pytest.approx(180)
    assert value("folate_ug", c1177=110) is None
    assert "DFE" in note(c1177=110)
    assert value("folate_ug", c1177=0) == 0
    # More folic acid than folate: one of them is wrong, so neither is used.
    assert value("folate_ug", c1177=50, c1186=100) is None


@pytest.mark.parametrize(
    ("written", "ours", "scale"),
    [
        *[("G", "g", 1.0), ("mg", "g", 0.001), ("G", "mg", 1000.0), ("µg", "mg", 0.001)],
        *[("μg", "ug", 1.0), ("MCG", "ug", 1.0), ("UG", "g", 1e-6), ("kcal", "kcal", 1.0)],
        *[("IU", "iu", 1.0), ("IU", "ug", None), ("kJ", "kcal", 1 / 4.184), ("", "g", None)],
    ],
)
def test_units_are_turned_into_ours_or_refused(
    written: str, ours: str, scale: float | None
) -> None:
    assert scale_between(written, ours) == (None if scale is None else pytest.approx(scale))


def test_more_than_a_hundred_grams_can_hold_is_impossible() -> None:
    figures = [math.nan] * len(NUTRIENTS)
    figures[INDEX["fat_g"]], figures[INDEX["energy_kcal"]] = 100.0, 902.0
    assert impossible(tuple(figures)) == []
    figures[INDEX["fat_g"]], figures[INDEX["sodium_mg"]] = 200.0, math.inf
    figures[INDEX["zinc_mg"]] = -1.0
    assert impossible(tuple(figures)) == sorted(INDEX[k] for k in ("fat_g", "sodium_mg", "zinc_mg"))


@given(st.dictionaries(st.sampled_from(sorted(COMPONENTS)), st.floats(0, 1e5)))
def test_figures_are_never_below_nothing_and_telling_more_never_unsays(
    components: dict[int, float],
) -> None:
    figures, _ = nutrients_of(components)
    assert all(math.isnan(figure) or figure >= 0 for figure in figures)
    for component in components:
        fewer, _ = nutrients_of({k: v for k, v in components.items() if k != component})
        known = [not math.isnan(figure) for figure in figures]
        # Folic acid above the total makes folate doubtful: the one case in which more is less.
        known[INDEX["folate_ug"]] = True
        assert all(now for now, before in zip(known, fewer, strict=True) if not math.isnan(before))


def test_every_component_has_the_number_and_unit_that_the_release_gives_it() -> None:
    with shared_file("fdc/nutrient.csv").open(encoding="utf-8", newline="") as file:
        released = {int(row["id"]): row for row in csv.DictReader(file)}
    for component, (number, unit) in COMPONENTS.items():
        assert released[component]["nutrient_nbr"] == number
        assert scale_between(released[component]["unit_name"], unit) == 1


def test_every_component_has_the_unit_of_the_standard_reference() -> None:
    seen = set()
    for line in shared_file("sr26/NUTR_DEF.txt").read_text("latin-1").splitlines():
        number, unit, *_ = (field.strip("~") for field in line.split("^"))
        if number in COMPONENT_OF:
            component = COMPONENT_OF[number]
            assert scale_between(unit, COMPONENTS[component][1]) == 1, number
            seen.add(component)
    assert {1008, 1003, 1004, 1005, 2000, 1093, 1190, 1106, 1114} <= seen
