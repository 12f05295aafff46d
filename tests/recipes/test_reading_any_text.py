"""Any text at all is read, at once, and what was written is read back."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.measures import Amount, Term, parse_amount
from reformulate.measures.words import UNITS, Kind
from reformulate.recipes.reading import corpus_fields, read_line
from tests.yardstick import expect_bounded

LONG = 50_000_000
PLAIN = range(100)


ANY_TEXT = st.text(max_size=80)
KITCHEN_TEXT = st.lists(
    st.sampled_from(
        (
            *(
                "1",
                "2",
                "1/2",
                "½",
                "1 1/2",
                "0",
                "15",
                "1,5",
                "x",
                "-",
                "–",
                "to",
                "or",
                "and",
                "/",
            ),
            *(
                "cup",
                "cups",
                "tbsp",
                "g",
                "oz",
                "can",
                "cloves",
                "inch",
                "package",
                "pinch",
                "dozen",
            ),
            *("(", ")", ",", ";", ":", ".", "+", "%", "plus", "each", "per", "about", "of", "a"),
            *("salt", "pepper", "cream cheese", "garlic", "lemon", "juice", "fresh", "chopped"),
            *("large", "for", "with", "to taste", "optional", "divided", "ACME", "half", "#", "*"),
        )
    ),
    max_size=25,
).map(" ".join)


@given(st.one_of(ANY_TEXT, KITCHEN_TEXT))
def test_no_text_breaks_the_reading_or_is_changed_by_it(text: str) -> None:
    line = read_line(text)
    assert line.text == text
    assert isinstance(corpus_fields(line), tuple)


@given(KITCHEN_TEXT)
def test_every_amount_read_can_stand_in_a_recipe_or_is_asked_for(text: str) -> None:
    for line in (read_line(text), *read_line(text).alternatives, *read_line(text).also):
        if line.amount:
            assert str(parse_amount(line.amount)) == line.amount
        elif not line.heading:
            assert line.asks


TERMS = st.builds(
    Term,
    quantity=st.fractions(Fraction(1, 8), 100, max_denominator=8),
    unit=st.sampled_from(
        sorted(word for word, unit in UNITS.items() if unit.kind in {Kind.MASS, Kind.VOLUME})
    ),
)


@given(TERMS, st.sampled_from(["tahini", "cream cheese", "chickpeas"]))
def test_an_amount_that_was_written_is_read_back(term: Term, food: str) -> None:
    amount = Amount((term,))
    for text in (f"{amount} {food}", f"{food} - {amount}", f"{food} ({amount})"):
        line = read_line(text)
        assert (line.amount, line.food_text) == (str(amount), food)


@pytest.mark.parametrize(
    "text",
    [
        "a" * LONG,
        "1 cup " * (LONG // 6),
        "(" * LONG,
        "1/" * (LONG // 2),
        "1 (" * (LONG // 3),
        "\0" * LONG,
        "9" * LONG,
    ],
    ids=["letters", "cups", "brackets", "slashes", "nesting", "NULs", "digits"],
)
def test_a_line_of_fifty_megabytes_is_read_at_once_and_asked_about(text: str) -> None:
    expect_bounded(lambda: read_line(text), 10, lambda: [read_line(f"{i} cups dip") for i in PLAIN])
    line = read_line(text)
    assert line.text is text
    assert line.asks


@pytest.mark.parametrize("text", ["\ufeff1 cup milk", "\u202e1 cup\u202c milk", "1\0cup\0milk"])
def test_marks_that_show_nothing_do_not_hide_an_amount(text: str) -> None:
    line = read_line(text)
    assert (line.amount, line.food_text) == ("1 cup", "milk")
