"""Nutrients that a text prints for a serving: "Per serving: 210 kcal, 16 g fat (8 g saturated)"."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from reformulate.recipes.printed import Figure, figures_in, in_our_unit

_NAMES: Final = {
    "energy_kcal": "energy|calories|calorie",
    "fat_g": "total fats?|fats?",
    "saturated_g": "(?:of which )?(?:saturated fats?|saturates|saturated|sat\\.? fats?|sat\\.)",
    "cholesterol_mg": "cholesterol",
    "carbohydrate_g": "(?:total )?(?:carbohydrates?|carbs?)",
    "fibre_g": "(?:dietary )?fib(?:re|er)",
    "sugars_g": "(?:of which |total )?sugars?",
    "added_sugars_g": "(?:includes? )?added sugars?",
    "protein_g": "proteins?",
    "sodium_mg": "sodium",
    "salt": "salt",
    "": "(?:trans|unsaturated|monounsaturated|polyunsaturated|mono|poly) ?fats?|net carb(?:s|ohydrates?)?"
    "|calories from fat|potassium|calcium|iron|vitamin [a-z]\\d{0,2}|points?",
}
"""Names of nutrients in recipes, by key; those under "" are read so as not to be taken for others."""
_NAME: Final = re.compile(
    r"(?<![a-z])(?:"
    + "|".join(f"(?P<k{i}>{names})" for i, names in reversed(list(enumerate(_NAMES.values()))))
    + r")(?![a-z])",
    re.IGNORECASE,
)
SODIUM_PER_SALT: Final = 400.0
"""[mg] of sodium a gram of salt stands for: Regulation (EU) 1169/2011, Annex I, salt = sodium x 2.5."""
_SERVING: Final = re.compile(
    r"\b(?:per|each|a|one)\b[^a-z]{0,3}(?:serv|portion|person)", re.IGNORECASE
)
_MASS: Final = re.compile(r"\bper\s*100\s*(?:g|ml)\b", re.IGNORECASE)
_BEHIND: Final = re.compile(
    r"[\s:.=–—|·,…(-]*(?:\((?P<unit>kcal|kj|g|mg|µg)\)[\s:.=–—|-]*)?", re.IGNORECASE
)
"""What may stand between a name and its figure: "Fat (g): 16"."""
_BEFORE: Final = re.compile(r"\s*(?:of\s+)?")
"""What may stand between a figure and its name: "16 g of fat"."""
_LONGEST: Final = 1_000
_ENERGY: Final = frozenset({"kcal", "kJ"})
_FEWEST: Final = 2


@dataclass(frozen=True, slots=True)
class _Name:
    key: str
    start: int
    end: int


def prints_nutrients(row: str) -> bool:
    """Whether a row is one of nutrients alone: it prints two or more, energy among them."""
    found = dict(_figures_of(row[:_LONGEST]))
    return len(found) >= _FEWEST and "energy_kcal" in found


def printed_for_a_serving(rows: Iterable[str]) -> tuple[tuple[tuple[str, float], ...], ...]:
    """Return what each row prints of the nutrients of a serving: keys and values [our units].

    A row without such figures gives none. From a row that says "per 100 g" on, figures are not a
    serving's, until a row says "per serving". Where a nutrient is printed twice the first counts;
    "less than" is no figure. Source of the conversion of salt: see ``SODIUM_PER_SALT``.

    Examples
    --------
    >>> printed_for_a_serving(["Per serving: 210 kcal, 16 g fat", "Enjoy!"])
    ((('energy_kcal', 210.0), ('fat_g', 16.0)), ())
    """
    seen: set[str] = set()
    of_serving, given = True, []
    for row in rows:
        text = row[:_LONGEST]
        if _MASS.search(text):
            of_serving = False
        elif _SERVING.search(text):
            of_serving = True
        figures = reversed(tuple(_figures_of(text)) if of_serving else ())
        found = {key: value for key, value in figures if key not in seen}
        seen |= set(found)
        given.append(tuple(reversed(found.items())))
    return tuple(given)


def _figures_of(text: str) -> Iterator[tuple[str, float]]:
    figures = [one for one in figures_in(text) if one.unit != "%"]
    names = [
        _Name(next(key for i, key in enumerate(_NAMES) if match[f"k{i}"]), *match.span())
        for match in _NAME.finditer(text)
        if not any(one.start <= match.start() < one.end for one in figures)  # "210 calories"
    ]
    # The energy of a row in both units is told by the one in the unit of the table.
    energies = [one for one in figures if one.unit in _ENERGY and not one.below]
    energies.sort(key=lambda one: one.unit != "kcal")
    for figure in energies[:1]:
        yield "energy_kcal", in_our_unit("energy_kcal", figure.value, figure.unit) or 0.0
    rest = [one for one in figures if one.unit not in _ENERGY]
    for name in names:
        found = _figure_of(name, names, rest, text)
        if found is None or found[0].below or not name.key:
            continue
        figure, unit = found
        if name.key == "energy_kcal":
            if not energies and unit in ("", "kcal", "kJ"):
                yield name.key, in_our_unit(name.key, figure.value, unit or "kcal") or 0.0
        elif name.key == "salt":
            grams = in_our_unit("fat_g", figure.value, unit)
            if grams is not None:
                yield "sodium_mg", grams * SODIUM_PER_SALT
        else:
            value = in_our_unit(name.key, figure.value, unit)
            if value is not None:
                yield name.key, value


def _figure_of(
    name: _Name, names: list[_Name], figures: list[Figure], text: str
) -> tuple[Figure, str] | None:
    """Return the figure beside a name, behind it in a row that begins with a name, else before it."""
    if not figures:
        return None
    if names[0].start < figures[0].start:
        figure = next((one for one in figures if one.start >= name.end), None)
        gap = _BEHIND.fullmatch(text, name.end, figure.start) if figure else None
        return (figure, figure.unit or (gap["unit"] or "").lower()) if figure and gap else None
    figure = next((one for one in reversed(figures) if one.end <= name.start), None)
    beside = figure and _BEFORE.fullmatch(text, figure.end, name.start)
    return (figure, figure.unit) if figure and beside else None
