"""What a cup, a spoon or a piece of each food weighs."""

from __future__ import annotations

import re
from collections import defaultdict

import pytest

from reformulate.foods import FoodTable, food_table
from tests.foods.food_files import Row, release_28, rows_of, weights_26

UNITS = {
    *("cup", "tbsp", "tsp", "piece", "clove", "slice", "sprig", "leaf", "stalk", "head", "can"),
    *("jar", "pack", "stick", "fillet", "bunch", "ear", "sheet", "chip", "cracker", "strip"),
}
MILLILITRES = {"cup": 236.59, "tbsp": 14.79, "tsp": 4.93}
SPELLINGS = {
    "cup": ("cup", "serving 1 cup"),
    "tbsp": ("tbsp", "tablespoon", "serving, 1 tbsp"),
    "tsp": ("tsp", "teaspoon"),
    "half cup": ("serving, 1/2 cup", "serving 1/2 cup"),
    "fluid ounce": ("fl oz",),
}
COUNTED = {  # dippers and breads, which nobody measures by the cup
    *("tortilla-chips-baked", "potato-chips", "potato-chips-unsalted", "potato-chips-reduced"),
    *("sweet-potato-chips", "vegetable-chips", "plantain-chips", "pita-chips", "bagel-chips"),
    *("pretzels", "pretzels-unsalted", "rice-cakes", "rice-crackers", "pita", "pita-whole"),
    *("naan", "focaccia", "tortilla-flour", "tortilla-corn", "bread-whole", "bread-french"),
    *(
        "bread-egg",
        "bread-italian",
        "bread-rye",
        "bread-pumpernickel",
        "bagel",
        "crackers-wheat-reduced",
    ),
    *("crackers-water", "crackers-multigrain", "crackers-matzo", "wonton-wrappers", "phyllo"),
}
# Grams are written to four figures, those of fractions of a measure to three.
ROUNDING = 0.006
HOUSEHOLD_28 = re.compile(r"SR28 household weight")
SEQUENCE_26 = re.compile(r"SR26 weight seq (\d+)")
DERIVED = re.compile(r"SR(26|28) (cup|tbsp|tsp|half cup|fluid ounce) ([/x]) (\d+)")
OWN = re.compile(
    r"(published: several public pages|common practice|from memory)(, [\d.]+-[\d.]+ g)?"
    r"|by definition: \d+ oz"
)


@pytest.fixture(scope="module")
def table() -> FoodTable:
    return food_table()


def weights_28(row: Row) -> list[tuple[str, float]]:
    """Wording and grams of one of each household measure of release 28."""
    found = []
    for n in "12":
        match = re.match(r"([\d.]+)\s+(.*)", row[f"GmWt_Desc{n}"])
        if match:
            found.append((match[2].lower(), float(row[f"GmWt_{n}"]) / float(match[1])))
    return found


def is_unit(wording: str, unit: str) -> bool:
    starts = SPELLINGS.get(unit)
    return starts is None or wording.strip().startswith(starts)


def test_every_measure_belongs_to_a_food_and_uses_a_canonical_unit(table: FoodTable) -> None:
    assert {row["food"] for row in rows_of("measures.csv")} == {food.key for food in table}
    assert {row["unit"] for row in rows_of("measures.csv")} <= UNITS
    assert all(float(row["grams"]) > 0 for row in rows_of("measures.csv"))


def test_the_source_of_every_measure_is_written_in_one_of_the_agreed_ways() -> None:
    ways = (HOUSEHOLD_28, SEQUENCE_26, DERIVED, OWN)
    odd = [
        row
        for row in rows_of("measures.csv")
        if not any(way.fullmatch(row["source"]) for way in ways)
    ]
    assert odd == []


def test_measures_that_claim_release_28_weigh_what_it_says(table: FoodTable) -> None:
    odd, checked = [], 0
    for row in rows_of("measures.csv"):
        if HOUSEHOLD_28.fullmatch(row["source"]):
            weights = weights_28(release_28()[table.food(row["food"]).ndb or ""])
            grams = [each for wording, each in weights if is_unit(wording, row["unit"])]
            checked += 1
            if not any(float(row["grams"]) == pytest.approx(each, rel=ROUNDING) for each in grams):
                odd.append(row)
    assert odd == []
    assert checked > 700


def test_measures_that_claim_release_26_weigh_what_it_says(table: FoodTable) -> None:
    odd, checked = [], 0
    for row in rows_of("measures.csv"):
        if match := SEQUENCE_26.fullmatch(row["source"]):
            key = table.food(row["food"]).ndb or "", int(match[1])
            amount, wording, grams = weights_26()[key]
            checked += 1
            right = float(row["grams"]) == pytest.approx(grams / amount, rel=ROUNDING)
            sizes = {"small", "medium", "large"}.intersection(row["qualifier"].split())
            sized = all(size in wording.lower() for size in sizes)
            if not (right and sized and is_unit(wording.lower(), row["unit"])):
                odd.append((row, weights_26()[key]))
    assert odd == []
    assert checked > 250


def test_measures_derived_from_a_release_follow_from_it(table: FoodTable) -> None:
    odd, checked = [], 0
    for row in rows_of("measures.csv"):
        if match := DERIVED.fullmatch(row["source"]):
            ndb = table.food(row["food"]).ndb or ""
            release, unit, sign, number = match.groups()
            if release == "28":
                weights = weights_28(release_28()[ndb])
            else:
                weights = [
                    (wording.lower(), grams / amount)
                    for (food, _), (amount, wording, grams) in weights_26().items()
                    if food == ndb
                ]
            factor = float(number) if sign == "x" else 1 / float(number)
            grams = [each * factor for wording, each in weights if is_unit(wording, unit)]
            checked += 1
            if not any(float(row["grams"]) == pytest.approx(each, rel=0.02) for each in grams):
                odd.append((row, grams))
    assert odd == []
    assert checked > 100


def test_every_food_that_is_spooned_or_poured_has_a_volume(table: FoodTable) -> None:
    without = {
        food.key
        for food in table
        if not any(measure.unit in MILLILITRES for measure in food.measures)
    }
    assert without == COUNTED


def test_spices_have_a_teaspoon(table: FoodTable) -> None:
    for food in table:
        if food.group == "Herbs and spices" and "spice" in food.words:
            assert any(measure.unit == "tsp" for measure in food.measures), food.key


def test_volumes_imply_densities_a_kitchen_knows(table: FoodTable) -> None:
    for food in table:
        for measure in food.measures:
            if measure.unit in MILLILITRES:
                density = measure.grams / MILLILITRES[measure.unit]
                assert 0.01 < density < 1.6, (food.key, measure)


def test_cup_and_spoons_of_one_preparation_agree(table: FoodTable) -> None:
    # Loose goods settle in a cup; releases weighed spoon and cup apart.
    for food in table:
        density = defaultdict(list)
        for measure in food.measures:
            if measure.unit in MILLILITRES:
                density[measure.qualifier].append(measure.grams / MILLILITRES[measure.unit])
        for found in density.values():
            assert max(found) < 1.5 * min(found), food.key


def test_the_usual_kind_is_the_default_of_its_unit(table: FoodTable) -> None:
    def default(key: str, unit: str) -> tuple[str, float]:
        measure = next(m for m in table.food(key).measures if m.unit == unit)
        return measure.qualifier, measure.grams

    assert default("onion-yellow", "piece") == ("medium", 110)
    assert default("onion-yellow", "cup") == ("chopped", 160)
    assert default("egg-whole", "piece") == ("large", 50)
    assert default("cheddar", "cup") == ("shredded", 113)
    assert default("chickpeas-canned", "can") == ("15 oz, drained", 255)
    assert default("butter-salted", "stick") == ("", 113.4)
    assert default("garlic", "clove") == ("", 3)
    assert default("cream-heavy", "cup") == ("", 238)


def test_no_food_has_the_same_measure_twice(table: FoodTable) -> None:
    for food in table:
        names = [(measure.unit, measure.qualifier) for measure in food.measures]
        assert len(names) == len(set(names)), food.key
