"""Holds on a line and on a property, as a cook writes and reads them: free, lock, ± 15 %, 100–200 g."""

from __future__ import annotations

from reformulate import (
    BadInput,
    CharacterHold,
    Limits,
    LineHold,
    Problem,
    quantity_named,
    read_limits,
    write_limits,
)

FREE = "free"
LOCK = "lock"


def write_hold(hold: LineHold | None) -> str:
    """Write the hold on a line."""
    if hold is None:
        return FREE
    if hold.locked:
        return LOCK
    return write_limits(
        Limits(tolerance=hold.tolerance, least=hold.least, most=hold.most), unit="g"
    )


def read_hold(line: str, text: str) -> LineHold | None:
    """Read the hold a cook typed for a line; None frees it.

    Raises
    ------
    BadInput
        If the text says none of the forms.
    """
    if text.strip().lower() in (LOCK, "locked"):
        return LineHold(line=line, tolerance=0.0)
    limits = _limits(text, "g", line, "lock, free, ± 15 %, 100–200 g, or ≤ 50 g.")
    if limits is None:
        return None
    return LineHold(line=line, tolerance=limits.tolerance, least=limits.least, most=limits.most)


def write_character_hold(hold: CharacterHold | None) -> str:
    """Write the hold on a property of taste or texture."""
    if hold is None:
        return FREE
    return write_limits(Limits(tolerance=hold.tolerance, least=hold.at_least, most=hold.at_most))


def read_character_hold(key: str, text: str) -> CharacterHold | None:
    """Read the hold a cook typed for a property, its numbers in the property's unit; None frees it.

    Raises
    ------
    BadInput
        If the text says none of the forms.
    """
    kind = quantity_named(key)
    forms = f"free, ± 10 %, 0.8–1.2, or ≤ 1.2 ({kind.unit} per 100 g)."
    limits = _limits(text, kind.unit, kind.spoken, forms)
    if limits is None:
        return None
    return CharacterHold(
        quality=key, tolerance=limits.tolerance, at_least=limits.least, at_most=limits.most
    )


def _limits(text: str, unit: str, held: str, forms: str) -> Limits | None:
    words = text.strip().lower()
    if words in ("", FREE):
        return None
    limits = read_limits(words, unit)
    if limits is None:
        raise BadInput(Problem(f"hold on {held}", f"found '{text}'.", f"Write {forms}"))
    return limits
