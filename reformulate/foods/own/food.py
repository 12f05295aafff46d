"""A food of the user's own: what is printed of it, and what follows from that."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from reformulate.foods.own.bands import Range
from reformulate.foods.own.figures import Figure, figures_of, per_hundred_grams, scaled
from reformulate.foods.own.label_rounding import Rounding
from reformulate.foods.own.serving import Serving, serving_measures, serving_range
from reformulate.foods.own.stated import STATABLE, Stated
from reformulate.measures import Measure

GROUP: Final = "Own foods"
"""The group of own foods that name no other."""

_PLACES: Final = {key: place for place, key in enumerate(STATABLE)}


class Basis(StrEnum):
    """What the figures of a food are for."""

    SERVING = "serving"
    HUNDRED_GRAMS = "100g"


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnFood:
    """One food from a package label, from a recipe or from a table of the user's own.

    It keeps what is printed; figures and their ranges are worked out anew from that.
    """

    key: str
    """What a recipe writes: ``own:`` and small words joined by hyphens."""
    name: str
    group: str = GROUP
    words: tuple[str, ...] = ()
    """Further words to find it by."""
    per: Basis = Basis.HUNDRED_GRAMS
    """What ``stated`` is for."""
    rounding: Rounding = Rounding.NONE
    """The rule the figures were rounded by."""
    serving: str = ""
    """A serving in a household measure: ``2 tbsp``; "" for none."""
    serving_grams: float | None = None
    """Mass of a serving as printed [g]; None where it is not known."""
    measures: tuple[Measure, ...] = ()
    """Household measures beside the serving; volumes are US customary."""
    stated: tuple[Stated, ...] = ()
    """What is stated, in the order of STATABLE; every nutrient that is not is unknown, not zero."""
    recipe: str = ""
    """The recipe file it was made from; "" for none."""
    source: str = ""
    """Where the figures come from."""
    note: str = ""

    def __post_init__(self) -> None:
        # In one order, so that foods which say the same are equal.
        ordered = sorted(self.stated, key=lambda each: _PLACES.get(each.nutrient, len(_PLACES)))
        object.__setattr__(self, "stated", tuple(ordered))

    @property
    def mass(self) -> float:
        """Mass of what ``stated`` is for [g]; 100 where a serving's is not known."""
        if self.per is Basis.HUNDRED_GRAMS or self.serving_grams is None:
            return 100.0
        return self.serving_grams

    @property
    def mass_range(self) -> Range:
        """Least and greatest mass of what ``stated`` is for [g]: a serving's is rounded as well."""
        if self.per is Basis.HUNDRED_GRAMS or self.serving_grams is None:
            return Range(100.0, 100.0)
        return serving_range(self.serving_grams, self.rounding)

    @property
    def figures(self) -> tuple[Figure, ...]:
        """What is known, for a serving or for 100 g, as it is stated."""
        return figures_of(self.stated, self.rounding, self.mass_range)

    @property
    def per_100g(self) -> tuple[Figure, ...]:
        """What is known of 100 g."""
        if self.per is Basis.HUNDRED_GRAMS:
            return self.figures
        return per_hundred_grams(self.figures, self.mass, self.mass_range)

    @property
    def per_serving(self) -> tuple[Figure, ...]:
        """What is known of a serving; nothing where its mass is not known."""
        if self.per is Basis.SERVING:
            return self.figures
        if self.serving_grams is None:
            return ()
        share = self.serving_grams / 100.0
        return tuple(scaled(self.figures, share, share, share))

    @property
    def all_measures(self) -> tuple[Measure, ...]:
        """Its household measures, then those its serving gives."""
        serving = Serving(amount=self.serving, grams=self.serving_grams)
        return self.measures + serving_measures(serving, self.rounding)
