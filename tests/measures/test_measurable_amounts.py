"""Every amount a cook can measure between two masses: how fine the steps are, and the scoops."""

from __future__ import annotations

from itertools import pairwise

import pytest

from reformulate.measures import SYSTEMS, Measure, measurable, parse_amount

US, METRIC = SYSTEMS["us"], SYSTEMS["metric"]
POUR = (  # constructed: 1 g a millilitre, near enough
    Measure(unit="tsp", grams=5.0),
    Measure(unit="tbsp", grams=15.0),
    Measure(unit="cup", grams=240.0),
)


def ounces(words: str) -> float:
    """What so many ounces weigh [g]."""
    (term,) = parse_amount(words).terms
    return float(term.quantity) * 28.349523125


@pytest.mark.parametrize(
    ("amount", "scoops"),
    [
        # With spoons of 1/8, 1/4, 1/2 and 1 tsp and 1 tbsp; half a tablespoon is 1 + 1/2 tsp.
        ("1/8 tsp", 1),
        ("1/4 tsp", 1),
        ("1/4 tsp + 1/8 tsp", 2),
        ("1/2 tsp", 1),
        ("3/4 tsp", 2),
        ("1 tsp", 1),
        ("1 tsp + 1/8 tsp", 2),
        ("1 1/4 tsp", 2),
        ("1 3/4 tsp", 3),
        ("2 tsp", 2),
        ("1 tbsp", 1),
        ("1 tbsp + 1/4 tsp", 2),
        ("1 tbsp + 2 tsp", 3),
        ("1 1/2 tbsp", 3),
        ("3 tbsp", 3),
        # With cups of 1/4, 1/3, 1/2 and 1.
        ("1/4 cup", 1),
        ("1/4 cup + 1 tbsp", 2),
        ("1/3 cup", 1),
        ("1/2 cup", 1),
        ("2/3 cup", 2),
        ("3/4 cup", 2),
        ("1/2 cup + 1/3 cup", 2),
        ("2/3 cup + 3 tbsp", 5),
        ("1 cup", 1),
        ("1 1/3 cups", 2),
        ("1 3/4 cups", 3),
    ],
)
def test_each_amount_takes_the_scoops_of_the_usual_spoons_and_cups(
    amount: str, scoops: int
) -> None:
    found = {str(one.amount): one.scoops for one in measurable(0.1, 500.0, POUR, US)}
    assert found[amount] == scoops


def test_what_is_weighed_or_counted_or_as_written_takes_no_scoop() -> None:
    piece = (Measure(unit="piece", grams=50.0),)
    counted = measurable(1.0, 200.0, piece, US, parse_amount("2"))
    written = measurable(30.0, 30.0, POUR, US, parse_amount("2 tbsp"))
    weighed = measurable(30.0, 200.0, (), METRIC)
    assert counted
    assert weighed
    assert [one.scoops for one in (*counted, *written, *weighed) if one.scoops] == []


@pytest.mark.parametrize(
    ("like", "from_", "to", "step"),
    [
        ("100 g", 1, 20, 1),
        ("100 g", 20, 250, 5),
        ("100 g", 250, 5000, 10),
        ("1 kg", 20, 250, 5),
        ("1 kg", 250, 5000, 10),
    ],
)
def test_a_scale_is_read_to_a_gram_then_to_five_then_to_ten(
    like: str, from_: int, to: int, step: int
) -> None:
    found = [one.grams for one in measurable(from_, to, (), METRIC, parse_amount(like))]
    assert found == pytest.approx(list(range(from_, to + 1, step)))


def test_kilograms_are_written_from_one_on() -> None:
    found = measurable(980.0, 1020.0, (), METRIC, parse_amount("2 kg"))
    assert [str(one.amount) for one in found] == ["980 g", "990 g", "1 kg", "1.01 kg", "1.02 kg"]


@pytest.mark.parametrize(
    ("low", "high", "expected"),
    [
        ("3 1/2 oz", "5 oz", ["3 1/2 oz", "3 3/4 oz", "4 oz", "4 1/2 oz", "5 oz"]),
        ("15 oz", "18 oz", ["15 oz", "15 1/2 oz", "16 oz", "17 oz", "18 oz"]),
    ],
)
def test_ounces_are_read_to_quarters_then_to_halves_then_whole(
    low: str, high: str, expected: list[str]
) -> None:
    found = measurable(ounces(low) - 1e-6, ounces(high) + 1e-6, (), US, parse_amount("6 oz"))
    assert [str(one.amount) for one in found] == expected


def test_pounds_come_in_quarters_with_ounces_between_them() -> None:
    found = measurable(ounces("30 oz") - 1e-6, ounces("41 oz") + 1e-6, (), US, parse_amount("2 lb"))
    assert [str(one.amount) for one in found] == [
        *("1 lb + 14 oz", "1 lb + 15 oz", "2 lb", "2 lb + 1 oz", "2 lb + 2 oz", "2 lb + 3 oz"),
        *("2 1/4 lb", "2 lb + 5 oz", "2 lb + 6 oz", "2 lb + 7 oz", "2 1/2 lb", "2 lb + 9 oz"),
    ]


def test_a_jug_is_read_at_its_marks_with_a_spoon_or_two_between_them() -> None:
    found = [
        str(one.amount) for one in measurable(100.0, 130.0, POUR, METRIC, parse_amount("300 ml"))
    ]
    assert [words for words in found if "+" not in words] == ["100 ml", "125 ml"]
    assert "100 ml + 2 tsp" in found
    assert "100 ml + 1 tbsp" in found


@pytest.mark.parametrize("key", SYSTEMS)
def test_spoons_stop_where_a_larger_spoon_or_the_smallest_cup_begins(key: str) -> None:
    millilitre = (Measure(unit="cup", grams=236.5882365),)
    system = SYSTEMS[key]
    one = {
        unit: measurable(0.1, 500.0, millilitre, system, parse_amount(f"1 {unit}"))
        for unit in ("tsp", "tbsp", "cup")
    }
    grams = {str(each.amount): each.grams for found in one.values() for each in found}
    for each in measurable(0.1, 500.0, millilitre, system, parse_amount("1 cup")):
        first = each.amount.terms[0]
        if len(each.amount.terms) == 1 and first.unit == "tsp":
            assert each.grams < grams["1 tbsp"] - 1e-9
        if first.unit == "tbsp":
            assert float(first.quantity) * grams["1 tbsp"] < grams["1/4 cup"] - 1e-9


def test_amounts_come_lightest_first_and_none_twice() -> None:
    found = [one.grams for one in measurable(0.5, 2000.0, POUR, US)]
    assert all(light < heavy * (1 - 1e-9) for light, heavy in pairwise(found))
