"""Invented labels, and labels printed from composition that is known."""

from __future__ import annotations

from dataclasses import dataclass

from hypothesis import strategies as st

from reformulate.errors import BadInput
from reformulate.foods.own import Printed, Rounding, bands_of, permitted
from reformulate.foods.own.label_rounding import SERVING_MASS

ONION_DIP = {
    "energy_kcal": 60,
    "fat_g": 4.5,
    "saturated_g": 2.5,
    "cholesterol_mg": 15,
    "sodium_mg": 180,
    "carbohydrate_g": 4,
    "fibre_g": 0,
    "sugars_g": 2,
    "added_sugars_g": "<1",
    "protein_g": 2,
    "vitamin_d_ug": 0,
    "calcium_mg": "60 mg (4 %)",
    "iron_mg": "0 %",
    "potassium_mg": 90,
}
"""A light onion dip, invented: 2 tbsp (30 g)."""


def problems_of(read):
    """Return the problems that reading ends in, none where it succeeds; let all else through."""
    try:
        read()
    except BadInput as error:
        return error.problems
    return ()


@dataclass(frozen=True)
class TrueFood:
    """What 100 g hold, known exactly, and what a serving weighs."""

    per_100g: dict[str, float]
    grams: float


@st.composite
def true_foods(draw, *, eu=False):
    """Foods whose parts fit into each other and whose energy is that of their parts."""

    def part(whole):
        return draw(st.floats(0, 1)) * whole

    fat = part(99.0)
    protein = part(99.0 - fat)
    carbohydrate = part(99.0 - fat - protein)
    fibre = part(carbohydrate)
    sugars = part(carbohydrate - fibre)
    saturated = part(fat)
    mono = part(fat - saturated)
    net = carbohydrate - fibre
    counted = (
        4 * net + 2 * fibre if eu else 4 * (net + draw(st.sampled_from([0.0, 0.5, 1.0])) * fibre)
    )
    found = {
        "energy_kcal": 4 * protein + 9 * fat + counted,
        "fat_g": fat,
        "saturated_g": saturated,
        "monounsaturated_g": mono,
        "polyunsaturated_g": part(fat - saturated - mono),
        "sugars_g": sugars,
        "added_sugars_g": part(sugars),
        "fibre_g": fibre,
        "protein_g": protein,
        "calcium_mg": part(1500.0),
        "sodium_mg": part(4000.0),
        "net_carbohydrate_g" if eu else "carbohydrate_g": net if eu else carbohydrate,
    }
    return TrueFood(per_100g=found, grams=draw(st.floats(10, 300)))


@st.composite
def printed_labels(draw, food, rounding):
    """A lawful label of a food: its figures a serving (US) or per 100 g (EU), its serving."""
    share = food.grams / 100 if rounding is Rounding.US_LABEL else 1.0
    stated = {}
    for key, amount in food.per_100g.items():
        ways = permitted(bands_of(rounding, key), amount * share) or (Printed(0.0),)
        printed = draw(st.sampled_from(ways))
        stated[key] = f"<{printed.amount!r}" if printed.below else printed.amount
    (mass,) = permitted(SERVING_MASS, food.grams)
    return stated, f"{mass.amount:g} g"
