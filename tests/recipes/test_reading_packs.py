"""Packs and pieces of a stated size."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.measures import Amount, Term
from reformulate.recipes.reading import About, read_line
from tests.recipes.asked import abouts


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("2 x 400 g tins chickpeas, drained", "2 tins (400 g)"),
        ("2 x 400g tins chickpeas", "2 tins (400 g)"),
        ("1 (15 oz) can chickpeas", "1 can (15 oz)"),
        ("1 (15.5 oz.) can chickpeas", "1 can (15.5 oz)"),
        ("1 15-oz. can chickpeas", "1 can (15 oz)"),
        ("one 15-ounce can chickpeas", "1 can (15 oz)"),
        ("1 can (15 oz/425 g) chickpeas", "1 can (15 oz)"),
        ("2 cans (15 oz each) chickpeas", "2 cans (15 oz)"),
        ("15-oz can chickpeas", "1 can (15 oz)"),
        ("1 - 8 oz pkg cream cheese", "1 pack (8 oz)"),
        ("2 - 15 oz cans white beans", "2 cans (15 oz)"),
        ("2 1/4-oz packets yeast", "2 packs (1/4 oz)"),
        ("4-6 oz can tuna", "1 can (5 oz)"),
        ("4 chicken breasts (6 oz each)", "24 oz"),
        ("four 6-ounce salmon fillets", "24 oz"),
        ("8 (6 inch) corn tortillas", "8"),
    ],
)
def test_packs_keep_their_size(text: str, amount: str) -> None:
    line = read_line(text)
    assert line.amount == amount
    assert line.pack is not None
    assert not line.asks


def test_packs_without_a_number_are_asked_about() -> None:
    assert [str(ask) for ask in read_line("15 oz cans black beans").asks] == ["How many cans?"]
    assert not read_line("15 oz can black beans").asks


@given(st.integers(1, 12), st.integers(1, 900), st.sampled_from(["can", "tin", "jar", "tub"]))
def test_packs_that_were_written_are_read_back(count: int, size: int, pack: str) -> None:
    of_size = Term(quantity=Fraction(size), unit="g")
    amount = Amount((Term(quantity=Fraction(count), unit=pack, size=of_size),))
    assert read_line(f"{amount} chickpeas").amount == str(amount)
    assert read_line(f"{count} x {size}g {pack}s chickpeas").amount == str(amount)


def test_a_weight_beside_pieces_is_asked_about_unless_it_says_each() -> None:
    assert About.SIZE in abouts(read_line("3 chicken breasts (about 1 1/2 lb)"))
    assert About.SIZE not in abouts(read_line("3 chicken breasts (8 oz each)"))
    assert About.SIZE not in abouts(read_line("1 chicken breast (8 oz)"))


@pytest.mark.parametrize(
    ("text", "amount", "food"),
    [
        ("150ml pot double cream", "150 ml", "double cream"),
        ("125g ball mozzarella, torn", "125 g", "mozzarella"),
        ("2 (4 oz) balls mozzarella", "8 oz", "mozzarella"),
        ("2 pots (150ml each) cream", "300 ml", "cream"),
        ("4 slices (1 oz each) ham", "4 oz", "ham"),
        ("1 (0.6 oz) cake yeast", "0.6 oz", "yeast"),
    ],
)
def test_a_pack_without_a_household_word_is_what_it_holds(
    text: str, amount: str, food: str
) -> None:
    line = read_line(text)
    assert (line.amount, line.food_text) == (amount, food)


@pytest.mark.parametrize(
    "text",
    [
        "1/2 of a 6 oz can tomato paste",
        "½ a 6-oz can of tomato paste",
        "half of a 6 oz can tomato paste",
        "half a 6-ounce can tomato paste",
    ],
)
def test_half_of_a_pack_is_half_of_it(text: str) -> None:
    line = read_line(text)
    assert (line.quantity, line.amount, line.food_text) == (0.5, "1/2 can (6 oz)", "tomato paste")


@pytest.mark.parametrize(
    ("text", "comment"),
    [
        ("1 (#10) can tomatoes", "#10"),
        ("1 No. 2 can tomatoes", "No. 2"),
        ("1 #2 can tomatoes", "#2"),
        ("1 (very large) can tomatoes", "very large"),
    ],
)
def test_what_stands_between_number_and_pack_is_a_remark(text: str, comment: str) -> None:
    line = read_line(text)
    assert (line.amount, line.food_text, line.comment) == ("1 can", "tomatoes", comment)


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("1 (4-oz. or larger) jar capers", "1 jar (4 oz)"),
        ("1 (about 4 oz) jar capers", "1 jar (4 oz)"),
    ],
)
def test_a_size_that_is_not_exact_is_a_size(text: str, size: str) -> None:
    assert read_line(text).amount == size


def test_a_weight_beside_packs_of_no_known_name_is_asked_about() -> None:
    assert About.SIZE in abouts(read_line("2 bowls (500 g) salad"))
    assert About.SIZE not in abouts(read_line("2 bowls (500 g each) salad"))


@pytest.mark.parametrize(
    "text", ['1" piece ginger', '1 (1") piece ginger', "1 thumb-sized piece ginger"]
)
def test_a_piece_that_is_only_measured_is_asked_about(text: str) -> None:
    line = read_line(text)
    assert (line.food_text, line.amount) == ("ginger", "")
    assert About.AMOUNT in abouts(line)
