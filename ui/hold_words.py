"""The hold on a line, as a cook writes and reads it: lock, free, ± 15 %, 100–200 g."""

from __future__ import annotations

import re

from reformulate import BadInput, LineHold, Problem

FREE = "free"
LOCK = "lock"
_NUMBER = r"(\d+(?:[.,]\d+)?)"
_PERCENT = re.compile(rf"^(?:±|\+/?-|\+-)?\s*{_NUMBER}\s*%$")
_RANGE = re.compile(rf"^{_NUMBER}\s*(?:g\s*)?(?:-|–|to)\s*{_NUMBER}\s*g?$")
_ONE_SIDED = re.compile(rf"^(at least|at most|>=|<=|≥|≤)\s*{_NUMBER}\s*g?$")


def write_hold(hold: LineHold | None) -> str:
    """Write the hold on a line."""
    if hold is None:
        return FREE
    if hold.locked:
        return LOCK
    words = []
    if hold.tolerance is not None:
        words.append(f"± {hold.tolerance * 100:g} %")
    if hold.least is not None and hold.most is not None:
        words.append(f"{hold.least:g}–{hold.most:g} g")
    elif hold.least is not None:
        words.append(f"≥ {hold.least:g} g")
    elif hold.most is not None:
        words.append(f"≤ {hold.most:g} g")
    return ", ".join(words)


def read_hold(line: str, text: str) -> LineHold | None:
    """Read the hold a cook typed for a line; None frees it.

    Raises
    ------
    BadInput
        If the text says none of the four forms.
    """
    words = text.strip().lower()
    if words in ("", FREE):
        return None
    if words in (LOCK, "locked"):
        return LineHold(line=line, tolerance=0.0)
    if found := _PERCENT.match(words):
        return LineHold(line=line, tolerance=_number(found[1]) / 100.0)
    if found := _RANGE.match(words):
        return LineHold(line=line, least=_number(found[1]), most=_number(found[2]))
    if found := _ONE_SIDED.match(words):
        limit = _number(found[2])
        if found[1] in ("at least", ">=", "≥"):
            return LineHold(line=line, least=limit)
        return LineHold(line=line, most=limit)
    raise BadInput(
        Problem(
            f"hold on {line}", f"found '{text}'.", "Write lock, free, ± 15 %, 100–200 g, or ≤ 50 g."
        )
    )


def _number(text: str) -> float:
    return float(text.replace(",", "."))
