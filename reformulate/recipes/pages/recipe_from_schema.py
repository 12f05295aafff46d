"""A recipe out of a node of schema.org's Recipe, whether JSON-LD or microdata gave it."""

from __future__ import annotations

from typing import Final

from reformulate.recipes.pages.claims import claims_of
from reformulate.recipes.pages.cleaning import clean
from reformulate.recipes.pages.ingredients import lines_of_recipe
from reformulate.recipes.pages.instructions import steps_of
from reformulate.recipes.pages.iso_durations import iso_minutes, written_minutes
from reformulate.recipes.pages.json_ld import Graph, Node
from reformulate.recipes.pages.notes import Notes, short
from reformulate.recipes.pages.page import PageRecipe
from reformulate.recipes.pages.servings import yield_of

LONGEST_TITLE: Final = 300
"""Most characters of a title [count]."""


def recipe_from_schema(graph: Graph, node: Node, notes: Notes) -> PageRecipe:
    """Return the recipe of a node; what it does not say stays empty or None."""
    yield_text, servings = yield_of(graph, node, notes)
    serving_text, nutrition = claims_of(graph, node, notes)
    return PageRecipe(
        title=title_of(graph, node),
        yield_text=yield_text,
        servings=servings,
        lines=lines_of_recipe(graph, node, notes),
        steps=steps_of(graph, node, notes),
        total_minutes=_minutes(graph, node, ("totalTime",), "time in all", notes),
        prep_minutes=_minutes(graph, node, ("prepTime",), "time to prepare", notes),
        cook_minutes=_minutes(graph, node, ("cookTime", "performTime"), "time to cook", notes),
        serving_text=serving_text,
        nutrition=nutrition,
        source=_source(graph, node),
    )


def title_of(graph: Graph, node: Node) -> str:
    """Return the title of a recipe, "" where it has none."""
    return clean(graph.text(node, "name", "headline"))[:LONGEST_TITLE]


def _minutes(
    graph: Graph, node: Node, names: tuple[str, ...], what: str, notes: Notes
) -> float | None:
    text = ""
    for value in graph.values(node, *names)[:1]:
        if isinstance(value, dict):
            text = graph.text(value, "duration", "maxValue", "value", "name")
        else:
            text = graph.text({"text": value}, "text")
    text = clean(text)
    if not text:
        return None
    minutes = iso_minutes(text)
    if minutes is None:
        minutes = written_minutes(text)
    if minutes is None:
        notes.add(f"The {what}, '{short(text)}', was not understood.")
    return minutes


def _source(graph: Graph, node: Node) -> str:
    """Return author and address; an address that is none of the web is left out."""
    who = clean(graph.text(node, "author") or graph.text(node, "publisher"))[:LONGEST_TITLE]
    where = clean(graph.text(node, "url", "mainEntityOfPage"))[:LONGEST_TITLE]
    if not where.lower().startswith(("http://", "https://")) or " " in where:
        where = ""
    return ", ".join(part for part in (who, where) if part)
