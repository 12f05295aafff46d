"""Lists within lists of schema.org: ingredients and steps, each under its heading."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from reformulate.recipes.pages.cleaning import clean
from reformulate.recipes.pages.json_ld import Graph, Node, is_a
from reformulate.recipes.pages.notes import Notes

MOST_LEAVES: Final = 1000
"""Most texts and nodes of one list [count]."""
_DEEPEST: Final = 10
"""Most lists within each other [count]; a recipe has two."""
_MEMBERS: Final = ("itemListElement", "steps", "step")


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """A text or a node that holds no further list, and the heading it stands under."""

    section: str
    value: str | Node


class _Walk:
    def __init__(self, graph: Graph, what: str, notes: Notes) -> None:
        self.graph = graph
        self.what = what
        self.notes = notes
        self.left = MOST_LEAVES
        self.open: set[int] = set()

    def leaves(self, values: list[object], section: str, depth: int) -> Iterator[Leaf]:
        for value in _in_order(self.graph, values):
            if self.left <= 0:
                self.notes.add(f"The {self.what} are too many; the last ones were left out.")
                return
            self.left -= 1
            if isinstance(value, str):
                yield Leaf(section=section, value=value)
            elif isinstance(value, dict):
                yield from self._node(value, section, depth)

    def _node(self, node: Node, section: str, depth: int) -> Iterator[Leaf]:
        inner = self.graph.values(node, "item")
        members = self.graph.values(node, *_MEMBERS)
        if inner and not members and not self.graph.values(node, "amount"):
            members = inner[:1]
        elif is_a(node, "HowToStep", "HowToDirection") or not members:
            yield Leaf(section=section, value=node)
            return
        else:
            section = self._heading(node, section, depth)
        if id(node) in self.open or depth >= _DEEPEST:
            self.notes.add(f"A list among the {self.what} holds itself; it was left out there.")
            return
        self.open.add(id(node))
        yield from self.leaves(members, section, depth + 1)
        self.open.discard(id(node))

    def _heading(self, node: Node, above: str, depth: int) -> str:
        """Return the heading of a section; the name of the whole list is none."""
        if depth == 0 and is_a(node, "ItemList", "HowTo"):
            return above
        name = clean(self.graph.text(node, "name", "headline"))[:300].rstrip(" :")
        return f"{above}: {name}" if above and name else name or above


def leaves(graph: Graph, values: list[object], what: str, notes: Notes) -> list[Leaf]:
    """Return what lists of lists hold, in order.

    Parameters
    ----------
    graph
        Where references lead.
    values
        Texts and nodes: HowToSection, HowToStep, ItemList, ListItem or anything with a text.
    what
        What the notes call the list.
    notes
        Told of what was left out.
    """
    return list(_Walk(graph, what, notes).leaves(values, "", 0))


def _in_order(graph: Graph, values: list[object]) -> list[object]:
    """Return members by their ``position`` where each has one of its own."""
    if len(values) > MOST_LEAVES:
        values = values[: MOST_LEAVES + 1]
    places: list[float] = []
    for value in values:
        if not isinstance(value, dict):
            return values
        try:
            places.append(float(graph.text(value, "position")))
        except ValueError:
            return values
    if len(set(places)) < len(places):
        return values
    return [
        value for _, value in sorted(zip(places, values, strict=True), key=lambda pair: pair[0])
    ]
