"""The ingredient lines of a recipe as they were written."""

from __future__ import annotations

from typing import Final

from reformulate.recipes.pages.cleaning import clean, clean_lines, without_bullets
from reformulate.recipes.pages.json_ld import Graph, Node
from reformulate.recipes.pages.listing import leaves
from reformulate.recipes.pages.notes import Notes

MOST_LINES: Final = 500
"""Most ingredient lines of one recipe [count]."""
LONGEST_LINE: Final = 1000
"""Most characters of one ingredient line [count]."""


def lines_of_recipe(graph: Graph, node: Node, notes: Notes) -> tuple[str, ...]:
    """Return the ingredient lines; a heading stands before its lines and ends with a colon."""
    values = graph.values(node, "recipeIngredient", "ingredients", "ingredient")
    found: list[str] = []
    heading = ""
    for leaf in leaves(graph, values, "ingredients", notes):
        if leaf.section != heading:
            heading = leaf.section
            found.append(f"{heading}:")
        written = leaf.value if isinstance(leaf.value, str) else _put_together(graph, leaf.value)
        found.extend(without_bullets(clean_lines(written)))
    if len(found) > MOST_LINES:
        notes.add(f"Only the first {MOST_LINES} ingredient lines were read.")
    if any(len(line) > LONGEST_LINE for line in found):
        notes.add(f"An ingredient line was cut after {LONGEST_LINE} characters.")
    return tuple(line[:LONGEST_LINE] for line in found[:MOST_LINES])


def _put_together(graph: Graph, node: Node) -> str:
    """Return the line an ingredient in parts would be: amount, unit, name."""
    amount = ""
    for each in graph.values(node, "amount", "requiredQuantity", "value"):
        if isinstance(each, dict):
            parts = (graph.text(each, "value", "minValue"), graph.text(each, "unitText"))
            amount = " ".join(part for part in parts if part)
        else:
            amount = str(each) if isinstance(each, str) else f"{each:.6g}"
        break
    unit = graph.text(node, "unitText")
    name = graph.text(node, "name", "text", "item")
    return clean(" ".join(part for part in (amount, unit, name) if part))
