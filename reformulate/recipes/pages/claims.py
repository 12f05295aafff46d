"""What a page says a serving holds: numbers and units as printed, checked by nobody."""

from __future__ import annotations

import re
from typing import Final

from reformulate.recipes.pages.cleaning import clean
from reformulate.recipes.pages.json_ld import Graph, Node, as_text
from reformulate.recipes.pages.notes import Notes, short
from reformulate.recipes.pages.page import PageNutrient

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

_UNITS: Final = {
    "kcal": ("kcal", "cal", "cals", "calorie", "calories", "kcals", "kilocalories"),
    "kJ": ("kj", "kilojoule", "kilojoules"),
    "kg": ("kg",),
    "g": ("g", "gr", "gram", "grams", "gramme", "grammes", "gm"),
    "mg": ("mg", "milligram", "milligrams", "milligramme", "milligrammes"),
    "µg": ("µg", "μg", "ug", "mcg", "microgram", "micrograms"),
    "IU": ("iu",),
    "%": ("%", "percent"),
}
_UNIT_OF: Final = {spelling: unit for unit, spellings in _UNITS.items() for spelling in spellings}
_FIGURE = re.compile(
    r"(?P<below><\s*|less than\s+|under\s+)?"
    r"(?<![\d.,])(?P<number>\d{1,3}(?:[, ]\d{3}){1,2}(?:\.\d{1,6})?|\d{1,9}(?:[.,]\d{1,6})?)(?![\d.,]*\d)"
    r"\s*(?P<unit>%|[A-Za-zµμ]+)?",
    re.IGNORECASE,
)
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
    figures = [
        (match, _UNIT_OF.get((match["unit"] or "").lower(), "")) for match in _FIGURE.finditer(text)
    ]
    if not figures:
        return None
    # "1005 kJ / 240 kcal": the one in the unit of the table.
    match, unit = next((pair for pair in figures if pair[1] == "kcal"), figures[0])
    if key == "energy_kcal" and not unit:
        unit = "kcal"  # the property is called calories
    return PageNutrient(
        key=key,
        label=label,
        value=_number(match["number"]),
        unit=unit,
        text=text,
        below=bool(match["below"]),
    )


def _number(text: str) -> float:
    if re.fullmatch(r"[1-9]\d{0,2}(?:[, ]\d{3})+(?:\.\d+)?", text):
        return float(text.replace(",", "").replace(" ", ""))
    return float(text.replace(",", "."))
