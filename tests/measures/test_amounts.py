"""Amounts as cooks write them: reading, writing, refusing."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from reformulate.errors import BadInput, Problem
from reformulate.measures import Amount, Term, parse_amount, scaled
from reformulate.measures.amount import LARGEST
from reformulate.measures.words import QUALIFIERS, UNITS, Kind

quantities = st.one_of(
    st.fractions(min_value=Fraction(1, 64), max_value=LARGEST, max_denominator=1000),
    st.decimals(min_value="0.001", max_value=9999, places=3).map(Fraction),
    st.floats(min_value=1e-3, max_value=1e3).map(Fraction),
)
sizes = st.builds(
    Term,
    quantity=quantities,
    unit=st.sampled_from(
        [w for w, found in UNITS.items() if found.kind in (Kind.MASS, Kind.VOLUME)]
    ),
    decimal=st.booleans(),
)


@st.composite
def terms(draw: st.DrawFn) -> Term:
    unit = draw(st.sampled_from(list(UNITS)))
    pack = UNITS[unit].kind is Kind.PACK
    return Term(
        quantity=draw(quantities),
        unit=unit,
        qualifier=draw(st.sampled_from(["", *QUALIFIERS])),
        size=draw(st.none() | sizes) if pack else None,
        decimal=draw(st.booleans()),
    )


amounts = st.lists(terms(), min_size=1, max_size=3).map(lambda found: Amount(tuple(found)))


@given(amounts)
def test_what_is_written_reads_back_the_same(amount: Amount) -> None:
    assert parse_amount(str(amount)) == amount


@given(amounts)
def test_writing_is_stable(amount: Amount) -> None:
    assert str(parse_amount(str(amount))) == str(amount)


@given(amounts, st.fractions(min_value=Fraction(1, 50), max_value=50, max_denominator=60))
def test_scaling_there_and_back_gives_the_same_quantities(amount: Amount, factor: Fraction) -> None:
    assume(all(term.quantity * factor <= LARGEST for term in amount.terms))
    there = scaled(amount, factor)
    assert parse_amount(str(there)) == there
    back = scaled(there, 1 / factor)
    assert [t.quantity for t in back.terms] == [t.quantity for t in amount.terms]
    assert [(t.unit, t.qualifier, t.size) for t in back.terms] == [
        (t.unit, t.qualifier, t.size) for t in amount.terms
    ]


@given(st.text(max_size=30))
def test_any_text_is_an_amount_or_refused_with_its_reason(text: str) -> None:
    problems: tuple[Problem, ...] = ()
    try:
        amount = parse_amount(text)
    except BadInput as refused:
        problems = refused.problems
    else:
        assert parse_amount(str(amount)) == amount
    assert all(found.where.startswith("amount '") for found in problems)
    assert all(found.what and found.fix for found in problems)


@pytest.mark.parametrize(
    ("written", "canonical"),
    [
        ("1 1/2 cups", "1 1/2 cups"),
        ("1½ lb", "1 1/2 lb"),
        ("1 1⁄2 cups", "1 1/2 cups"),
        ("½ tsp", "1/2 tsp"),
        ("3/2 Cup", "1 1/2 cups"),
        ("1/2 cup", "1/2 cup"),
        ("1/4 cup + 2 tbsp", "1/4 cup + 2 tbsp"),
        ("1/4 cup plus 2 Tablespoons", "1/4 cup + 2 tbsp"),
        ("225 g", "225 g"),
        ("225g", "225 g"),
        ("0.5 g", "0.5 g"),
        (".50 g", "0.5 g"),
        ("2.0 cups", "2 cups"),
        ("3 cloves", "3 cloves"),
        ("1 cloves", "1 clove"),
        ("3", "3"),
        ("3 pieces", "3"),
        ("1 medium", "1 medium"),
        ("2 extra-large", "2 extra large"),
        ("2 large cloves", "2 large cloves"),
        ("1 cup packed", "1 packed cup"),
        ("1 can (15 oz)", "1 can (15 oz)"),
        ("1 (15-ounce) can", "1 can (15 oz)"),
        ("2 15-oz cans", "2 cans (15 oz)"),
        ("2 x 400 g tins", "2 tins (400 g)"),
        ("1 jar (12 fl. oz.)", "1 jar (12 fl oz)"),
        ("2 fl oz", "2 fl oz"),
        ("a pinch", "1 pinch"),
        ("2T", "2 tbsp"),
        ("2t", "2 tsp"),
        ("2 leaves", "2 leaves"),
        ("1\u00a0\u00bd  cups", "1 1/2 cups"),
    ],
)
def test_a_cooks_writing_is_read(written: str, canonical: str) -> None:
    assert str(parse_amount(written)) == canonical


def test_a_read_amount_holds_exact_fractions() -> None:
    assert parse_amount("2/3 cup + 1 tbsp").terms == (
        Term(quantity=Fraction(2, 3), unit="cup"),
        Term(quantity=Fraction(1), unit="tbsp"),
    )
    assert parse_amount("1 can (14.5 oz)").terms[0].size == Term(
        quantity=Fraction(29, 2), unit="oz", decimal=True
    )


def test_scaled_grams_stay_decimal_and_scaled_cups_stay_fractions() -> None:
    half = Fraction(1, 2)
    assert str(scaled(parse_amount("225 g"), half)) == "112.5 g"
    assert str(scaled(parse_amount("1 1/2 cups + 1 tbsp"), half)) == "3/4 cup + 1/2 tbsp"
    assert str(scaled(parse_amount("2 cans (15 oz)"), half)) == "1 can (15 oz)"


NUMBERS = "Write one such as 2, 1 1/2 or 0.5."
PLACES = "The food and how it is prepared have their own places."
ONE = "Write the one amount that the figures are for."


@pytest.mark.parametrize(
    ("written", "what", "fix"),
    [
        ("", "There is no amount.", "Write one such as 2 cups or 225 g."),
        ("  ", "There is no amount.", "Write one such as 2 cups or 225 g."),
        ("cups", "'cups' has no number.", "Start with one, such as 2 cups or 1/2 tsp."),
        ("2 cupps", "There is no unit 'cupps'.", "Did you mean 'cups'?"),
        (
            "3 garlic",
            "There is no unit 'garlic'.",
            f"Use one such as cup, tbsp, g or clove. {PLACES}",
        ),
        ("1 cup chopped", "'chopped' is no part of an amount.", PLACES),
        ("2 heaped tsp", "'heaped' does not say how much.", "Write the amount in level measures."),
        ("2-3 cloves", "A range is not one amount.", ONE),
        ("2 to 3 cloves", "A range is not one amount.", ONE),
        ("2\u20133 cloves", "A range is not one amount.", ONE),
        ("about 2 cups", "An amount is exact.", ONE),
        (
            "1-1/2 cups",
            "This can be read as a range or as one number.",
            "Write 1 1/2 cups for one.",
        ),
        (
            "-1 cup",
            "An amount cannot be less than nothing.",
            "Write it without the minus sign.",
        ),
        ("0 g", "An amount must be more than nothing.", "Leave the line out instead."),
        ("nan g", "'nan' is not a number.", NUMBERS),
        ("inf", "'inf' is not a number.", NUMBERS),
        ("1e3 g", "'1e3' is not a number.", NUMBERS),
        ("1.2.3 g", "'1.2.3' is not a number.", NUMBERS),
        (
            "99999999 g",
            "A number above 1000000 is no amount.",
            "Check the number or use kg.",
        ),
        ("1/0 cup", "A fraction cannot have 0 below the line.", "Check the number."),
        ("1 3/2 cups", "'1 3/2' is not a mixed number.", "Its fraction must be less than 1."),
        ("1 2/2 cups", "'1 2/2' is not a mixed number.", "Its fraction must be less than 1."),
        (
            "1,5 dl",
            "A comma in a number can be read in two ways.",
            "Write 0.5 with a point, and 1000 without a mark.",
        ),
        (
            "1 cup (225 g)",
            "Only a pack has a size in brackets, not a cup.",
            "Write one or the other amount, or a unit such as can, jar or pack.",
        ),
        (
            "1 can (big)",
            "'big' is not the size of a pack.",
            "Put only its net weight or volume in brackets, such as (15 oz) or (400 g).",
        ),
        ("1 + 1/2 cups", "'1' has no unit.", "Give every part of a sum its unit."),
        (
            "1 cup +",
            "There is nothing on one side of a plus sign.",
            "Write both parts, or no sign.",
        ),
        ("0.1234567 g", "The number has too many decimals.", "Write at most 6."),
    ],
)
def test_what_is_not_one_amount_is_refused_with_the_way_out(
    written: str, what: str, fix: str
) -> None:
    with pytest.raises(BadInput) as caught:
        parse_amount(written)
    shown = " ".join(written.split())
    assert str(caught.value) == f"amount '{shown}': {what} {fix}"


def test_all_problems_of_a_sum_are_told_at_once() -> None:
    with pytest.raises(BadInput) as caught:
        parse_amount("2 cupps + 0 g")
    assert [p.what for p in caught.value.problems] == [
        "There is no unit 'cupps'.",
        "An amount must be more than nothing.",
    ]


def test_a_long_text_is_cut_in_the_message() -> None:
    with pytest.raises(BadInput) as caught:
        parse_amount("9" * 5000 + " g")
    assert len(str(caught.value)) < 150


@pytest.mark.parametrize(
    "factor", [Fraction(0), Fraction(-1), Fraction(10**7), Fraction(1, 10**51)]
)
def test_scaling_out_of_reason_is_refused(factor: Fraction) -> None:
    with pytest.raises(BadInput):
        scaled(parse_amount("1 cup"), factor)


def test_a_word_that_is_not_canonical_is_a_mistake_in_code() -> None:
    with pytest.raises(ValueError, match="'cups' is not a canonical unit word"):
        Term(quantity=Fraction(1), unit="cups")
    with pytest.raises(ValueError, match="'chopped' is not a qualifier"):
        Term(quantity=Fraction(1), unit="cup", qualifier="chopped")
    with pytest.raises(ValueError, match="only a pack has a size"):
        Term(quantity=Fraction(1), unit="cup", size=Term(quantity=Fraction(1), unit="g"))
