"""Fractions in one sign or with the fraction slash, checked against the figures of the Unicode standard."""

from __future__ import annotations

import unicodedata
from fractions import Fraction

import pytest

from reformulate.recipes.reading import read_line

SIGNS = [
    sign for sign in map(chr, range(0x2150, 0x2190)) if "FRACTION" in unicodedata.name(sign, "")
]
SIGNS = ["¼", "½", "¾", *(sign for sign in SIGNS if 0 < unicodedata.numeric(sign, 0) < 1)]
"""Every sign for a part of one; what each is worth is the standard's own figure."""


def test_all_signs_of_the_standard_are_among_them() -> None:
    assert len(SIGNS) == 18  # one half, two thirds, three quarters, four fifths, two sixths, ...
    assert "⅔" in SIGNS


@pytest.mark.parametrize("sign", SIGNS)
def test_a_sign_is_what_the_standard_says_alone_and_after_a_whole_number(sign: str) -> None:
    worth = unicodedata.numeric(sign)
    assert read_line(f"{sign} cup tahini").quantity == pytest.approx(worth)
    for text in (f"2{sign} cups tahini", f"2 {sign} cups tahini"):
        assert read_line(text).quantity == pytest.approx(2 + worth)


@pytest.mark.parametrize("sign", SIGNS)
@pytest.mark.parametrize("slash", ["/", "⁄", "∕"])
def test_written_out_with_any_slash_it_is_the_same(sign: str, slash: str) -> None:
    part = Fraction(unicodedata.numeric(sign)).limit_denominator(10)
    written = f"{part.numerator}{slash}{part.denominator}"
    assert read_line(f"1 {written} cups tahini").quantity == pytest.approx(1 + float(part))
    line = read_line(f"{written} cup tahini")
    assert (line.quantity, line.unit, line.food_text) == (
        pytest.approx(float(part)),
        "cup",
        "tahini",
    )
