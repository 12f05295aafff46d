"""The predictors of taste and texture against published figures and against a cook."""

from __future__ import annotations

from itertools import pairwise

import pytest

from tests.foods.character_file import EQUIVALENT, SHU_OF_FRESH_GARLIC, composition, stated


def hydrogen_ions(food: str) -> float:
    """Titratable acid [mmol H+ per 100 g]."""
    return stated(food, "sourness") / EQUIVALENT["citric"] * 1000


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
