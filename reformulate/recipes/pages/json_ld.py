"""Recipes in the nodes of JSON-LD: found anywhere, references followed, wrappings taken off."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite
from typing import Any, Final

Node = dict[str, Any]
"""A table of JSON-LD, or an item of microdata in the same form."""

_PREFIXES: Final = (
    "",
    "schema:",
    "http://schema.org/",
    "https://schema.org/",
    "http://www.schema.org/",
    "https://www.schema.org/",
)
_PARTS: Final = ("@graph", "hasPart", "mainEntity")
"""Where a recipe may hold further recipes; one it is compared with is not one of the page."""
MOST_VISITS: Final = 300_000
"""How often anything is looked at [count]; references could lead to the same over and over."""
_COST: Final = 10
"""Characters that count as one look [count]."""
_DEEPEST: Final = 12


class Graph:
    """All nodes of a page, and what an ``@id`` stands for."""

    def __init__(self, values: list[object]) -> None:
        self._by_id: dict[str, Node] = {}
        self._recipes: list[Node] = []
        self._untyped: list[Node] = []
        self.left = MOST_VISITS
        """How often anything may still be looked at [count]; at 0 everything seems empty."""
        for node, of_the_page in _nodes(values):
            if isinstance(name := node.get("@id"), str):
                known = self._by_id.get(name)
                if known is None or len(node) > len(known):
                    self._by_id[name] = node
            if is_a(node, "Recipe"):
                if of_the_page:
                    self._recipes.append(node)
            elif "@type" not in node and "recipeIngredient" in node:
                self._untyped.append(node)

    def recipes(self) -> Iterator[Node]:
        """Yield each recipe once, in the order of the page."""
        seen: set[int] = set()
        for stub in self._recipes:
            node = self._full(stub)
            if id(node) not in seen:
                seen.add(id(node))
                yield node

    def untyped(self) -> list[Node]:
        """Return the nodes that list a recipe's ingredients but do not say what they are."""
        return self._untyped

    def values(self, node: Node, *names: str) -> list[object]:
        """Return what a node says under the first of several names under which it says anything.

        Lists are made flat, references followed, ``@value``, ``@list`` and ``@set`` taken off;
        what remains are texts, numbers and nodes.
        """
        for name in names:
            for prefix in _PREFIXES:
                if found := self.flat(node.get(prefix + name)):
                    return found
        return []

    def flat(self, value: object) -> list[object]:
        """Return a value as a flat list; see ``values``."""
        found: list[object] = []
        waiting: list[tuple[object, int]] = [(value, 0)]
        while waiting and self.left > 0:
            self.left -= 1
            value, depth = waiting.pop()
            if depth > _DEEPEST:
                continue
            match value:
                case list():
                    waiting.extend((each, depth + 1) for each in reversed(value))
                case {"@value": inner} | {"@list": inner} | {"@set": inner}:
                    waiting.append((inner, depth + 1))
                case dict():
                    if full := self._full(value):
                        found.append(full)
                case str():
                    self.left -= len(value) // _COST
                    if value.strip():
                        found.append(value)
                case int() | float() if not isinstance(value, bool) and isfinite(value):
                    found.append(value)
        return found

    def text(self, node: Node, *names: str) -> str:
        """Return the first text or number under the first of the names that has one, or ""."""
        for name in names:
            for value in self.values(node, name):
                said = value
                if isinstance(value, dict):
                    said = next(iter(self.values(value, "name", "text")), "")
                if isinstance(said, str | int | float) and said != "":
                    return as_text(said)
        return ""

    def _full(self, node: Node) -> Node:
        """Return the fullest node of the same ``@id``."""
        name = node.get("@id")
        if isinstance(name, str) and len(node) <= 2:
            return self._by_id.get(name, node)
        return node


def is_a(node: Node, *kinds: str) -> bool:
    """Return whether a node is of one of some types of schema.org."""
    types = node.get("@type")
    for each in types if isinstance(types, list) else [types]:
        if isinstance(each, str) and _short_type(each) in kinds:
            return True
    return False


def as_text(value: float | str) -> str:
    """Return a text or number as text."""
    return value if isinstance(value, str) else f"{value:.12g}"


def _short_type(name: str) -> str:
    name = name.strip().rstrip("/#")
    for prefix in _PREFIXES[1:]:
        if name.startswith(prefix):
            return name[len(prefix) :]
    return name


def _nodes(values: list[object]) -> Iterator[tuple[Node, bool]]:
    """Yield all nodes, and whether each would be a recipe of the page if it is a recipe."""
    waiting: list[tuple[object, bool]] = [(value, True) for value in reversed(values)]
    while waiting:
        value, of_the_page = waiting.pop()
        if isinstance(value, list):
            waiting.extend((each, of_the_page) for each in reversed(value))
        elif isinstance(value, dict):
            yield value, of_the_page
            within = is_a(value, "Recipe")
            waiting.extend(
                (each, of_the_page and (not within or key in _PARTS))
                for key, each in reversed(value.items())
                if isinstance(each, dict | list)
            )
