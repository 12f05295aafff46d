"""From the components that a release measures to the nutrients that a food carries here.

Component numbers and units are those of the U.S. Department of Agriculture's ``nutrient.csv``
(FoodData Central) and ``NUTR_DEF`` (Standard Reference): each component has an id in the one and a
number in the other, and either may stand in a file.
"""

from __future__ import annotations

import math
import struct
from collections.abc import Callable, Mapping
from typing import Final

from reformulate.foods.nutrients import INDEX, KJ_PER_KCAL, NUTRIENTS

UG_VITAMIN_D_PER_IU: Final = 0.025
"""40 IU are 1 µg (common practice, 21 CFR 101.9) [µg/IU]."""
DFE_PER_FOLIC_ACID: Final = 1.7
"""µg of folate equivalents in 1 µg of folic acid (Institute of Medicine, 1998) [µg/µg]."""

UNKNOWN: Final = math.nan
Components = Mapping[int, float]

COMPONENTS: Final[Mapping[int, tuple[str, str]]] = {
    1003: ("203", "g"),
    1004: ("204", "g"),
    1005: ("205", "g"),
    1008: ("208", "kcal"),
    1050: ("205.2", "g"),
    1051: ("255", "g"),
    1062: ("268", "kj"),
    1063: ("269.3", "g"),
    1079: ("291", "g"),
    1085: ("298", "g"),
    1087: ("301", "mg"),
    1089: ("303", "mg"),
    1090: ("304", "mg"),
    1091: ("305", "mg"),
    1092: ("306", "mg"),
    1093: ("307", "mg"),
    1095: ("309", "mg"),
    1104: ("318", "iu"),
    1105: ("319", "ug"),
    1106: ("320", "ug"),
    1107: ("321", "ug"),
    1108: ("322", "ug"),
    1109: ("323", "mg"),
    1110: ("324", "iu"),
    1111: ("325", "ug"),
    1112: ("326", "ug"),
    1114: ("328", "ug"),
    1120: ("334", "ug"),
    1124: ("340", "iu"),
    1162: ("401", "mg"),
    1165: ("404", "mg"),
    1166: ("405", "mg"),
    1167: ("406", "mg"),
    1175: ("415", "mg"),
    1177: ("417", "ug"),
    1178: ("418", "ug"),
    1185: ("430", "ug"),
    1186: ("431", "ug"),
    1187: ("432", "ug"),
    1190: ("435", "ug"),
    1235: ("539", "g"),
    1253: ("601", "mg"),
    1258: ("606", "g"),
    1292: ("645", "g"),
    1293: ("646", "g"),
    1326: ("690", "g"),
    1327: ("691", "g"),
    1328: ("692", "g"),
    2000: ("269", "g"),
    2033: ("293", "g"),
    2047: ("957", "kcal"),
    2048: ("958", "kcal"),
}
"""Id of each component we use: its number in the Standard Reference, and the unit we take it in."""

COMPONENT_OF: Final = {str(key): key for key in COMPONENTS} | {
    number: key for key, (number, _) in COMPONENTS.items()
}
"""Component of an id or a number as written; ids start at 1001 and numbers end below."""

_THOUSANDTHS = {"g": 0, "mg": 1, "ug": 2}
_MOST = {"g": 105.0, "mg": 105e3, "µg": 105e6, "kcal": 950.0}
"""What 100 g can hold [unit], with room for rounding: pure fat gives 902 kcal."""
_LIMITS = tuple(_MOST[kind.unit] for kind in NUTRIENTS)


def scale_between(written: str, ours: str) -> float | None:
    """Return what turns a figure in one unit into the other; None where nothing does.

    >>> scale_between("µg", "mg"), round(scale_between("kJ", "kcal") or 0, 3)
    (0.001, 0.239)
    """
    unit = written.strip().casefold().replace("µ", "u").replace("μ", "u").replace("mcg", "ug")
    if unit == ours:
        return 1.0
    if unit in _THOUSANDTHS and ours in _THOUSANDTHS:
        return 1e3 ** (_THOUSANDTHS[ours] - _THOUSANDTHS[unit])
    return {("kj", "kcal"): 1 / KJ_PER_KCAL, ("kcal", "kj"): KJ_PER_KCAL}.get((unit, ours))


def nutrients_of(components: Components) -> tuple[tuple[float, ...], str]:
    """Return the figures of one food and what a careful reader should know about them.

    Parameters
    ----------
    components
        Amount per 100 g by component id, in the units of `COMPONENTS`; only what is known.

    Returns
    -------
    figures : (30,) [each nutrient's unit per 100 g], in the order of NUTRIENTS, nan where unknown
    note : sentences, or nothing
    """
    figures = tuple([rule(components) for rule in _IN_ORDER])
    return figures, " ".join(_notes(components, figures))


def impossible(figures: tuple[float, ...]) -> list[int]:
    """Return the columns whose figure is more than 100 g of anything can hold, or below nothing."""
    return [
        column
        for column, (figure, most) in enumerate(zip(figures, _LIMITS, strict=True))
        if figure < 0 or figure > most  # neither is true of nan
    ]


def packed(figures: tuple[float, ...]) -> bytes:
    """Return (30,) figures as little-endian doubles."""
    return struct.pack(f"<{len(NUTRIENTS)}d", *figures)


def _first(first: int, *others: int) -> Callable[[Components], float]:
    def rule(components: Components) -> float:
        if first in components:
            return components[first]
        for key in others:
            if key in components:
                return components[key]
        return UNKNOWN

    return rule


def _energy(components: Components) -> float:
    """Energy as released, else by the food's own factors, else by 4-4-9, else from kilojoules."""
    found = _first(1008, 2048, 2047)(components)
    if math.isnan(found) and 1062 in components:
        found = components[1062] / KJ_PER_KCAL
    return found


def _vitamin_a(components: Components) -> float:
    """RAE, else from retinol and the three carotenes; IU tells RAE only where both are zero."""
    if 1106 in components:
        return components[1106]
    if components.get(1104) == 0:
        return 0.0
    if {1105, 1107, 1108, 1120} <= components.keys():
        # Retinol activity equivalents: 12 and 24 to 1 (Institute of Medicine, 2001).
        others = components[1108] + components[1120]
        return components[1105] + components[1107] / 12 + others / 24
    return UNKNOWN


def _vitamin_d(components: Components) -> float:
    if 1114 in components:
        return components[1114]
    if 1110 in components:
        return components[1110] * UG_VITAMIN_D_PER_IU
    if {1111, 1112} <= components.keys():
        return components[1111] + components[1112]
    return UNKNOWN


def _vitamin_e(components: Components) -> float:
    """Milligrams of alpha-tocopherol; IU depends on whether it was added, unless there is none."""
    if 1109 in components:
        return components[1109]
    return 0.0 if components.get(1124) == 0 else UNKNOWN


def _folate(components: Components) -> float:
    """Folate equivalents, else built from food folate and folic acid; a total alone is too little."""
    if 1190 in components:
        return components[1190]
    if 1186 in components and 1187 in components:
        return components[1187] + DFE_PER_FOLIC_ACID * components[1186]
    if 1186 in components and components.get(1177, -1) >= components[1186]:
        food = components[1177] - components[1186]
        return food + DFE_PER_FOLIC_ACID * components[1186]
    return 0.0 if components.get(1177) == 0 else UNKNOWN


def _notes(components: Components, figures: tuple[float, ...]) -> list[str]:
    notes = []
    if 1104 in components and math.isnan(figures[INDEX["vitamin_a_ug"]]):
        notes.append("Vitamin A is given in IU only, which does not tell its RAE.")
    if 1124 in components and math.isnan(figures[INDEX["vitamin_e_mg"]]):
        notes.append("Vitamin E is given in IU only, which does not tell its milligrams.")
    if 1177 in components and math.isnan(figures[INDEX["folate_ug"]]):
        notes.append("Folate is given as a total only, which does not tell its DFE.")
    if 1005 not in components and 1050 in components:
        notes.append("Carbohydrate is a sum of sugars, starch and fibre.")
    return notes


_RULES: Final[Mapping[str, Callable[[Components], float]]] = {
    "water_g": _first(1051),
    "energy_kcal": _energy,
    "protein_g": _first(1003),
    "fat_g": _first(1004, 1085),
    "saturated_g": _first(1258, 1326),
    "monounsaturated_g": _first(1292, 1327),
    "polyunsaturated_g": _first(1293, 1328),
    "cholesterol_mg": _first(1253),
    "carbohydrate_g": _first(1005, 1050),
    "fibre_g": _first(1079, 2033),
    "sugars_g": _first(2000, 1063),
    "added_sugars_g": _first(1235),
    "sodium_mg": _first(1093),
    "potassium_mg": _first(1092),
    "calcium_mg": _first(1087),
    "iron_mg": _first(1089),
    "magnesium_mg": _first(1090),
    "phosphorus_mg": _first(1091),
    "zinc_mg": _first(1095),
    "vitamin_a_ug": _vitamin_a,
    "vitamin_c_mg": _first(1162),
    "vitamin_d_ug": _vitamin_d,
    "vitamin_e_mg": _vitamin_e,
    "vitamin_k_ug": _first(1185),
    "thiamin_mg": _first(1165),
    "riboflavin_mg": _first(1166),
    "niacin_mg": _first(1167),
    "vitamin_b6_mg": _first(1175),
    "vitamin_b12_ug": _first(1178),
    "folate_ug": _folate,
}
_IN_ORDER: Final = tuple(_RULES[kind.key] for kind in NUTRIENTS)
