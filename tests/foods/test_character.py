"""The predictors of taste and texture, against published figures and against themselves."""

from __future__ import annotations

import re
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.foods import INDEX, Food, food_table
from reformulate.foods.character import (
    CHARACTER,
    DERIVED,
    MEANING,
    SALT_PER_SODIUM,
    STATED,
    source_of,
    stated_character,
)
from tests.foods.food_files import Row, rows_of

ROWS = rows_of("character.csv")
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
# Grams per mole of hydrogen ions: molar mass over the acid's carboxyl groups.
EQUIVALENT = {
    "citric": 192.12 / 3,
    "lactic": 90.08,
    "acetic": 60.05,
    "malic": 134.09 / 2,
    "tartaric": 150.09 / 2,
}
SHU_OF_FRESH_GARLIC = 2500  # our own choice
TOTAL = re.compile(r"sugars (about )?([\d.]+) g")
PERCENT = re.compile(r"(\w+) ([\d.]+) %")
GRAMS = re.compile(r"(\w+) ([\d.]+) g")
ACID = re.compile(r"([\d.]+) % (citric|lactic|acetic|malic|tartaric) acid")
HEAT = re.compile(r"(\d+) SHU of dry matter")


def rows_about(property_: str) -> list[Row]:
    return [row for row in ROWS if row["property"] == property_]


def stated(food: str, property_: str) -> float:
    """One stated figure [unit of the property per 100 g]."""
    figures = stated_character([food_table().food(food)])
    return float(figures.values[0, STATED.index(property_)])


def sugars_named(row: Row) -> dict[str, float]:
    """Grams of each sugar per 100 g, as the row's method has them."""
    total, parts = row["method"].split(";")[0].split(": ")
    if whole := TOTAL.fullmatch(total):
        shares = {name: float(share) / 100 for name, share in PERCENT.findall(parts)}
        assert sum(shares.values()) == pytest.approx(1), row
        return {name: share * float(whole[2]) for name, share in shares.items()}
    assert total == "per 100 g", row
    return {name: float(grams) for name, grams in GRAMS.findall(parts)}


def hydrogen_ions(food: str) -> float:
    """Titratable acid [mmol H+ per 100 g]."""
    return stated(food, "sourness") / EQUIVALENT["citric"] * 1000


def composition(food: str, nutrient: str) -> float:
    table = food_table()
    return float(table.values[table.index(food), INDEX[nutrient]])


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


@pytest.mark.parametrize(
    ("food", "low", "high"),
    [
        # [mmol H+ per 100 g]; lemon and lime 48.0 and 45.9 g/L citric acid, bottled 3.4 to 3.9 %,
        # orange 0.9 to 1.7 %: Penniston 2008, J. Endourol. 22:567.
        ("lemon-juice", 74.5, 75.5),
        ("lime-juice", 71.5, 72.5),
        ("lemon-juice-bottled", 53, 61),
        ("lime-juice-bottled", 53, 61),
        ("orange-juice", 14, 26),
        # 5 % acetic acid, the usual label: 5 / 60.05.
        ("vinegar-distilled", 83.0, 83.5),
        ("vinegar-cider", 83.0, 83.5),
        # 6 to 7 % for wine vinegar, from memory.
        ("vinegar-red-wine", 99.9, 116.6),
        # At least 0.9 % lactic acid in 21 CFR 131.200 (2015); usual range from memory.
        ("yogurt-whole", 100 * 0.9 / 9.008, 14.5),
        ("yogurt-strained-nonfat", 100 * 0.9 / 9.008, 18),
        # At least 0.5 % lactic acid in 21 CFR 131.160 (2015); usual range from memory.
        ("sour-cream", 100 * 0.5 / 9.008, 10),
        # Usual ranges from memory.
        ("buttermilk", 8, 10),
        ("creme-fraiche", 6, 9),
        ("cream-cheese", 6, 9),
        ("cottage-cheese", 6, 10),
        ("mayonnaise", 5, 8),
        ("tomato", 6, 6.5),
        ("tomato-paste", 23, 39),
        ("wine-white", 7, 10),
        ("capers", 6, 20),
        ("pickles-dill", 6, 20),
    ],
)
def test_titratable_acid_is_in_its_range(food: str, low: float, high: float) -> None:
    assert low <= hydrogen_ions(food) <= high


def test_cream_of_tartar_gives_one_hydrogen_ion_a_molecule() -> None:
    # KHC4H4O6: 188.18 g/mol, from the standard atomic weights.
    assert hydrogen_ions("cream-of-tartar") == pytest.approx(1000 * 100 / 188.18, rel=0.001)


def test_honey_is_as_sweet_as_its_average_sugars() -> None:
    # White 1962, USDA Technical Bulletin 1261, rounded: fructose 38, glucose 31, maltose 7,
    # sucrose 1.5 g per 100 g.
    assert stated("honey", "sweetness") / 100 == pytest.approx(0.838, abs=0.0005)


@pytest.mark.parametrize(
    ("food", "low", "high"),
    [
        ("sugar", 99, 100),  # sucrose is the unit
        ("fructose", 1.2 * 92.7, 1.73 * 92.7),  # PMC10346066, per gram of sugar
        ("maple-syrup", 60, 67),  # 66 % solids, mostly sucrose
        ("molasses", 60, 90),  # from memory
        ("milk-whole", 0.15 * 5.05, 0.2 * 5.05),  # lactose 0.16 to 0.2: PMC10346066
    ],
)
def test_sweetness_is_in_its_range(food: str, low: float, high: float) -> None:
    assert low <= stated(food, "sweetness") <= high


@pytest.mark.parametrize(
    ("food", "low", "high"),
    [
        # [mg per 100 g] trade table of free glutamate.
        ("parmesan", 1200, 1680),
        ("parmesan-block", 1200, 1680),
        ("parmesan-shredded", 1200, 1680),
        ("swiss-cheese", 308, 308),  # emmental
        ("cheddar", 182, 182),
        ("tomato", 140, 250),
        ("peas", 106, 106),
        ("corn", 106, 106),
        ("onion-yellow", 51, 51),
        ("cabbage", 50, 50),
        ("spinach", 48, 48),
        ("potato-boiled", 10, 10),
        ("beef-ground-80", 10, 10),
        ("milk-whole", 0, 1),
        # Reviews, at second hand.
        ("roquefort", 1280, 1280),
        ("fish-sauce", 727, 1383),
        ("oyster-sauce", 900, 900),
        ("yeast-extract", 1431, 1960),
        # From memory.
        ("soy-sauce", 400, 1700),
        ("miso", 200, 700),
        ("anchovies", 600, 1200),
        ("tomato-paste", 550, 800),
        ("tomatoes-sun-dried", 650, 1100),
        ("mushroom-shiitake-dried", 1000, 1150),
        ("mushroom", 40, 180),
        ("garlic", 100, 100),
        ("avocado", 20, 20),
    ],
)
def test_free_glutamate_is_in_its_range(food: str, low: float, high: float) -> None:
    assert low <= stated(food, "savouriness") <= high


def test_garlic_powder_counts_seven_and_a_half_times_fresh_garlic() -> None:
    # Common practice: 1 clove of 3 g = 1/8 tsp of 0.4 g.
    assert stated("garlic", "pungency") == 100
    assert stated("garlic-powder", "pungency") / 100 == pytest.approx(3 / 0.4)


@pytest.mark.parametrize(
    ("food", "low", "high"),
    [
        # [SHU of dry matter] trade bands.
        ("jalapeno", 2501, 5000),
        ("chile-ancho", 1001, 1500),
        ("pepper-cayenne", 30001, 50000),
        # From memory.
        ("pepper-serrano", 6000, 23000),
        ("paprika", 0, 500),
    ],
)
def test_heat_is_in_its_scoville_band(food: str, low: float, high: float) -> None:
    dry_matter = 1 - composition(food, "water_g") / 100
    assert low <= stated(food, "pungency") / 100 * SHU_OF_FRESH_GARLIC / dry_matter <= high


@pytest.mark.parametrize(
    ("property_", "falling"),
    [
        ("sourness", "vinegar-distilled lemon-juice lime-juice lemon-juice-bottled orange-juice"),
        ("sourness", "yogurt-strained-nonfat yogurt-nonfat sour-cream cream-cheese ricotta-whole"),
        ("sourness", "ricotta-whole milk-whole"),
        ("sourness", "tomatoes-sun-dried tomato-paste tomato-puree tomato-sauce tomato"),
        ("sourness", "mayonnaise-type mayonnaise oil-olive"),
        ("sourness", "hot-sauce ketchup salsa tomato avocado"),
        ("sweetness", "fructose sugar honey maple-syrup ketchup salsa"),
        ("sweetness", "carrot tomato cucumber spinach"),
        ("sweetness", "mayonnaise-light mayonnaise oil-olive"),
        ("savouriness", "parmesan cheddar mozzarella-whole ricotta-whole"),
        ("savouriness", "soy-sauce tomato-paste miso tomato cucumber"),
        ("savouriness", "mushroom-shiitake-dried mushroom-shiitake apple"),
        ("pungency", "pepper-cayenne pepper-serrano jalapeno paprika pepper-red"),
        ("pungency", "garlic-powder garlic shallot onion-yellow onion-sweet onion-boiled"),
        ("pungency", "chile-dried chile-red chiles-green-canned"),
        ("pungency", "mustard-powder mustard-dijon mustard-yellow mayonnaise"),
        ("pungency", "ginger-ground ginger ginger-pickled"),
        ("pungency", "horseradish horseradish-sauce cocktail-sauce ketchup"),
    ],
)
def test_foods_rank_as_a_cook_would_rank_them(property_: str, falling: str) -> None:
    for more, less in pairwise(falling.split()):
        assert stated(more, property_) > stated(less, property_), f"{more} above {less}"


def test_a_food_of_ours_without_a_row_has_none_of_the_property_but_not_firmly() -> None:
    figures = stated_character([food_table().food("oil-olive")])
    assert figures.known.all()
    assert not figures.values.any()
    assert not figures.firm.any()


def test_a_food_from_elsewhere_is_unknown_not_zero() -> None:
    table = food_table()
    foreign = Food(key="ndb:99999", name="A food from a release")
    # Even a number that one of our foods carries: the row as opened may be of another release.
    twin = Food(key="ndb:01009", name="Cheddar from a release")
    figures = stated_character([table.food("cheddar"), foreign, twin])
    assert figures.known.tolist() == [[True] * 4, [False] * 4, [False] * 4]
    assert not figures.values[1:].any()
    assert not figures.firm[1:].any()


def test_only_published_and_computed_figures_and_the_unit_itself_are_firm() -> None:
    table = food_table()
    figures = stated_character(table.foods)
    weak = ("from memory", "common practice")
    firm = {(row["food"], row["property"]): not row["source"].startswith(weak) for row in ROWS}
    for i, food in enumerate(table):
        for j, property_ in enumerate(STATED):
            assert figures.firm[i, j] == firm.get((food.key, property_), False)
    assert figures.firm.any(axis=0).all()
    assert (~figures.firm).any(axis=0).all()


@given(st.lists(st.integers(0, len(food_table()) - 1), max_size=20))
def test_rows_come_in_the_order_asked_for(picks: list[int]) -> None:
    foods = food_table().foods
    whole, part = stated_character(foods), stated_character([foods[i] for i in picks])
    for name in ("values", "known", "firm"):
        np.testing.assert_array_equal(getattr(part, name), getattr(whole, name)[picks])


def test_every_figure_of_the_file_is_read_into_its_place() -> None:
    table = food_table()
    expected = np.zeros((len(table), len(STATED)))
    for row in ROWS:
        expected[table.index(row["food"]), STATED.index(row["property"])] = float(row["value"])
    np.testing.assert_array_equal(stated_character(table.foods).values, expected)


def test_the_source_of_a_figure_can_be_asked_for() -> None:
    assert source_of("lemon-juice", "sourness").startswith("published: Penniston 2008")
    assert source_of("garlic-powder", "pungency").startswith("common practice; 1 clove")
    assert source_of("oil-olive", "sweetness").startswith("from memory")
    assert source_of("ndb:99999", "sweetness").startswith("not stated")
    with pytest.raises(KeyError, match="saltiness"):
        source_of("lemon-juice", "saltiness")


def test_the_eight_properties_keep_their_order_and_each_says_what_it_measures() -> None:
    keys = [property_.key for property_ in CHARACTER]
    assert keys == [
        *("saltiness", "sweetness", "sourness", "savouriness"),
        *("pungency", "richness", "moisture", "body"),
    ]
    assert sorted(keys) == sorted(STATED + DERIVED) == sorted(MEANING)
    for property_ in CHARACTER:
        meaning = MEANING[property_.key]
        assert meaning[0].isupper()
        assert meaning.count(".") == 1
        assert ("milligrams" in meaning) == (property_.unit == "mg")
        assert "grams" in meaning
        assert property_.name == property_.key.capitalize()


def test_salt_per_sodium_is_that_of_their_molar_masses() -> None:
    # IUPAC standard atomic weights: Na 22.990, Cl 35.453.
    assert pytest.approx((22.990 + 35.453) / 22.990, abs=5e-5) == 1000 * SALT_PER_SODIUM


def test_no_food_at_all_gives_empty_rows() -> None:
    figures = stated_character([])
    assert figures.values.shape == figures.known.shape == figures.firm.shape == (0, len(STATED))
