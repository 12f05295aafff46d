"""Which lines a group in a hold means."""

from __future__ import annotations

from reformulate.recipes import Recipe

ROLE_PREFIX = "role:"


def lines_in(group: tuple[str, ...], recipe: Recipe) -> frozenset[str]:
    """Return the ids of the lines a group names, by id or as ``role:`` and a role."""
    roles = {m.removeprefix(ROLE_PREFIX) for m in group if m.startswith(ROLE_PREFIX)}
    return frozenset(line.id for line in recipe.lines if line.id in group or line.role in roles)


def group_words(group: tuple[str, ...], names: dict[str, str]) -> str:
    """Return a group as a cook reads it: names of foods, and of roles."""
    return " + ".join(
        m.removeprefix(ROLE_PREFIX) if m.startswith(ROLE_PREFIX) else names.get(m, m) for m in group
    )
