"""Volumes and masses of units, by Pint.

Pint does the conversion; the cups and spoons of a system reach it as a context of redefinitions.
Its import and registry take a third of a second, so they wait until a factor is first asked for,
and every factor is kept.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from threading import Lock
from typing import Any, Final

from reformulate.measures.systems import MeasureSystem
from reformulate.measures.words import Kind, canonical_unit, kind_of

__all__ = ["canonical_unit", "grams_per", "millilitres"]

_METRIC_VOLUMES: Final = {
    "ml": "milliliter",
    "cl": "centiliter",
    "dl": "deciliter",
    "l": "liter",
}
_HOUSEHOLD_VOLUMES: Final = {
    "cup": "cup",
    "tbsp": "tablespoon",
    "dessertspoon": "dessertspoon",
    "tsp": "teaspoon",
    "fl oz": "fluid_ounce",
    "pint": "pint",
    "quart": "quart",
    "gallon": "gallon",
}
# Shares of a teaspoon as sold in sets of small spoons (common practice).
_PINCHES: Final = {"dash": 8, "pinch": 16, "smidgen": 32}
_MASSES: Final = {"g": "gram", "kg": "kilogram", "mg": "milligram", "oz": "ounce", "lb": "pound"}

# A context changes the registry while it is open, so only one thread may have one open.
_one_at_a_time: Final = Lock()


@cache
def _registry() -> Any:
    import pint  # noqa: PLC0415 - slow, and not needed to start

    # Fractions keep 1 lb at exactly 453.59237 g; with floats Pint gives 453.5923700000001.
    registry: Any = pint.UnitRegistry(non_int_type=Fraction)
    registry.define("dessertspoon = 2 * teaspoon")
    for word, share in _PINCHES.items():
        registry.define(f"kitchen_{word} = teaspoon / {share}")
    return registry


@cache
def _context(measures: MeasureSystem) -> Any:
    import pint  # noqa: PLC0415 - slow, and not needed to start

    context = pint.Context(f"measures_{measures.key}")
    for word, volume in measures.millilitres:
        context.redefine(f"{_HOUSEHOLD_VOLUMES[word]} = {volume!r} * milliliter")
    return context


@cache
def millilitres(unit: str, system: MeasureSystem) -> float | None:
    """Return the volume of one ``unit`` [mL] in a system of measures.

    Parameters
    ----------
    unit : str
        Canonical unit word.
    system : MeasureSystem
        Whose cup and spoons are meant.

    Returns
    -------
    float or None
        None where ``unit`` is no volume, or has no meaning in this system.
    """
    if kind_of(unit) is not Kind.VOLUME:
        return None
    known = {word for word, _ in system.millilitres}
    if unit in _PINCHES and "tsp" in known:
        name = f"kitchen_{unit}"
    elif unit in known:
        name = _HOUSEHOLD_VOLUMES[unit]
    elif unit in _METRIC_VOLUMES:
        name = _METRIC_VOLUMES[unit]
    else:
        return None
    registry = _registry()
    with _one_at_a_time, registry.context(_context(system)):
        return float(registry.convert(Fraction(1), name, "milliliter"))


@cache
def grams_per(unit: str) -> float | None:
    """Return the mass of one ``unit`` [g]: g, kg, mg, oz, lb (avoirdupois, exact); else None."""
    name = _MASSES.get(unit)
    if name is None:
        return None
    return float(_registry().convert(Fraction(1), name, "gram"))
