"""The limits of a hold as a cook writes and reads them: ``± 15 %``, ``100–200 g``, ``≤ 1.2``."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

_NUMBER = r"(\d+(?:[.,]\d+)?)"
_SHARE = re.compile(rf"(?:±|\+/?-)?\s*{_NUMBER}\s*%")
_BAND = re.compile(rf"{_NUMBER}\s*([a-z]*)\s*(?:-|–|to\b)\s*{_NUMBER}\s*([a-z]*)")
_ONE_SIDED = re.compile(rf"(at least|at most|>=|<=|≥|≤)\s*{_NUMBER}\s*([a-z]*)")
_FLOORS = ("at least", ">=", "≥")


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """A tolerance about the original, a band, or both."""

    tolerance: float | None = None
    """How far it may move either way, as a fraction of the original's [1]."""
    least: float | None = None
    """Lowest value [the unit it is written in]."""
    most: float | None = None
    """Highest value [the same unit]."""


def write_limits(limits: Limits, unit: str = "") -> str:
    """Write limits; ``unit`` stands behind the numbers of a band."""
    after = f" {unit}" if unit else ""
    words = []
    if limits.tolerance is not None:
        words.append(f"± {limits.tolerance * 100:g} %")
    if limits.least is not None and limits.most is not None:
        words.append(f"{limits.least:g}–{limits.most:g}{after}")
    elif limits.least is not None:
        words.append(f"≥ {limits.least:g}{after}")
    elif limits.most is not None:
        words.append(f"≤ {limits.most:g}{after}")
    return ", ".join(words)


def read_limits(text: str, unit: str) -> Limits | None:
    """Read limits, their numbers with ``unit`` or bare; None where it says none of the forms.

    A number in another unit is not read: it would stand for another amount.
    """
    limits = Limits()
    for words in re.split(r",\s+", text.strip().lower()):
        read = _one_form(words, unit)
        if not read or any(getattr(limits, name) is not None for name in read):
            return None
        limits = replace(limits, **read)
    return limits


def _one_form(words: str, unit: str) -> dict[str, float]:
    """Return what one form limits, by the names of :class:`Limits`; nothing if it is not one."""
    if found := _SHARE.fullmatch(words):
        return {"tolerance": _number(found[1]) / 100.0}
    if (found := _BAND.fullmatch(words)) and {found[2], found[4]} <= {"", unit}:
        return {"least": _number(found[1]), "most": _number(found[3])}
    if (found := _ONE_SIDED.fullmatch(words)) and found[3] in ("", unit):
        return {"least" if found[1] in _FLOORS else "most": _number(found[2])}
    return {}


def _number(text: str) -> float:
    return float(text.replace(",", "."))
