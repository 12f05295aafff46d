"""All recipes of a page, each once, with what is to be said about each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from reformulate.recipes.pages.elements import Element
from reformulate.recipes.pages.json_ld import Graph
from reformulate.recipes.pages.json_reading import MOST_JSON, CannotRead, read_json
from reformulate.recipes.pages.notes import Notes, short
from reformulate.recipes.pages.page import PageRecipe
from reformulate.recipes.pages.recipe_from_schema import recipe_from_schema

MOST_RECIPES: Final = 50
"""Most recipes read of one page [count]."""
_KINDS: Final = ("application/ld+json", "application/json+ld")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Found:
    """A recipe and what is to be said about it."""

    recipe: PageRecipe
    notes: Notes


def scripts_of(root: Element, notes: Notes) -> list[object]:
    """Return the values of all JSON-LD on a page; one script may refer to another's."""
    values: list[object] = []
    left = MOST_JSON
    number = 0
    for script in root.within():
        kind = script.get("type").partition(";")[0].strip().lower()
        if script.tag != "script" or kind not in _KINDS:
            continue
        text = script.plain()
        if not text.strip():
            continue
        number += 1
        what = f"Block {number} of the page's data"
        left -= len(text)
        if left < 0:
            notes.add(f"{what} and what follows it were not read: the data is too large.")
            break
        try:
            values.extend(read_json(text, what, notes))
        except CannotRead as reason:
            notes.add(f"{what} could not be read: {reason}.")
    return values


def recipes_in(values: list[object], notes: Notes) -> list[Found]:
    """Return the recipes that list ingredients, each once, in the order of the page."""
    graph = Graph(values)
    nodes = list(graph.recipes())
    if not nodes and graph.untyped():
        nodes = graph.untyped()
        notes.add("The data does not say that it is a recipe; it was read for its ingredients.")
    if len(nodes) > MOST_RECIPES:
        notes.add(f"Only the first {MOST_RECIPES} recipes of the page were read.")
    found: dict[PageRecipe, Found] = {}
    empty: list[str] = []
    for node in nodes[:MOST_RECIPES]:
        own = Notes()
        recipe = recipe_from_schema(graph, node, own)
        if recipe.lines:
            found.setdefault(recipe, Found(recipe=recipe, notes=own))
        else:
            empty.append(recipe.title)
    if graph.left <= 0:
        notes.add("The page's data holds more than can be read; part of it was left out.")
    known = {recipe.title for recipe in found}
    for title in empty:
        # A page names other recipes that it links to.
        if title not in known:
            notes.add(f"'{short(title)}' lists no ingredients and was left out.")
    return list(found.values())


def in_all(found: list[Found], notes: Notes) -> tuple[PageRecipe, ...]:
    """Return the recipes; what is to be said of each joins what is said of the page."""
    for each in found:
        before = f"'{short(each.recipe.title)}': " if len(found) > 1 else ""
        if not each.recipe.title:
            notes.add("The recipe has no title.")
        for sentence in each.notes:
            notes.add(before + sentence)
    return tuple(each.recipe for each in found)
