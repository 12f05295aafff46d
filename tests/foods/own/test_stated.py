"""Figures as printed: read, written, refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.errors import BadInput
from reformulate.foods.own import STATABLE, Stated, read_stated
from reformulate.foods.own.stated import plain_number, unit_factor
from tests.foods.own.labels import problems_of


@pytest.mark.parametrize(
    ("value", "amount", "below", "percent"),
    [
        (4.5, 4.5, False, None),
        ("4.5", 4.5, False, None),
        ("4,5 mg", 4.5, False, None),
        ("<5", 5, True, None),
        ("Less than 5 mg", 5, True, None),
        ("4 %", None, False, 4),
        ("4% DV", None, False, 4),
        ("60 mg (4 %)", 60, False, 4),
        ("60mg 4%", None, None, None),
        ("60, 4%", 60, False, 4),
        ("0.06 g", 60, False, None),
        ("60000 mcg", 60, False, None),
    ],
)
def test_figures_are_read_as_labels_print_them(value, amount, below, percent):
    if below is None:
        with pytest.raises(BadInput):
            read_stated("calcium_mg", value)
        return
    found = read_stated("calcium_mg", value)
    assert (found.amount, found.below, found.percent) == (amount, below, percent)


@pytest.mark.parametrize(
    "value", ["", "a pinch", "-1", "5 oz", "400 IU", "1..2", "<", "%", "nan", "1e3"]
)
def test_what_is_no_figure_is_refused_with_an_example(value):
    with pytest.raises(BadInput, match=r"calcium: found .*expected a figure in mg"):
        read_stated("calcium_mg", value)


def test_a_comma_that_may_part_thousands_is_asked_about():
    with pytest.raises(BadInput, match="may part thousands or decimals"):
        read_stated("sodium_mg", "1,200 mg")


@given(
    st.sampled_from(sorted(STATABLE)),
    st.none() | st.floats(0, 1e9),
    st.booleans(),
    st.none() | st.floats(0, 1e4),
)
def test_what_is_written_reads_as_the_same_figure(nutrient, amount, below, percent):
    if amount is None:
        below = False
        percent = 1.0 if percent is None else percent
    stated = Stated(nutrient=nutrient, amount=amount, below=below, percent=percent)
    if amount is not None and len(plain_number(amount)) > 40:
        return  # beyond the decimals a file keeps
    if percent is not None and len(plain_number(percent)) > 40:
        return
    assert read_stated(nutrient, stated.written) == stated


@given(st.text(max_size=30))
def test_any_text_is_read_or_refused_in_words(text):
    told = problems_of(lambda: read_stated("fat_g", text))
    assert all(problem.what and problem.fix for problem in told)


def test_units_of_mass_convert_and_others_do_not():
    assert unit_factor("µg", "mg") == 0.001
    assert unit_factor("kj", "kJ") == 1.0
    assert unit_factor("kJ", "kcal") is None
    assert unit_factor("IU", "µg") is None
