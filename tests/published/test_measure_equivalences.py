"""Amounts in grams through the program's own foods, against published measures.

Volumes and masses: by definition (US customary, avoirdupois). Weights of cups, cans and eggs: as
said beside each; household weights of the Standard Reference from memory.
"""

from __future__ import annotations

import pytest

from reformulate import SYSTEMS, Measure, food_table, parse_amount, weigh


def grams(amount: str, food: str, key: str = "us", prep: str = "") -> float:
    measures = food_table().food(food).measures
    return weigh(parse_amount(amount), measures, SYSTEMS[key], prep).grams


@pytest.mark.parametrize(
    ("amount", "mass"), [("1 cup", 237.0), ("1 tbsp", 14.8), ("1 tsp", 4.9), ("1 pint", 473.2)]
)
def test_water_weighs_its_us_volume(amount: str, mass: float) -> None:
    # 236.6, 14.79, 4.93 and 473.2 mL by definition; 1 g/mL. Cups of tap water are given as 237 g.
    assert grams(amount, "water") == pytest.approx(mass, rel=0.005)


def test_water_weighs_its_label_and_metric_volume() -> None:
    # 21 CFR 101.9(b)(5)(viii): 240 mL a cup, labels only; 250 mL in metric practice.
    assert grams("1 cup", "water", "label") == pytest.approx(240.0, rel=0.005)
    assert grams("1 cup", "water", "metric") == pytest.approx(250.0, rel=0.005)


def test_a_stick_of_butter_is_four_ounces_and_eight_tablespoons() -> None:
    # Mass by definition, 4 oz = 113.4 g; US practice, 8 tbsp of 14.2 g.
    assert grams("1 stick", "butter-salted") == pytest.approx(
        grams("4 oz", "butter-salted"), abs=0.05
    )
    assert grams("1 stick", "butter-salted") == pytest.approx(
        grams("8 tbsp", "butter-salted"), abs=0.3
    )
    assert grams("1 stick", "butter-salted") == pytest.approx(
        grams("1/2 cup", "butter-salted"), abs=0.2
    )


@pytest.mark.parametrize(
    ("size", "dozen", "shell_on"),
    [
        # Least weight of a dozen of each US class, 7 CFR 56.218 (from memory); grams an egg.
        ("jumbo", "30 oz", 70.9),
        ("extra large", "27 oz", 63.8),
        ("large", "24 oz", 56.7),
        ("medium", "21 oz", 49.6),
        ("small", "18 oz", 42.5),
        ("peewee", "15 oz", 35.4),
    ],
)
def test_an_egg_of_each_class_weighs_a_twelfth_of_its_dozen(
    size: str, dozen: str, shell_on: float
) -> None:
    with_shell = grams(dozen, "egg-whole") / 12
    assert with_shell == pytest.approx(shell_on, abs=0.05)
    if size != "peewee":
        # Out of the shell about 0.88 of that (from memory), and the class is a least weight.
        assert grams(f"1 {size}", "egg-whole") == pytest.approx(0.88 * with_shell, rel=0.03)


def test_a_large_egg_is_fifty_grams_out_of_the_shell() -> None:
    # 21 CFR 101.12(b): the customary amount of egg is 50 g, one large egg.
    assert grams("1 large", "egg-whole") == 50.0
    assert grams("1", "egg-whole") == 50.0


@pytest.mark.parametrize(
    ("amount", "low", "high"),
    [
        # Drained weights, several public pages.
        ("1 can (15 oz)", 250.0, 285.0),
        ("1 can (425 g)", 250.0, 285.0),
        ("1 can (400 g)", 235.0, 250.0),
        ("1 can (29 oz)", 490.0, 510.0),
        ("1 can (822 g)", 490.0, 510.0),
    ],
)
def test_a_can_of_chickpeas_weighs_what_it_holds_drained(
    amount: str, low: float, high: float
) -> None:
    assert low <= grams(amount, "chickpeas-canned", prep="drained") <= high


def test_a_fifteen_ounce_can_of_chickpeas_is_about_a_cup_and_a_half() -> None:
    can = grams("1 can (15 oz)", "chickpeas-canned", prep="drained")
    assert can == 255.0
    assert can / grams("1 cup", "chickpeas-canned") == pytest.approx(1.5, abs=0.1)


# Grams of a US cup, tablespoon and teaspoon: household weights from memory; sources differ by 5 to
# 15 %, which is the tolerance for powders and chopped goods.
SPOONED = {
    "sour-cream": (230, 14, None),
    "yogurt-strained-nonfat": (245, 15, None),
    "cottage-cheese": (225, 14, None),
    "ricotta-whole": (246, 15.5, None),
    "cream-cheese": (232, 14.5, None),
    "milk-whole": (244, 15, 5),
    "buttermilk": (245, 15, 5),
    "cheddar": (113, 7, None),
    "parmesan": (100, 5, 1.7),
    "feta": (150, 9, None),
    "blue-cheese": (135, 8.5, None),
    "chickpeas-cooked": (164, 10, None),
    "butter-salted": (227, 14.2, 4.7),
    "mayonnaise": (220, 13.8, 4.6),
    "mayonnaise-light": (240, 15, 5),
    "tahini": (240, 15, 5),
    "peanut-butter": (258, 16, 5.3),
    "honey": (339, 21, 7),
    "maple-syrup": (315, 20, 6.6),
    "salt-table": (292, 18, 6),
    "lemon-juice": (244, 15, 5),
    "vinegar-cider": (239, 15, 5),
    "soy-sauce": (255, 16, 5.3),
    "fish-sauce": (288, 18, 6),
    "tomato-paste": (262, 16, 5.3),
    "salsa": (259, 16, None),
    "flour": (125, 7.8, 2.6),
    "cornstarch": (128, 8, 2.7),
    "scallion": (100, 6, None),
    "sugar-brown": (220, 13.8, 4.6),
    "avocado": (230, 14.4, None),
}


@pytest.mark.parametrize("food", SPOONED)
def test_cups_and_spoons_weigh_what_kitchens_say(food: str) -> None:
    prep = {"avocado": "mashed", "sugar-brown": "packed"}.get(food, "")
    for unit, mass in zip(("cup", "tbsp", "tsp"), SPOONED[food], strict=True):
        if mass is not None:
            assert grams(f"1 {unit}", food, prep=prep) == pytest.approx(mass, rel=0.15), unit


def test_a_sum_of_measures_weighs_the_sum_of_its_parts() -> None:
    # 5 1/3 tbsp = 1/3 cup; 2 tbsp = 1 fl oz: by definition, for a food with one density.
    water = (Measure(unit="cup", grams=236.5882365, source="1 g/mL"),)

    def mass(amount: str) -> float:
        return weigh(parse_amount(amount), water, SYSTEMS["us"]).grams

    assert mass("5 1/3 tbsp") == pytest.approx(mass("1/3 cup"), rel=1e-12)
    assert mass("1 fl oz") == pytest.approx(mass("2 tbsp"), rel=1e-12)
    assert mass("1/4 cup + 2 tbsp") == pytest.approx(mass("6 tbsp"), rel=1e-12)
    assert mass("1 gallon") == pytest.approx(3785.411784, rel=1e-12)
    assert mass("1 lb") == 453.59237
