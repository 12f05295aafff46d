"""Microdata of HTML in the form of JSON-LD's nodes.

Source: HTML standard, section "Microdata", from memory.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from reformulate.recipes.pages.elements import MOST_ELEMENTS, Element
from reformulate.recipes.pages.flowing import lines_of
from reformulate.recipes.pages.json_ld import Node
from reformulate.recipes.pages.markup import words
from reformulate.recipes.pages.notes import Notes

_DEEPEST: Final = 12
"""Most items within each other [count]."""
_MOST_REFERENCES: Final = 20
_MOST_TEXTS: Final = 20_000
"""Most properties of a page whose text is gathered [count]."""
_READ: Final = words(
    "name headline recipeIngredient ingredients ingredient recipeInstructions instructions "
    "recipeYield yield totalTime prepTime cookTime performTime duration nutrition calories "
    "fatContent saturatedFatContent unsaturatedFatContent transFatContent cholesterolContent "
    "carbohydrateContent fiberContent sugarContent sodiumContent proteinContent servingSize author "
    "publisher url text description itemListElement item steps step position value unitText amount "
    "minValue maxValue hasPart mainEntity"
)
"""The properties anybody asks for; the text of others is not gathered."""
_ADDRESS: Final = {
    **dict.fromkeys(("a", "area", "link"), "href"),
    **dict.fromkeys(("audio", "embed", "iframe", "img", "source", "track", "video"), "src"),
    "object": "data",
    "data": "value",
    "meter": "value",
}
"""The attribute that holds the value of a property, by element."""


def items_of(root: Element, notes: Notes) -> list[Node]:
    """Return the top items of schema.org on a page, in its order."""
    by_id = {name: element for element in root.within() if (name := element.get("id"))}
    reader = _Reader(by_id)
    items = [
        reader.item(element, 0)
        for element in root.within()
        if "itemscope" in element.attributes and "itemprop" not in element.attributes
    ]
    if reader.left <= 0 or reader.texts <= 0:
        notes.add("The page marks more than can be read; part of it was left out.")
    return items


class _Reader:
    def __init__(self, by_id: dict[str, Element]) -> None:
        self.by_id = by_id
        self.open: set[int] = set()
        # References could lead to the same elements over and over.
        self.left = 2 * MOST_ELEMENTS
        self.texts = _MOST_TEXTS

    def item(self, element: Element, depth: int) -> Node:
        """Return an item with its properties, each a list."""
        node: Node = {"@type": element.get("itemtype").split()[:10]}
        if element.get("itemid"):
            node["@id"] = element.get("itemid")
        if depth > _DEEPEST or id(element) in self.open:
            return node
        self.open.add(id(element))
        given = False
        for name, value in self._properties(element, depth):
            node.setdefault(name, []).append(value)
            given = True
        if not given and depth:
            node["text"] = [self._text(element)]
        self.open.discard(id(element))
        return node

    def _properties(self, item: Element, depth: int) -> Iterator[tuple[str, object]]:
        for root in self._roots(item):
            for held in self._own(root, item):
                if "itemscope" in held.element.attributes:
                    inner = self.item(held.element, depth + 1)
                    yield from ((name, inner) for name in held.names)
                else:
                    names = held.names - held.within
                    text = self._text(held.element) if names else ""
                    yield from ((name, text) for name in names)

    def _text(self, element: Element) -> str:
        self.texts -= 1
        return _value(element) if self.texts > 0 else ""

    def _roots(self, item: Element) -> list[Element]:
        """Return the item, and what it refers to elsewhere on the page."""
        names = dict.fromkeys(item.get("itemref").split()[:_MOST_REFERENCES])
        return [item, *(self.by_id[name] for name in names if name in self.by_id)]

    def _own(self, root: Element, item: Element) -> list[_Held]:
        """Return the elements that hold properties of an item, and not of an item within it."""
        found: list[_Held] = []
        around: list[_Held] = []
        waiting: list[Element | None] = [root]  # None ends the property around
        while waiting and self.left > 0:
            self.left -= 1
            element = waiting.pop()
            if element is None:
                done = around.pop()
                if around:
                    around[-1].within |= done.names | done.within
                continue
            is_inner = "itemscope" in element.attributes and element is not item
            names = _names(element, all_of_them=is_inner) if element is not item else set()
            if names:
                found.append(_Held(element, names))
                around.append(found[-1])
                waiting.append(None)
            if not is_inner:
                waiting.extend(c for c in reversed(element.children) if isinstance(c, Element))
        return found


class _Held:
    """An element that holds properties, their names, and the names of those held within it.

    Where one of the same name lies within another, as steps within the list of steps, the outer one
    only wraps them.
    """

    __slots__ = ("element", "names", "within")

    def __init__(self, element: Element, names: set[str]) -> None:
        self.element = element
        self.names = names
        self.within: set[str] = set()


def _names(element: Element, *, all_of_them: bool) -> set[str]:
    given = element.get("itemprop")
    if not given:
        return set()
    short = (name.rpartition("schema.org/")[2] for name in given.split()[:10])
    return {name for name in short if all_of_them or name in _READ}


def _value(element: Element) -> str:
    attribute = _ADDRESS.get(element.tag)
    if attribute and element.get(attribute):
        return element.get(attribute).strip()
    if element.tag == "time" and element.get("datetime"):
        return element.get("datetime").strip()
    if "content" in element.attributes:
        return element.get("content").strip()
    return "\n".join(line for line in lines_of(element) if line)
