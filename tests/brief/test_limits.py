"""Limits of a hold: what is written is read back, and a number in another unit is not taken."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate import Limits, read_limits, write_limits

amounts = st.integers(0, 99_999).map(lambda number: number / 100)


@st.composite
def some_limits(draw: st.DrawFn) -> Limits:
    """Return limits that say something."""
    tolerance = draw(st.none() | st.integers(0, 400).map(lambda percent: percent / 100))
    least, most = draw(st.none() | amounts), draw(st.none() | amounts)
    if tolerance is None and least is None and most is None:
        least = draw(amounts)
    return Limits(tolerance=tolerance, least=least, most=most)


@given(some_limits(), st.sampled_from(["g", "mg"]))
def test_what_is_written_is_read_back(limits: Limits, unit: str) -> None:
    read = read_limits(write_limits(limits, unit), unit)
    assert read is not None
    assert read.tolerance == pytest.approx(limits.tolerance)
    assert read.least == pytest.approx(limits.least)
    assert read.most == pytest.approx(limits.most)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("± 15 %", Limits(tolerance=0.15)),
        ("+/-15%", Limits(tolerance=0.15)),
        ("7,5 %", Limits(tolerance=0.075)),
        ("100-200", Limits(least=100, most=200)),
        ("100g to 200g", Limits(least=100, most=200)),
        ("at least 50 g", Limits(least=50)),
        ("<= 50", Limits(most=50)),
        ("± 10 %, ≥ 40 g", Limits(tolerance=0.1, least=40)),
    ],
)
def test_a_cook_s_forms_are_read(text: str, expected: Limits) -> None:
    assert read_limits(text, "g") == expected


@pytest.mark.parametrize(
    "text",
    [
        "",
        "a lot",
        "50 mg",
        "50 mg to 60 mg",
        "≥ 2 oz",
        "10-20%",
        "± 10 %, some",
        "± 10 %, ± 20 %",
        "-5",
        "1e9",
    ],
)
def test_anything_else_is_not_read(text: str) -> None:
    assert read_limits(text, "g") is None


def test_a_number_in_grams_is_not_taken_for_milligrams() -> None:
    assert read_limits("≥ 2 mg", "mg") == Limits(least=2)
    assert read_limits("≥ 2 g", "mg") is None
