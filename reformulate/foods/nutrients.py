"""The nutrients a food record carries, in the order every vector and matrix keeps them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

KJ_PER_KCAL: Final = 4.184
"""By definition of the thermochemical calorie [kJ/kcal]."""


@dataclass(frozen=True, slots=True)
class Nutrient:
    """One component of a food: column ``index`` of every composition matrix."""

    key: str
    name: str
    unit: str
    decimals: int
    """Decimals shown [count]: about three significant figures at a dip's usual amounts."""

    @property
    def spoken(self) -> str:
        """The name inside a sentence: ``saturated fat``, ``vitamin A (RAE)``."""
        return self.name[0].lower() + self.name[1:]


NUTRIENTS: Final = (
    Nutrient("water_g", "Water", "g", 1),
    Nutrient("energy_kcal", "Energy", "kcal", 0),
    Nutrient("protein_g", "Protein", "g", 1),
    Nutrient("fat_g", "Fat", "g", 1),
    Nutrient("saturated_g", "Saturated fat", "g", 1),
    Nutrient("monounsaturated_g", "Monounsaturated fat", "g", 1),
    Nutrient("polyunsaturated_g", "Polyunsaturated fat", "g", 1),
    Nutrient("cholesterol_mg", "Cholesterol", "mg", 0),
    Nutrient("carbohydrate_g", "Carbohydrate", "g", 1),
    Nutrient("fibre_g", "Fibre", "g", 1),
    Nutrient("sugars_g", "Sugars", "g", 1),
    Nutrient("added_sugars_g", "Added sugars", "g", 1),
    Nutrient("sodium_mg", "Sodium", "mg", 0),
    Nutrient("potassium_mg", "Potassium", "mg", 0),
    Nutrient("calcium_mg", "Calcium", "mg", 0),
    Nutrient("iron_mg", "Iron", "mg", 2),
    Nutrient("magnesium_mg", "Magnesium", "mg", 0),
    Nutrient("phosphorus_mg", "Phosphorus", "mg", 0),
    Nutrient("zinc_mg", "Zinc", "mg", 2),
    Nutrient("vitamin_a_ug", "Vitamin A (RAE)", "µg", 0),
    Nutrient("vitamin_c_mg", "Vitamin C", "mg", 1),
    Nutrient("vitamin_d_ug", "Vitamin D", "µg", 1),
    Nutrient("vitamin_e_mg", "Vitamin E", "mg", 2),
    Nutrient("vitamin_k_ug", "Vitamin K", "µg", 1),
    Nutrient("thiamin_mg", "Thiamin (B1)", "mg", 3),
    Nutrient("riboflavin_mg", "Riboflavin (B2)", "mg", 3),
    Nutrient("niacin_mg", "Niacin (B3)", "mg", 2),
    Nutrient("vitamin_b6_mg", "Vitamin B6", "mg", 3),
    Nutrient("vitamin_b12_ug", "Vitamin B12", "µg", 2),
    Nutrient("folate_ug", "Folate (DFE)", "µg", 0),
)

INDEX: Final = {nutrient.key: i for i, nutrient in enumerate(NUTRIENTS)}
"""Column of each nutrient key."""


def nutrient(key: str) -> Nutrient:
    """Return the nutrient named ``key``; KeyError where there is none."""
    return NUTRIENTS[INDEX[key]]
