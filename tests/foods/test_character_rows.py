"""The predictors of taste and texture against themselves: each row follows from what it says."""

from __future__ import annotations

import re

import numpy as np
import pytest

from reformulate.foods import INDEX, food_table
from reformulate.foods.character import STATED, stated_character
from tests.foods.character_file import (
    EQUIVALENT,
    ROWS,
    SHU_OF_FRESH_GARLIC,
    composition,
    rows_about,
)
from tests.foods.food_files import Row

# Mass of a sucrose solution as sweet, per mass of sugar: glucose 0.74, maltose 0.33, lactose 0.16
# from PMC10346066; fructose chosen within its 1.2 to 1.73; galactose and other chains from memory.
RELATIVE_SWEETNESS = {
    "sucrose": 1.0,
    "fructose": 1.5,
    "glucose": 0.74,
    "maltose": 0.33,
    "lactose": 0.16,
    "galactose": 0.45,
    "others": 0.2,
}
TOTAL = re.compile(r"sugars (about )?([\d.]+) g")
PERCENT = re.compile(r"(\w+) ([\d.]+) %")
GRAMS = re.compile(r"(\w+) ([\d.]+) g")
ACID = re.compile(r"([\d.]+) % (citric|lactic|acetic|malic|tartaric) acid")
HEAT = re.compile(r"(\d+) SHU of dry matter")


def sugars_named(row: Row) -> dict[str, float]:
    """Grams of each sugar per 100 g, as the row's method has them."""
    total, parts = row["method"].split(";")[0].split(": ")
    if whole := TOTAL.fullmatch(total):
        shares = {name: float(share) / 100 for name, share in PERCENT.findall(parts)}
        assert sum(shares.values()) == pytest.approx(1), row
        return {name: share * float(whole[2]) for name, share in shares.items()}
    assert total == "per 100 g", row
    return {name: float(grams) for name, grams in GRAMS.findall(parts)}


def estimated(row: Row) -> bool:
    """Whether the food table's sugars are unknown, or named in the row as too low to go by."""
    table = food_table()
    known = table.known[table.index(row["food"]), INDEX["sugars_g"]]
    return not known or "the release gives" in row["method"]


def test_every_row_names_a_food_a_stated_property_and_appears_once() -> None:
    keys = {food.key for food in food_table()}
    assert [row["food"] for row in ROWS if row["food"] not in keys] == []
    assert {row["property"] for row in ROWS} == set(STATED)
    assert len({(row["food"], row["property"]) for row in ROWS}) == len(ROWS)


def test_every_row_says_where_its_figure_is_from_and_how_it_came_about() -> None:
    kinds = ("published", "computed: ", "definition", "common practice", "from memory")
    assert [row for row in ROWS if not row["source"].startswith(kinds)] == []
    assert [row for row in ROWS if not row["method"].strip()] == []


def test_every_food_with_half_a_gram_of_sugars_has_some_sweetness() -> None:
    table = food_table()
    sweet = table.values[:, INDEX["sugars_g"]] >= 0.5
    figures = stated_character(table.foods).values[:, STATED.index("sweetness")]
    assert [table.foods[i].key for i in np.flatnonzero(sweet & (figures <= 0))] == []


def test_sweetness_follows_from_the_sugars_named_beside_it() -> None:
    for row in rows_about("sweetness"):
        sugars = sugars_named(row)
        expected = sum(RELATIVE_SWEETNESS[name] * grams for name, grams in sugars.items())
        assert float(row["value"]) == pytest.approx(expected, rel=0.005, abs=0.006), row


def test_the_sugars_named_are_those_of_the_food_table() -> None:
    for row in rows_about("sweetness"):
        if estimated(row):
            continue  # The next test looks at these.
        sugars = composition(row["food"], "sugars_g")
        # Sugars listed one by one do not quite add up to the total; honey is another survey's.
        listed = row["method"].startswith("per 100 g")
        loose = 0.06 if row["food"] == "honey" else 0.03 if listed else 1e-9
        assert sum(sugars_named(row).values()) == pytest.approx(
            sugars, rel=loose, abs=0.02 * listed
        )
        assert float(row["value"]) <= 1.8 * sugars


def test_where_the_table_has_no_sugars_to_go_by_the_row_says_about_or_cites_an_analysis() -> None:
    estimates = [row for row in rows_about("sweetness") if estimated(row)]
    assert len(estimates) > 20
    for row in estimates:
        about = row["method"].startswith("sugars about") and row["source"] == "from memory"
        assert about or row["source"].startswith("computed: individual sugars"), row
        assert float(row["value"]) <= 1.5 * composition(row["food"], "carbohydrate_g")


def test_sourness_follows_from_the_acid_named_beside_it() -> None:
    for row in rows_about("sourness"):
        if acid := ACID.match(row["method"]):
            expected = float(acid[1]) / EQUIVALENT[acid[2]] * EQUIVALENT["citric"]
            assert float(row["value"]) == pytest.approx(expected, abs=0.006), row
        else:
            assert row["food"] in {"honey", "cream-of-tartar"}


def test_heat_follows_from_its_scoville_figure_and_the_dry_matter_of_the_food_table() -> None:
    hot = [row for row in rows_about("pungency") if HEAT.match(row["method"])]
    assert len(hot) >= 10
    for row in hot:
        found = HEAT.match(row["method"])
        assert found is not None
        as_eaten = float(found[1]) * (1 - composition(row["food"], "water_g") / 100)
        expected = 100 * as_eaten / SHU_OF_FRESH_GARLIC
        assert float(row["value"]) == pytest.approx(expected, rel=0.005), row


def test_no_figure_is_impossible() -> None:
    highest = {"sweetness": 150.0, "sourness": 10.0, "savouriness": 10_000.0, "pungency": 2000.0}
    for row in ROWS:
        if row["food"] == "cream-of-tartar":
            continue  # An acid salt outright; it has its own test.
        assert 0 < float(row["value"]) <= highest[row["property"]], row
    for row in rows_about("savouriness"):
        # Crude protein is nitrogen times 6.25, and free glutamic acid is 14.007 / 147.13 nitrogen;
        # labels leave half a gram of protein away.
        protein = composition(row["food"], "protein_g")
        assert float(row["value"]) / 1000 * 6.25 * 14.007 / 147.13 <= protein + 0.5, row
