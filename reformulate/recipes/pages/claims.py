"""What a page says a serving holds: numbers and units as printed, checked by nobody."""

from __future__ import annotations

import re
from typing import Final

from reformulate.recipes.pages.cleaning import clean
from reformulate.recipes.pages.json_ld import Graph, Node, as_text
from reformulate.recipes.pages.notes import Notes, short
from reformulate.recipes.pages.page import PageNutrient
from reformulate.recipes.printed import figures_in

_PROPERTIES: Final = (
    ("calories", "energy_kcal", "Energy"),
    ("fatContent", "fat_g", "Fat"),
    ("saturatedFatContent", "saturated_g", "Saturated fat"),
    ("unsaturatedFatContent", "", "Unsaturated fat"),
    ("transFatContent", "", "Trans fat"),
    ("cholesterolContent", "cholesterol_mg", "Cholesterol"),
    ("carbohydrateContent", "carbohydrate_g", "Carbohydrate"),
    ("fiberContent", "fibre_g", "Fibre"),
    ("sugarContent", "sugars_g", "Sugars"),
    ("sodiumContent", "sodium_mg", "Sodium"),
    ("proteinContent", "protein_g", "Protein"),
)
"""Source: the properties of schema.org's NutritionInformation, from memory."""

_RANGE = re.compile(r"\d\s*(?:-|–|—|to)\s*\d")
_LONGEST: Final = 200


def claims_of(graph: Graph, node: Node, notes: Notes) -> tuple[str, tuple[PageNutrient, ...]]:
    """Return the size of a serving as written, and the nutrients claimed for it."""
    given = graph.values(node, "nutrition")
    if given and not any(isinstance(each, dict) for each in given):
        notes.add("The nutrition of the page is one text and was not read.")
    # Pages without an inner item put its properties on the recipe.
    source = next((each for each in given if isinstance(each, dict)), node)
    size = clean(graph.text(source, "servingSize"))[:_LONGEST]
    found: list[PageNutrient] = []
    for name, key, label in _PROPERTIES:
        text = _printed(graph, source, name)
        if not text:
            continue
        claim = _claim(key, label, text)
        if claim:
            found.append(claim)
        else:
            notes.add(f"{label} of '{short(text)}' a serving was not understood.")
    return size, tuple(found)


def _printed(graph: Graph, node: Node, name: str) -> str:
    for value in graph.values(node, name):
        if isinstance(value, dict):
            parts = (graph.text(value, "value"), graph.text(value, "unitText"))
            return clean(" ".join(part for part in parts if part))[:_LONGEST]
        if isinstance(value, str | int | float):
            return clean(as_text(value))[:_LONGEST]
    return ""


def _claim(key: str, label: str, text: str) -> PageNutrient | None:
    if _RANGE.search(text) or "-" in text[:1]:
        return None
    figures = list(figures_in(text))
    if not figures:
        return None
    # "1005 kJ / 240 kcal": the one in the unit of the table.
    figure = next((one for one in figures if one.unit == "kcal"), figures[0])
    unit = figure.unit
    if key == "energy_kcal" and not unit:
        unit = "kcal"  # the property is called calories
    return PageNutrient(
        key=key, label=label, value=figure.value, unit=unit, text=text, below=figure.below
    )
