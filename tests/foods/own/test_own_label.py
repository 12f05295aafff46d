"""Foods from package labels: one worked by hand, the laws, what cannot be true."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.errors import BadInput
from reformulate.foods.own import (
    Basis,
    Rounding,
    food_from_label,
    own_food_findings,
    own_table,
    range_words,
    read_serving,
)
from reformulate.measures import SYSTEMS, parse_amount, weigh
from tests.foods.own.labels import ONION_DIP, printed_labels, true_foods

EU = {"rounding": Rounding.EU_LABEL, "per": Basis.HUNDRED_GRAMS}


@pytest.fixture
def dip():
    return food_from_label("Light onion dip", ONION_DIP, serving="2 Tbsp. (30g)")


def by_nutrient(figures):
    return {figure.nutrient: figure for figure in figures}


def findings_of(stated, serving="30 g", **how):
    return [
        str(each)
        for each in own_food_findings(food_from_label("X", stated, serving=serving, **how))
    ]


def test_a_label_worked_by_hand_per_serving(dip):
    # figure used, low, high; bands of 21 CFR 101.9(c) on either side of each figure
    by_hand = {
        "energy_kcal": (60, 55, 65),
        "protein_g": (2, 1.5, 2.5),
        "fat_g": (4.5, 4.25, 4.75),
        "saturated_g": (2.5, 2.25, 2.75),
        "cholesterol_mg": (15, 12.5, 17.5),
        "carbohydrate_g": (4, 3.5, 4.5),
        "fibre_g": (0, 0, 0.5),
        "sugars_g": (2, 1.5, 2.5),
        "added_sugars_g": (0.75, 0.5, 1),
        "sodium_mg": (180, 175, 185),
        "potassium_mg": (90, 85, 95),
        "calcium_mg": (60, 55, 65),
        "iron_mg": (0, 0, 0.36),
        "vitamin_d_ug": (0, 0, 0.4),
    }
    found = {f.nutrient: (f.value, f.low, f.high) for f in dip.per_serving}
    assert found.keys() == by_hand.keys()
    for key, figures in by_hand.items():
        assert found[key] == pytest.approx(figures), key


def test_the_same_label_worked_by_hand_per_100_g(dip):
    # 30 g printed is 29.5 to 30.5 g: the low end over the heavy serving, the high over the light
    by_hand = {
        "energy_kcal": (200, 55 / 0.305, 65 / 0.295),
        "fat_g": (15, 4.25 / 0.305, 4.75 / 0.295),
        "added_sugars_g": (2.5, 0.5 / 0.305, 1 / 0.295),
        "sodium_mg": (600, 175 / 0.305, 185 / 0.295),
    }
    found = by_nutrient(dip.per_100g)
    for key, figures in by_hand.items():
        each = found[key]
        assert (each.value, each.low, each.high) == pytest.approx(figures), key


def test_what_the_label_does_not_state_is_unknown_in_the_table(dip):
    table = own_table([dip])
    known = {key: bool(table.known[0, at]) for key, at in _columns().items()}
    assert known["fat_g"]
    assert not known["water_g"]
    assert not known["vitamin_c_mg"]
    assert table.values[0, _columns()["fat_g"]] == pytest.approx(15)
    assert table.values[0, _columns()["iron_mg"]] == 0
    assert known["iron_mg"]


def _columns():
    from reformulate.foods import INDEX  # noqa: PLC0415

    return INDEX


def test_an_honest_label_has_no_findings(dip):
    assert own_food_findings(dip) == ()


def test_a_range_is_said_in_words(dip):
    found = by_nutrient(dip.per_serving)
    assert range_words(found["fat_g"]) == "4.5 g (4.25 to 4.75 g)"
    assert range_words(by_nutrient(dip.per_100g)["energy_kcal"]) == "200 kcal (180 to 220 kcal)"
    assert found["added_sugars_g"].printed == "less than 1 g"


def test_a_serving_is_a_measure_and_its_spoons_become_us_customary(dip):
    spoon, serving = dip.all_measures
    # 2 label tablespoons are 30 mL; a US customary one is 14.78676 mL
    assert (spoon.unit, spoon.grams) == ("tbsp", pytest.approx(14.78676, abs=1e-5))
    assert (serving.unit, serving.qualifier, serving.grams) == ("piece", "serving", 30)
    us = SYSTEMS["us"]
    assert weigh(parse_amount("2"), dip.all_measures, us).grams == 60
    assert weigh(parse_amount("1 cup"), dip.all_measures, us).grams == pytest.approx(
        236.588, abs=0.01
    )
    assert weigh(parse_amount("1 tbsp"), dip.all_measures, SYSTEMS["label"]).grams == pytest.approx(
        15
    )


@pytest.mark.parametrize(
    ("text", "amount", "grams"),
    [
        ("2 Tbsp. (30g)", "2 tbsp", 30),
        ("2/3 cup (55 g)", "2/3 cup", 55),
        ("30 g", "", 30),
        ("1 container (5.3 oz/150g)", "1 container", 150),
        ("5 crackers (15 grams)", "5 crackers", 15),
        ("1/4 cup (60 mL) (57 g)", "1/4 cup", 57),
        ("2 tbsp", "2 tbsp", None),
        ("2,5 g", "", 2.5),
    ],
)
def test_the_line_on_the_serving_is_read(text, amount, grams):
    found = read_serving(text)
    assert (found.amount, found.grams) == (amount, grams)


@pytest.mark.parametrize("text", ["", "()", "about a handful or two (30 g)", "lots"])
def test_a_serving_that_is_no_amount_is_refused_with_a_way_out(text):
    with pytest.raises(BadInput, match="30 g"):
        read_serving(text)


@pytest.mark.parametrize(
    "serving", ["3 crackers (30 g)", "1 piece (30 g)", "1 oz (28 g)", "100 ml (103 g)"]
)
def test_every_kind_of_serving_gives_measures_that_weigh_it(serving):
    food = food_from_label("X", {"energy_kcal": 60}, serving=serving)
    grams = weigh(parse_amount("1 piece"), food.all_measures, SYSTEMS["us"]).grams
    assert grams == food.serving_grams
    unit = food.all_measures[0].unit
    count = parse_amount(food.serving).terms[0].quantity
    assert unit == "piece" or food.all_measures[0].grams * count == pytest.approx(grams)


def test_an_eu_label_counts_salt_kilojoules_and_fibre():
    food = food_from_label(
        "Houmous, plain",
        {"energy_kj": 1046, "net_carbohydrate_g": 9.8, "fibre_g": 5.1, "salt_g": 0.83},
        **EU,
    )
    found = by_nutrient(food.per_100g)
    sodium, energy, carbohydrate = (
        found[key] for key in ("sodium_mg", "energy_kcal", "carbohydrate_g")
    )
    assert (sodium.value, sodium.low, sodium.high) == pytest.approx((332, 330, 334))
    assert energy.value == pytest.approx(250)
    assert energy.low == pytest.approx(1045.5 * 3 / 13)
    assert (carbohydrate.value, carbohydrate.low, carbohydrate.high) == pytest.approx(
        (14.9, 14.8, 15)
    )
    assert sodium.printed == "salt 0.83 g"
    assert "net_carbohydrate_g" not in found


def test_carbohydrate_stays_unknown_where_fibre_is_not_stated_and_that_is_said():
    food = food_from_label("X", {"net_carbohydrate_g": 9.8, "fat_g": 3}, **EU)
    assert "carbohydrate_g" not in by_nutrient(food.per_100g)
    assert [str(each) for each in own_food_findings(food)] == [
        "X, carbohydrate: is stated without fibre, and fibre is not stated: all carbohydrate is "
        "unknown. State the fibre, 0 where there is none."
    ]


def test_stated_sodium_counts_before_salt():
    food = food_from_label("X", {"salt_g": 1, "sodium_mg": 390}, **EU)
    assert by_nutrient(food.per_100g)["sodium_mg"].value == 390


def test_a_share_alone_is_converted_by_the_daily_value():
    found = by_nutrient(food_from_label("X", {"calcium_mg": "4 %"}, serving="30 g").per_serving)
    calcium = found["calcium_mg"]
    assert (calcium.value, calcium.low, calcium.high) == pytest.approx((52, 35, 65))


def test_no_part_weighs_more_than_the_food():
    """Cooking spray, invented: 0 g of fat in a quarter of a gram says nothing of 100 g."""
    food = food_from_label("Oil spray", {"fat_g": 0, "energy_kcal": 0}, serving="0.3 g")
    found = by_nutrient(food.per_100g)
    assert (found["fat_g"].low, found["fat_g"].high) == (0, 100)
    assert found["energy_kcal"].high == pytest.approx(902)
    assert [str(each) for each in own_food_findings(food)] == [
        "Oil spray, serving: is only 0.3 g; what is declared as 0 may be, in 100 g: energy 902 kcal, "
        "fat 100 g. Look for the same food with figures per 100 g."
    ]


IMPOSSIBLE = [
    (
        {"energy_kcal": 60, "fat_g": 9, "carbohydrate_g": 4, "protein_g": 2},
        "X, energy: 55 to 65 kcal are declared; protein, carbohydrate and fat give 82.5 to 114 kcal "
        "at 4, 4 and 9 kcal a gram. Compare the lines with their source. Sugar alcohols "
        "have less.",
    ),
    (
        {"energy_kcal": 200, "fat_g": 4.5, "carbohydrate_g": 4, "fibre_g": 0, "protein_g": 2},
        "X, energy: 195 to 205 kcal are declared; protein, carbohydrate and fat give 56.2 to 70.8 "
        "kcal at 4, 4 and 9 kcal a gram. Compare the lines with their source. Alcohol and the acid of "
        "vinegar add to it.",
    ),
    (
        {"fat_g": 2, "saturated_g": 3},
        "X, saturated fat: is 2.75 g or more, fat 2.25 g or less; a part is no more than the "
        "whole. Compare these lines with their source.",
    ),
    (
        {"carbohydrate_g": 4, "sugars_g": 6},
        "X, sugars: is 5.5 g or more, carbohydrate 4.5 g or less; a part is no more than the "
        "whole. Compare these lines with their source.",
    ),
    (
        {"fat_g": 15, "carbohydrate_g": 10, "protein_g": 9},
        "X, sum of parts: water, protein, fat and carbohydrate come to 32.5 g or more in 30.5 g of "
        "food. Compare the size of a serving, and whether the figures are for it or for 100 g.",
    ),
    (
        {"fat_g": 3.2},
        "X, fat: 3.2 g is no figure the rule of a us label gives: it would be 3 g. It is taken as "
        "rounded to its last digit. Compare it with the label.",
    ),
    (
        {"calcium_mg": "60 (20 %)"},
        "X, calcium: 60 mg (20 % of the daily value): that share is 225 to 295 mg. Compare both with "
        "the label; labels before 2020 used other daily values.",
    ),
    (
        {"calcium_mg": "60 (3 %)"},
        "X, calcium: 3 % is no share of a daily value a label gives. Compare it with the label.",
    ),
]


@pytest.mark.parametrize(("stated", "finding"), IMPOSSIBLE)
def test_what_cannot_be_true_is_said_once_in_words(stated, finding):
    assert findings_of(stated) == [finding]


def test_parts_that_only_rounding_sets_apart_are_no_finding():
    # 0.75 g of sugars in 0.74 g of carbohydrate cannot be, 1 and "less than 1" can
    assert findings_of({"carbohydrate_g": "<1", "sugars_g": 1}) == []
    assert findings_of({"fat_g": 2, "saturated_g": 2}) == []
    # 4-4-9 of the printed figures is 64.5, of what may lie behind them as little as 56.25
    assert findings_of({"energy_kcal": 60, "fat_g": 4.5, "carbohydrate_g": 4, "protein_g": 2}) == []


def test_energy_without_all_its_parts_is_judged_from_below_only():
    assert findings_of({"energy_kcal": 200, "protein_g": 2}) == []
    assert len(findings_of({"energy_kcal": 60, "fat_g": 9})) == 1


@given(true_foods(), st.data())
def test_the_truth_lies_in_the_ranges_of_a_lawful_us_label_and_nothing_is_found(food, data):
    stated, serving = data.draw(printed_labels(food, Rounding.US_LABEL))
    label = food_from_label("X", stated, serving=serving)
    for figure in label.per_100g:
        true = food.per_100g[figure.nutrient]
        assert figure.low <= figure.value <= figure.high
        assert figure.low * (1 - 1e-9) <= true <= figure.high * (1 + 1e-9), figure
    assert own_food_findings(label) == ()


@given(true_foods(eu=True), st.data())
def test_the_truth_lies_in_the_ranges_of_a_lawful_eu_label_and_nothing_is_found(food, data):
    stated, serving = data.draw(printed_labels(food, Rounding.EU_LABEL))
    label = food_from_label("X", stated, serving=serving, **EU)
    true = dict(food.per_100g)
    true["carbohydrate_g"] = true.pop("net_carbohydrate_g") + true["fibre_g"]
    for figure in label.per_100g:
        assert figure.low - 1e-9 <= true[figure.nutrient] <= figure.high + 1e-9, figure
    assert own_food_findings(label) == ()


@given(true_foods(), st.data())
def test_figures_per_serving_are_those_per_100_g_times_the_serving(food, data):
    stated, serving = data.draw(printed_labels(food, Rounding.EU_LABEL))
    label = food_from_label("X", stated, serving=serving, **EU)
    for whole, portion in zip(label.per_100g, label.per_serving, strict=True):
        assert portion.value == pytest.approx(whole.value * label.serving_grams / 100)
        assert portion.low <= portion.value <= portion.high


def test_everything_wrong_with_a_label_is_said_at_once():
    with pytest.raises(BadInput) as caught:
        food_from_label(
            " ",
            {"fat_g": 40, "sodum_mg": 3, "protein_g": "some", "vitamin_c_mg": -1, "protein": "2"},
            serving="30 g",
            key="own:Dip",
        )
    assert str(caught.value).splitlines() == [
        "“sodum_mg”: is no nutrient of ours. Did you mean sodium_mg?",
        "protein: found “some”, expected a figure in g. Write it as printed: 4.5, <5, 4 %, or 60 (4 %).",
        "“protein”: is no nutrient of ours. Did you mean protein_g?",
        "key: found “own:Dip”, expected own: and small words joined by hyphens. Write own:dip, for "
        "example.",
        "name: is empty. Write what the food is called.",
        "fat: found 40 g in 30 g of food, where at most 30.5 g can be. Check the figure, its unit, "
        "and how much it is for.",
        "vitamin C: found -1, expected 0 or more. Write it as printed.",
    ]


@pytest.mark.parametrize(
    ("stated", "how", "told"),
    [
        (
            {"fat_g": 1},
            {"serving": ""},
            "serving_grams: is missing; the figures are for a serving.",
        ),
        ({"fat_g": 1}, {"serving": "2 tbsp"}, "serving_grams: is missing"),
        (
            {"protein_g": "10 %"},
            {"serving": "30 g"},
            "protein: found 10 %, from which no amount follows.",
        ),
        (
            {"calcium_mg": "10 %"},
            EU,
            "calcium: found 10 %, a share of the daily value, on what is no US",
        ),
        ({}, {"serving": "30 g"}, "label: states nothing."),
        ({"fat_g": float("nan")}, {"serving": "30 g"}, "fat: found nan, expected 0 or more."),
        ({"fat_g": 1}, {"serving": "0 g"}, "serving_grams: found 0, expected 0.01 or more"),
        (
            {"energy_kcal": 3700},
            EU,
            "energy: found 3700 kcal in 100 g of food, where at most 902 kcal",
        ),
    ],
)
def test_a_label_that_cannot_be_taken_says_why(stated, how, told):
    with pytest.raises(BadInput) as caught:
        food_from_label("X", stated, **how)
    assert any(str(problem).startswith(told) for problem in caught.value.problems), str(
        caught.value
    )
