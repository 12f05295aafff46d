"""Durations of ISO 8601, and what pages write in their place, in minutes."""

from __future__ import annotations

import re
from typing import Final

_PLACES: Final = {
    "years": 0.0,
    "months": 0.0,
    "weeks": 10080.0,
    "days": 1440.0,
    "hours": 60.0,
    "minutes": 1.0,
    "seconds": 1 / 60,
}
"""Minutes of each place of a duration; years and months have no fixed length."""
_NUMBER: Final = r"[0-9]{1,9}(?:[.,][0-9]{1,9})?"
_PERIOD = re.compile(
    rf"P(?:(?P<years>{_NUMBER})Y)?(?:(?P<months>{_NUMBER})M)?(?:(?P<weeks>{_NUMBER})W)?"
    rf"(?:(?P<days>{_NUMBER})D)?(?P<time>T(?:(?P<hours>{_NUMBER})H)?"
    rf"(?:(?P<minutes>{_NUMBER})M)?(?:(?P<seconds>{_NUMBER})S)?)?",
    re.IGNORECASE | re.ASCII,
)
_CLOCK = re.compile(
    r"P(?:0{4}-?0{2}-?([0-9]{2}))?T([0-9]{2}):?([0-9]{2}):?([0-9]{2})", re.IGNORECASE | re.ASCII
)
_WORD = re.compile(
    r"(?:(\d{1,6})(?:\s*(?=[½¼¾])|\s+(?=\d+/)))?(\d{1,6}(?:[.,]\d{1,6}|/[1-9]\d{0,5})?|[½¼¾])[\s-]*"
    r"(d|days?|h|hrs?|hours?|m|mins?|minutes?|s|secs?|seconds?)\b\.?,?\s*(?:and\s+)?",
    re.IGNORECASE,
)
_MINUTES: Final = {"d": 1440.0, "h": 60.0, "m": 1.0, "s": 1 / 60}
_VULGAR: Final = {"½": 0.5, "¼": 0.25, "¾": 0.75}


def iso_minutes(text: str) -> float | None:
    """Return the minutes of a duration of ISO 8601, None where it is none or has no fixed length.

    Years and months have no fixed length; a fraction may stand only in the last place given.

    Parameters
    ----------
    text
        Such as ``PT1H30M``, ``P1DT12H``, ``P2W``, ``PT0,5H`` or ``PT01:30:00``.

    Source: ISO 8601-1, 5.5.2 (durations), from memory.
    """
    if clock := _CLOCK.fullmatch(text):
        days, hours, minutes, seconds = (float(part or 0) for part in clock.groups())
        fits = hours <= 24 and minutes < 60 and seconds < 60
        return days * 1440 + hours * 60 + minutes + seconds / 60 if fits else None
    found = _PERIOD.fullmatch(text)
    if not found or found["time"] in {"T", "t"}:
        return None
    parts = {place: found[place] for place in _PLACES if found[place]}
    if not parts or any("." in part or "," in part for part in list(parts.values())[:-1]):
        return None
    amounts = {place: float(part.replace(",", ".")) for place, part in parts.items()}
    if amounts.get("years") or amounts.get("months"):
        return None
    return sum(amount * _PLACES[place] for place, amount in amounts.items())


def written_minutes(text: str) -> float | None:
    """Return the minutes of a duration in words, such as ``1 hour 20 min``; None if it is none."""
    total = 0.0
    at = 0
    text = text.strip()[:200]
    while at < len(text):
        part = _WORD.match(text, at)
        if not part:
            return None
        whole = float(part[1] or 0)
        total += (whole + _amount(part[2])) * _MINUTES[part[3][0].lower()]
        at = part.end()
    return total if text else None


def _amount(text: str) -> float:
    if text in _VULGAR:
        return _VULGAR[text]
    above, _, below = text.partition("/")
    if below:
        return float(above) / float(below)
    return float(above.replace(",", "."))
