"""What the columns of a user's own table are, by their heads."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Final

from reformulate.errors import Problem
from reformulate.foods.nutrients import NUTRIENTS
from reformulate.foods.own.csv_text import column_letter
from reformulate.foods.own.stated import SPELLINGS, STATABLE, unit_factor

TEXT_COLUMNS: Final = ("key", "name", "group", "words", "source", "note")
"""Columns that hold text, by the field of the food they fill."""

_TEXTS: Final = {
    "key": ("key",),
    "name": ("name", "food", "food name", "description", "item"),
    "group": ("group", "food group", "category"),
    "words": ("words", "also called", "other names", "synonyms"),
    "source": ("source", "reference"),
    "note": ("note", "notes", "comment", "comments"),
}
_NAMES: Final = {
    "water_g": ("water", "moisture"),
    "energy_kcal": ("energy", "calories"),
    "protein_g": ("protein", "proteins"),
    "fat_g": ("fat", "fats", "total fat", "fat total", "lipids", "total lipid"),
    "saturated_g": (
        "saturated",
        "saturates",
        "saturated fats",
        "saturated fatty acids",
        "of which saturates",
        "sat fat",
    ),
    "monounsaturated_g": ("monounsaturated", "monounsaturates", "monounsaturated fatty acids"),
    "polyunsaturated_g": ("polyunsaturated", "polyunsaturates", "polyunsaturated fatty acids"),
    "cholesterol_mg": ("cholesterol",),
    "carbohydrate_g": ("carbohydrate", "carbohydrates", "total carbohydrate", "carbs"),
    "net_carbohydrate_g": (
        "net carbohydrate",
        "net carbohydrates",
        "net carbs",
        "available carbohydrate",
        "available carbohydrates",
        "carbohydrate available",
    ),
    "fibre_g": ("fibre", "fiber", "dietary fibre", "dietary fiber", "total dietary fiber"),
    "sugars_g": ("sugars", "sugar", "total sugars", "total sugar", "of which sugars"),
    "added_sugars_g": ("added sugars", "added sugar"),
    "salt_g": ("salt",),
    "vitamin_a_ug": ("vitamin a", "vitamin a rae", "retinol activity equivalents"),
    "thiamin_mg": ("thiamin", "thiamine", "vitamin b1"),
    "riboflavin_mg": ("riboflavin", "vitamin b2"),
    "niacin_mg": ("niacin", "vitamin b3"),
    "folate_ug": ("folate", "folate dfe", "dietary folate equivalents"),
}
_HUNDRED = re.compile(r"(?:\(|\[)?\s*(?:\bper\b|/)\s*100\s*g\s*(?:\)|\])?", re.IGNORECASE)
_OTHER_BASIS = re.compile(
    r"(?:\bper\b|/)\s*(serving|portion|piece|cup|tbsp|100\s*ml|oz|kg|lb)\b", re.IGNORECASE
)
_UNIT = re.compile(
    r"(?:^|[\s_,(\[/])\s*(kcal|kj|cal|mg|µg|μg|ug|mcg|g|iu|%|%\s*dv)\s*[)\]]?\s*$", re.IGNORECASE
)
_PLAIN = re.compile(r"[^\w]+|_+")
_MOST_LIKE: Final = 0.84
"""Likeness from which a head counts as a misspelt one; one slip in six letters."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column that is read."""

    place: int
    """Counted from 0."""
    head: str
    fills: str
    """A field of the food among TEXT_COLUMNS, or a key of STATABLE."""
    factor: float = 1.0
    """What its figures are multiplied by [unit of the nutrient per unit of the column]."""

    @property
    def where(self) -> str:
        """Letter and head, as a message names it."""
        return f"column {column_letter(self.place)} ({self.head})"


def _plain(text: str) -> str:
    folded = unicodedata.normalize("NFKC", text).casefold()
    return " ".join(_PLAIN.sub(" ", folded).split())


def _spellings() -> dict[str, str]:
    found = {_plain(name): fills for fills, names in _TEXTS.items() for name in names}
    for kind in NUTRIENTS:
        found[_plain(kind.name)] = kind.key
        found[_plain(kind.name.partition("(")[0])] = kind.key
    for key, names in _NAMES.items():
        found.update((_plain(name), key) for name in names)
    return found


_BY_NAME: Final = _spellings()


def column_named(head: str, place: int) -> Column | Problem | None:
    """Return what a head means, what is wrong with it, or None for a column that is not ours.

    >>> column = column_named("Sodium (g per 100 g)", 3)
    >>> column.fills, column.factor
    ('sodium_mg', 1000.0)
    """
    shown = " ".join(head.split())[:60]
    key = shown.lower()
    if key in STATABLE or key in TEXT_COLUMNS:
        return Column(place=place, head=shown, fills=key)
    rest = _HUNDRED.sub(" ", shown)
    basis = _OTHER_BASIS.search(rest)
    if basis:
        rest = rest[: basis.start()]
    unit = _UNIT.search(rest)
    name = _plain(rest[: unit.start()] if unit else rest)
    if not name and unit and unit[1].lower() in ("kcal", "kj", "cal"):
        name = "energy"
    where = f"column {column_letter(place)} ({shown})"
    fills = _BY_NAME.get(name)
    if fills is None:
        return _near_miss(where, name)
    if fills in TEXT_COLUMNS:
        return Column(place=place, head=shown, fills=fills)
    if basis:
        return Problem(where, f"is per {basis[1]}, expected per 100 g.", "Work it out per 100 g.")
    return _with_unit(place, shown, fills, unit[1] if unit else "", where)


def _near_miss(where: str, name: str) -> Problem | None:
    near = get_close_matches(name[:40], _BY_NAME, n=1, cutoff=_MOST_LIKE)
    if not near:
        return None
    return Problem(where, "is not read.", f"Did you mean “{near[0]}”?")


def _with_unit(place: int, head: str, fills: str, unit: str, where: str) -> Column | Problem:
    if SPELLINGS.get(unit.lower(), unit) == "kJ" and fills == "energy_kcal":
        fills = "energy_kj"
    wanted = STATABLE[fills].unit
    factor = unit_factor(unit, wanted) if unit else 1.0
    if factor is None:
        return Problem(where, f"is in {unit}, expected {wanted}.", f"Work it out in {wanted}.")
    return Column(place=place, head=head, fills=fills, factor=factor)


@dataclass(frozen=True, slots=True, kw_only=True)
class Header:
    """The header row of a table, understood."""

    columns: tuple[Column, ...]
    width: int
    """Cells in the row [count]."""
    ignored: tuple[str, ...]
    """Heads of the columns that are not ours."""
    problems: tuple[Problem, ...]


def read_header(cells: Sequence[str]) -> Header:
    """Return what a header row means, with everything that is wrong with it."""
    columns: dict[str, Column] = {}
    ignored: list[str] = []
    problems: list[Problem] = []
    for place, head in enumerate(cells):
        found = column_named(head, place)
        if found is None:
            ignored.append(" ".join(head.split())[:60] or f"column {column_letter(place)}")
        elif isinstance(found, Problem):
            problems.append(found)
        elif found.fills in columns:
            what = f"says the same as {columns[found.fills].where}."
            problems.append(Problem(found.where, what, "Keep one of them."))
        else:
            columns[found.fills] = found
    if "name" not in columns:
        what = "has no column of names."
        problems.append(Problem("header", what, "Head the column of names “name”."))
    if not any(fills in STATABLE for fills in columns):
        fix = "Head columns “energy_kcal”, “Fat (g)” and the like."
        problems.append(Problem("header", "names no nutrient.", fix))
    return Header(
        columns=tuple(columns.values()),
        width=len(cells),
        ignored=tuple(ignored),
        problems=tuple(problems),
    )
