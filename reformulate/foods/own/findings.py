"""Where a food's figures cannot all be true, whatever its rounding hides."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from reformulate.errors import Problem
from reformulate.foods.nutrients import nutrient
from reformulate.foods.own.bands import Range, permitted, undone
from reformulate.foods.own.daily_values import DAILY_VALUES, behind_percent, percent_bands
from reformulate.foods.own.figures import Figure, range_behind
from reformulate.foods.own.food import Basis, OwnFood
from reformulate.foods.own.label_rounding import Rounding, bands_of
from reformulate.foods.own.stated import STATABLE, plain_number

SMALL_SERVING: Final = 10.0
"""Below this, what is declared as 0 may be much of 100 g [g]; our own choice."""

SLACK: Final = 1.0
"""By how much parts of 100 g may exceed the whole in a table [g]: carbohydrate by difference takes
up the errors of all the others. Our own choice: beyond it stand 2 of the 687 foods of our table."""

ENERGY_SLACK: Final = (0.05, 2.0)
"""How far energy in a table may be off that of its parts [share, kcal per 100 g]; our own choice."""

_PARTS: Final = (
    ("saturated_g", "fat_g"),
    ("added_sugars_g", "sugars_g"),
    ("sugars_g", "net_carbohydrate_g"),
    ("sugars_g", "carbohydrate_g"),
    ("fibre_g", "carbohydrate_g"),
)
_SUMS: Final = (
    (("saturated_g", "monounsaturated_g", "polyunsaturated_g"), "fat_g"),
    (("sugars_g", "fibre_g"), "carbohydrate_g"),
)
_SOLIDS: Final = ("water_g", "protein_g", "fat_g")

# kcal per gram: least and greatest. A label may leave fibre out of carbohydrate (21 CFR
# 101.9(c)(1)(i)(C)); in the EU fibre has 2 (Regulation (EU) 1169/2011, Annex XIV); a table may use
# the factors of single foods (Agriculture Handbook 74, from memory).
_GENERAL: Final = {"protein_g": (4.0, 4.0), "fat_g": (9.0, 9.0), "carbohydrate": (4.0, 4.0)}
_OF_FOODS: Final = {"protein_g": (2.44, 4.36), "fat_g": (8.37, 9.02), "carbohydrate": (2.4, 4.16)}
_FIBRE: Final = {
    Rounding.US_LABEL: (0.0, 4.0),
    Rounding.EU_LABEL: (2.0, 2.0),
    Rounding.NONE: (0.0, 4.16),
}

Ranges = Mapping[str, Range]


def own_food_findings(food: OwnFood) -> tuple[Problem, ...]:
    """Return what does not agree in a food that can be used: worth a look, and no fault.

    Each is certain: no amounts that round to the figures printed agree. Energy is held against 4,
    4 and 9 kcal per gram of protein, carbohydrate and fat.

    Parameters
    ----------
    food
        A food without `own_food_problems`.
    """
    found = {figure.nutrient: Range(figure.low, figure.high) for figure in food.figures}
    for stated in food.stated:
        if stated.nutrient == "net_carbohydrate_g":
            found[stated.nutrient] = range_behind(stated, food.rounding)
    slack = SLACK * food.mass / 100.0 if food.rounding is Rounding.NONE else 0.0
    findings = (
        *_parts_findings(found, slack),
        *_mass_findings(found, food, slack),
        *_energy_findings(found, food),
        *_printed_findings(food),
        *_share_findings(food),
        *_carbohydrate_findings(found),
        *_small_serving_findings(food),
    )
    return tuple(Problem(f"{food.name}, {each.where}", each.what, each.fix) for each in findings)


def _parts_findings(found: Ranges, slack: float) -> Iterator[Problem]:
    single = [((part,), whole) for part, whole in _PARTS]
    blamed: set[str] = set()
    for parts, whole in (*single, *_SUMS):
        if whole not in found or not all(part in found for part in parts):
            continue
        least = sum(found[part].low for part in parts)
        if least > found[whole].high + slack and not blamed & set(parts):
            blamed |= set(parts)
            others = " and ".join(STATABLE[part].spoken for part in parts[1:])
            yield Problem(
                STATABLE[parts[0]].spoken,
                f"{f'with {others} ' if others else ''}is {least:.3g} g or more, "
                f"{STATABLE[whole].spoken} {found[whole].high:.3g} g or less; a part is no more "
                "than the whole.",
                "Compare these lines with their source.",
            )


def _mass_findings(found: Ranges, food: OwnFood, slack: float) -> Iterator[Problem]:
    solids = [found[key].low for key in _SOLIDS if key in found]
    carbohydrate = [
        found[key].low for key in ("carbohydrate_g", "net_carbohydrate_g") if key in found
    ]
    total = sum(solids) + max(carbohydrate, default=0.0)
    most = food.mass_range.high
    if total > most + slack:
        yield Problem(
            "sum of parts",
            f"water, protein, fat and carbohydrate come to {total:.3g} g or more in {most:.3g} g "
            "of food.",
            "Compare the size of a serving, and whether the figures are for it or for 100 g.",
        )


def _energy_findings(found: Ranges, food: OwnFood) -> Iterator[Problem]:
    declared = found.get("energy_kcal")
    if declared is None:
        return
    parts = energy_of_parts(found, food)
    if food.rounding is Rounding.NONE:
        share, more = ENERGY_SLACK[0], ENERGY_SLACK[1] * food.mass / 100.0
        parts = Range(max(0.0, parts.low * (1 - share) - more), parts.high * (1 + share) + more)
    if parts.low <= declared.high and declared.low <= parts.high:
        return
    general = food.rounding is not Rounding.NONE
    by = "at 4, 4 and 9 kcal a gram" if general else "by any factors in use"
    above = declared.low > parts.high
    fix = "Alcohol and the acid of vinegar add to it" if above else "Sugar alcohols have less"
    yield Problem(
        "energy",
        f"{_ends(declared)} kcal are declared; protein, carbohydrate and fat give {_ends(parts)} "
        f"kcal {by}.",
        f"Compare the lines with their source. {fix}.",
    )


def energy_of_parts(found: Ranges, food: OwnFood) -> Range:
    """Return the least and greatest energy [kcal] that protein, carbohydrate and fat can have.

    Parameters
    ----------
    found
        Ranges by nutrient [g], for the mass of food that is stated.
    food
        Whose rounding says which factors count.

    Returns
    -------
    Range
        No greatest energy (infinity) where a part is unknown.
    """
    factors = _OF_FOODS if food.rounding is Rounding.NONE else _GENERAL
    least = sum(factors[key][0] * found[key].low for key in ("protein_g", "fat_g") if key in found)
    whole = all(key in found for key in ("protein_g", "fat_g"))
    most = sum(factors[key][1] * found[key].high for key in ("protein_g", "fat_g") if key in found)
    of_net, of_fibre = factors["carbohydrate"], _FIBRE[food.rounding]
    total, net = found.get("carbohydrate_g"), found.get("net_carbohydrate_g")
    fibre = found.get("fibre_g")
    if net is not None:
        least += of_net[0] * net.low + of_fibre[0] * (fibre.low if fibre else 0.0)
        most += of_net[1] * net.high + (of_fibre[1] * fibre.high if fibre else float("inf"))
    elif total is not None:
        most_fibre = min(fibre.high, total.low) if fibre else total.low
        least += of_net[0] * (total.low - most_fibre) + of_fibre[0] * most_fibre
        most += max(of_net[1], of_fibre[1]) * total.high
    else:
        whole = False
    return Range(least, most if whole else float("inf"))


def _printed_findings(food: OwnFood) -> Iterator[Problem]:
    """Yield the figures that their rule never prints."""
    for stated in food.stated:
        bands = bands_of(food.rounding, stated.nutrient)
        amount = stated.amount
        if amount is None or not any(band.step for band in bands):
            continue
        near = permitted(bands, amount)
        if near and undone(bands, amount, below=stated.below) is None:
            usual = f"{plain_number(near[0].amount)} {STATABLE[stated.nutrient].unit}"
            yield Problem(
                STATABLE[stated.nutrient].spoken,
                f"{stated.printed} is no figure the rule of a {food.rounding} gives: it would be "
                f"{'less than ' if near[0].below else ''}{usual}. It is taken as rounded to its "
                "last digit.",
                "Compare it with the label.",
            )


def _share_findings(food: OwnFood) -> Iterator[Problem]:
    """Yield the shares of the daily value that do not belong to the amount beside them."""
    for stated in food.stated:
        percent, key = stated.percent, stated.nutrient
        if percent is None or key not in DAILY_VALUES:
            continue
        name = nutrient(key).spoken
        if undone(percent_bands(key), percent) is None:
            what = f"{percent:g} % is no share of a daily value a label gives."
            yield Problem(name, what, "Compare it with the label.")
            continue
        if stated.amount is None:
            continue
        amount = range_behind(stated, food.rounding)
        share = behind_percent(key, percent, bands_of(food.rounding, key))
        if amount.high < share.low or share.high < amount.low:
            unit = nutrient(key).unit
            yield Problem(
                name,
                f"{stated.printed}: that share is {_ends(share)} {unit}.",
                "Compare both with the label; labels before 2020 used other daily values.",
            )


def _carbohydrate_findings(found: Ranges) -> Iterator[Problem]:
    if "net_carbohydrate_g" in found and "carbohydrate_g" not in found:
        yield Problem(
            "carbohydrate",
            "is stated without fibre, and fibre is not stated: all carbohydrate is unknown.",
            "State the fibre, 0 where there is none.",
        )


def _small_serving_findings(food: OwnFood) -> Iterator[Problem]:
    if food.per is not Basis.SERVING or food.mass >= SMALL_SERVING:
        return
    nothing = [each for each in food.per_100g if each.value == 0.0 and each.high > 0.0]
    if nothing:
        yield Problem(
            "serving",
            f"is only {food.mass:g} g; what is declared as 0 may be, in 100 g: "
            f"{', '.join(_up_to(each) for each in nothing)}.",
            "Look for the same food with figures per 100 g.",
        )


def _up_to(figure: Figure) -> str:
    kind = nutrient(figure.nutrient)
    return f"{kind.spoken} {figure.high:.3g} {kind.unit}"


def _ends(ends: Range) -> str:
    low, high = (f"{end:.0f}" if end >= 100 else f"{end:.3g}" for end in ends)
    if high == "inf":
        return f"{low} or more"
    return low if low == high else f"{low} to {high}"
