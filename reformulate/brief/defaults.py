"""The holds a recipe starts with when its file has no brief."""

from __future__ import annotations

from reformulate.brief.brief import BatchHold, Brief, Hold, LineHold, RatioHold, RoleHold
from reformulate.recipes import Recipe

STARTING_TOLERANCES = (
    ("flavouring", 0.15),
    ("acid", 0.15),
    ("salt", 0.25),
    ("sweetener", 0.25),
    ("inclusion", 0.25),
    ("garnish", 0.25),
)
"""How far each role may move against the base at first [1]; our own choice, the cook changes it."""

SEASONINGS = ("flavouring", "salt", "sweetener", "garnish")
"""Roles whose lines may not stand in for each other: pepper is no dill."""

SEASONING_TOLERANCE = 0.5
"""How far one line of seasoning may move at first [1]; our own choice."""


def starting_brief(recipe: Recipe) -> Brief:
    """Return holds that keep a dish itself: batch size, each flavour against the base, each seasoning."""
    roles = {line.role for line in recipe.lines}
    holds: list[Hold] = [BatchHold()]
    for role, tolerance in STARTING_TOLERANCES:
        if role not in roles:
            continue
        if "base" in roles:
            holds.append(RatioHold(of=(f"role:{role}",), to=("role:base",), tolerance=tolerance))
        else:
            holds.append(RoleHold(role=role, tolerance=tolerance))
    holds += [
        LineHold(line=line.id, tolerance=SEASONING_TOLERANCE)
        for line in recipe.lines
        if line.role in SEASONINGS
    ]
    return Brief(holds=tuple(holds))
