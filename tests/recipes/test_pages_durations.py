"""Durations of ISO 8601, and what stands in their place."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.recipes.pages.iso_durations import iso_minutes, written_minutes


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        # Source: ISO 8601 (durations, formats with designators and the alternative format).
        ("PT30M", 30.0),
        ("PT1H", 60.0),
        ("PT1H30M", 90.0),
        ("PT90M", 90.0),
        ("PT0M", 0.0),
        ("PT45S", 0.75),
        ("PT1H0M30S", 60.5),
        ("PT36H", 2160.0),
        ("P1D", 1440.0),
        ("P1DT12H", 2160.0),
        ("P2W", 20160.0),
        ("PT0.5H", 30.0),
        ("PT0,5H", 30.0),
        ("PT1.5M", 1.5),
        ("P0Y0M0DT0H35M0.000S", 35.0),
        ("P0DT1H", 60.0),
        ("PT01:30:00", 90.0),
        ("P0000-00-01T00:10:00", 1450.0),
        ("pt20m", 20.0),
    ],
)
def test_a_duration_of_the_standard_is_its_minutes(text: str, minutes: float) -> None:
    assert iso_minutes(text) == pytest.approx(minutes)


@pytest.mark.parametrize(
    "text",
    [
        # Source: ISO 8601; nothing given, places out of order, a fraction not in the last place.
        "",
        "P",
        "PT",
        "P1DT",
        "PT1M1H",
        "PT1.5H30M",
        "1H",
        "T1H",
        "PT-5M",
        "-PT5M",
        "PT5",
        "P5H",
        "PT1H30",
        "PT5M ",
        "PT٥M",
        "PT01:75:00",
        "PT" + "9" * 400 + "M",
        # Years and months have no fixed length.
        "P1Y",
        "P30M",
    ],
)
def test_what_is_no_duration_or_has_no_fixed_length_is_none(text: str) -> None:
    assert iso_minutes(text) is None


@given(st.integers(0, 50), st.integers(0, 99), st.integers(0, 999), st.integers(0, 999))
def test_the_places_of_a_duration_add_up(days: int, hours: int, minutes: int, seconds: int) -> None:
    text = f"P{days}DT{hours}H{minutes}M{seconds}S"
    expected = days * 1440 + hours * 60 + minutes + seconds / 60
    assert iso_minutes(text) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("30 minutes", 30.0),
        ("30 min.", 30.0),
        ("1 hr 15 mins", 75.0),
        ("1 hour and 20 minutes", 80.0),
        ("1h 20m", 80.0),
        ("1 1/2 hours", 90.0),
        ("1½ hours", 90.0),
        ("½ hour", 30.0),
        ("1.5 h", 90.0),
        ("2 days", 2880.0),
        ("90-minute", 90.0),
        ("30", None),
        ("overnight", None),
        ("10 to 15 minutes", None),
        ("", None),
        ("1/0 h", None),
    ],
)
def test_a_duration_in_words_is_its_minutes(text: str, minutes: float | None) -> None:
    assert written_minutes(text) == (None if minutes is None else pytest.approx(minutes))


@given(st.text("PTHMSDWY0123456789.,:- /½hours", max_size=30))
def test_any_text_is_a_duration_or_none(text: str) -> None:
    for found in (iso_minutes(text), written_minutes(text)):
        assert found is None or found >= 0.0
