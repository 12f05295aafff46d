"""Which table of a file is which part of a brief or recipe."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Final

from msgspec import Struct

from reformulate.brief import BatchHold, CharacterHold, Hold, LineHold, RatioHold, RoleHold
from reformulate.sets.schema import (
    BatchHoldRecord,
    CharacterHoldRecord,
    LineHoldRecord,
    RatioHoldRecord,
    RoleHoldRecord,
)
from reformulate.sets.values import plain

HOLD_RECORDS: Final[dict[type[Hold], type[Struct]]] = {
    RatioHold: RatioHoldRecord,
    BatchHold: BatchHoldRecord,
    LineHold: LineHoldRecord,
    RoleHold: RoleHoldRecord,
    CharacterHold: CharacterHoldRecord,
}


def paired(
    old: Sequence[Any], new: Sequence[Any], keys: Callable[[Any], tuple[object, object]]
) -> tuple[int | None, ...]:
    """Return for each new value the place of the old one that it replaces, or None.

    ``keys`` gives a first key, by which most are found, and a second for those that are left.
    """
    found: list[int | None] = [None] * len(new)
    free = dict.fromkeys(range(len(old)))
    for which in (0, 1):
        for number, value in enumerate(new):
            wanted = keys(value)[which]
            if found[number] is not None or wanted is None:
                continue
            place = next((at for at in free if keys(old[at])[which] == wanted), None)
            if place is not None:
                found[number] = place
                del free[place]
    return tuple(found)


def line_keys(line: Any) -> tuple[object, object]:
    """Return by what a line's table is found again: its id."""
    return _get(line, "id"), None


def goal_keys(goal: Any) -> tuple[object, object]:
    """Return by what a goal's table is found again: nutrient and unit, else the nutrient."""
    per = plain(_get(goal, "per", "serving"))
    return (_get(goal, "nutrient"), per), _get(goal, "nutrient")


def hold_keys(hold: Any) -> tuple[object, object]:
    """Return by what a hold's table is found again: what it holds."""
    kind = hold.get("kind") if isinstance(hold, dict) else tag_of(HOLD_RECORDS[type(hold)])
    parts = [plain(_get(hold, key, None)) for key in ("of", "to", "line", "role", "quality")]
    return repr((kind, parts)), None


def swap_keys(swap: Any) -> tuple[object, object]:
    """Return by what a swap's table is found again: food and lines, else the food."""
    food = _get(swap, "food")
    return repr((food, plain(_get(swap, "stands_in_for", ())))), repr(food)


def tag_of(record: type[Struct]) -> str:
    """Return the kind a record's table states, "" where it states none."""
    return str(record.__struct_config__.tag or "")


def _get(value: Any, key: str, default: object = "") -> Any:
    return value.get(key, default) if isinstance(value, dict) else getattr(value, key, default)
