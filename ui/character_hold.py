"""The hold on a property of character, as a cook writes and reads it: free, ± 10 %, 0.8–1.2."""

from __future__ import annotations

import re

from reformulate import BadInput, CharacterHold, Problem

FREE = "free"
_NUMBER = r"(\d+(?:[.,]\d+)?)"
_PERCENT = re.compile(rf"^(?:±|\+/?-|\+-)?\s*{_NUMBER}\s*%$")
_BAND = re.compile(rf"^{_NUMBER}\s*(?:-|–|to)\s*{_NUMBER}(?:\s*m?g)?$")
_ONE_SIDED = re.compile(rf"^(at least|at most|>=|<=|≥|≤)\s*{_NUMBER}(?:\s*m?g)?$")


def write_character_hold(hold: CharacterHold | None) -> str:
    """Write the hold on a property."""
    if hold is None:
        return FREE
    words = []
    if hold.tolerance is not None:
        words.append(f"± {hold.tolerance * 100:g} %")
    if hold.at_least is not None and hold.at_most is not None:
        words.append(f"{hold.at_least:g}–{hold.at_most:g}")
    elif hold.at_least is not None:
        words.append(f"≥ {hold.at_least:g}")
    elif hold.at_most is not None:
        words.append(f"≤ {hold.at_most:g}")
    return ", ".join(words)


def read_character_hold(key: str, text: str) -> CharacterHold | None:
    """Read the hold a cook typed for a property; None frees it.

    Raises
    ------
    BadInput
        If the text says none of the forms.
    """
    words = text.strip().lower()
    if words in ("", FREE):
        return None
    if found := _PERCENT.match(words):
        return CharacterHold(quality=key, tolerance=_number(found[1]) / 100.0)
    if found := _BAND.match(words):
        return CharacterHold(quality=key, at_least=_number(found[1]), at_most=_number(found[2]))
    if found := _ONE_SIDED.match(words):
        limit = _number(found[2])
        if found[1] in ("at least", ">=", "≥"):
            return CharacterHold(quality=key, at_least=limit)
        return CharacterHold(quality=key, at_most=limit)
    raise BadInput(
        Problem(f"hold on {key}", f"found '{text}'.", "Write free, ± 10 %, 0.8–1.2, or ≤ 1.2.")
    )


def _number(text: str) -> float:
    return float(text.replace(",", "."))
