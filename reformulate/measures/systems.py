"""Which cup and spoon a set of recipes means."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from typing import Final

from reformulate.errors import BadInput, Problem


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasureSystem:
    """The volumes that one tradition of household measures gives its words."""

    key: str
    """What a set file writes: "us", "metric" ..."""
    name: str
    """What the screen shows."""
    millilitres: tuple[tuple[str, float], ...]
    """Canonical unit word and its volume [mL]; a word left out has no meaning in this system."""
    prefers_metric: bool
    """Whether an amount without a written form is given in grams rather than in cups."""

    def __str__(self) -> str:
        return self.name


SYSTEMS: Final[dict[str, MeasureSystem]] = {
    found.key: found
    for found in (
        MeasureSystem(
            key="us",
            name="US customary",
            # By definition from the US gallon of 231 cubic inches, exact.
            millilitres=(
                ("cup", 236.5882365),
                ("tbsp", 14.78676478125),
                ("tsp", 4.92892159375),
                ("fl oz", 29.5735295625),
                ("pint", 473.176473),
                ("quart", 946.352946),
                ("gallon", 3785.411784),
            ),
            prefers_metric=False,
        ),
        MeasureSystem(
            key="metric",
            name="Metric",
            # Common practice in New Zealand and Canada.
            millilitres=(("cup", 250.0), ("tbsp", 15.0), ("tsp", 5.0)),
            prefers_metric=True,
        ),
        MeasureSystem(
            key="label",
            name="US label equivalents",
            # 21 CFR 101.9(b)(5)(viii): for nutrition labels only.
            millilitres=(("cup", 240.0), ("tbsp", 15.0), ("tsp", 5.0), ("fl oz", 30.0)),
            prefers_metric=False,
        ),
        MeasureSystem(
            key="uk",
            name="UK",
            # Spoons: common practice. Cup: half an imperial pint, common practice. The rest by
            # definition from the imperial gallon of 4.54609 L, exact.
            millilitres=(
                ("cup", 284.130625),
                ("tbsp", 15.0),
                ("dessertspoon", 10.0),
                ("tsp", 5.0),
                ("fl oz", 28.4130625),
                ("pint", 568.26125),
                ("quart", 1136.5225),
                ("gallon", 4546.09),
            ),
            prefers_metric=True,
        ),
        MeasureSystem(
            key="australian",
            name="Australian",
            # Common practice; standard AS 1325, from memory.
            millilitres=(("cup", 250.0), ("tbsp", 20.0), ("tsp", 5.0)),
            prefers_metric=True,
        ),
    )
}
"""The systems by key."""


def system(key: str) -> MeasureSystem:
    """Return the system named ``key``.

    Raises
    ------
    BadInput
        If no system has that key; the message names those that exist.
    """
    try:
        return SYSTEMS[key]
    except KeyError:
        near = get_close_matches(key.lower(), SYSTEMS, n=1)
        hint = f"Did you mean '{near[0]}'? " if near else ""
        known = ", ".join(SYSTEMS)
        raise BadInput(
            Problem(
                f"measures '{key}'",
                "There is no such system of measures.",
                f"{hint}Choose one of: {known}.",
            )
        ) from None
