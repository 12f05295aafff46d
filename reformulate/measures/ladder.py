"""The amounts a home cook can measure, as numbers of units, before any food is known.

The steps follow what is sold and marked: spoons of 1/4, 1/2 and 1 tsp (1/8 often), cups of 1/4,
1/3, 1/2 and 1 (2/3 and 3/4 some), jugs marked every 25 mL, scales of 1 g (5 g is honest above 20 g,
10 g above 250 g). All common practice. Each sequence coarsens as it grows, so that a step stays
near or under 1 % where nobody counts finer.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from reformulate.measures.amount import LARGEST
from reformulate.measures.systems import MeasureSystem
from reformulate.measures.units import millilitres

Parts = tuple[tuple[Fraction, str], ...]

EIGHTH: Final = (Fraction(1, 8), "tsp")
"""The smallest spoon, which many sets lack; never written as 5/8 tsp, which no spoon holds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rung:
    """One measurable amount."""

    parts: Parts
    """Number and canonical unit word of each term."""
    scoops: int = 0
    """Fillings of a spoon or cup [count]; 0 where something is counted or weighed instead."""


# Scoops each fraction takes with the usual sets of measures: 3/4 tsp is 1/2 + 1/4.
_TSP_SCOOPS: Final = {Fraction(1, 4): 1, Fraction(1, 2): 1, Fraction(3, 4): 2}
_CUP_SCOOPS: Final = {
    Fraction(1, 4): 1,
    Fraction(1, 3): 1,
    Fraction(1, 2): 1,
    Fraction(2, 3): 2,
    Fraction(3, 4): 2,
}
_CUPS_WITH_SPOONS: Final = 4
"""Above this many cups a tablespoon more is lost in the error of the cups [cups]."""


def _steps(*stretches: tuple[Fraction | int, Fraction | int]) -> Iterator[Fraction]:
    """Give the multiples of each step up to its end, then ever ten times coarser ones."""
    value = Fraction(0)
    step = end = Fraction(1)
    for each_step, each_end in stretches:
        step, end = Fraction(each_step), Fraction(each_end)
        while value + step <= end:
            value += step
            yield value
    while end < LARGEST:
        step, end = step * 10, end * 10
        while value + step <= min(end, Fraction(LARGEST)):
            value += step
            yield value


def counted(unit: str) -> Iterator[Rung]:
    """Give whole and half pieces, cloves, cans ..., in rising order."""
    for number in _steps((Fraction(1, 2), 20), (1, 1000)):
        yield Rung(parts=((number, unit),))


def whole(unit: str, most: int) -> Iterator[Rung]:
    """Give 1 to ``most`` fillings of a spoon that only comes whole: pinch, dessertspoon."""
    for number in range(1, most + 1):
        yield Rung(parts=((Fraction(number), unit),), scoops=number)


def grams(least: int = 1) -> Iterator[Rung]:
    """Give the grams of a kitchen scale from ``least`` on: steps of 1, 5 above 20, 10 above 250."""
    for number in _steps((1, 20), (5, 250), (10, 5000)):
        if number >= least:
            yield Rung(parts=((number, "g"),))


def kilograms(least: int = 1) -> Iterator[Rung]:
    """Give the same steps, written in kilograms from 1 kg on."""
    for rung in grams(least):
        number = rung.parts[0][0]
        yield Rung(parts=((number / 1000, "kg"),)) if number >= 1000 else rung


def ounces(most: int = LARGEST) -> Iterator[Rung]:
    """Give ounces in steps of 1/4, 1/2 above 4, 1 above 16."""
    for number in _steps((Fraction(1, 4), 4), (Fraction(1, 2), 16), (1, 1000)):
        if number > most:
            return
        yield Rung(parts=((number, "oz"),))


def pounds() -> Iterator[Rung]:
    """Give pounds in steps of 1/4, 1/2 above 10, 1 above 50."""
    for number in _steps((Fraction(1, 4), 10), (Fraction(1, 2), 50), (1, 1000)):
        yield Rung(parts=((number, "lb"),))


def pounds_and_ounces() -> Iterator[Rung]:
    """Give 1 to 10 lb with 1 to 15 oz more."""
    for pound in range(1, 11):
        for ounce in range(1, 16):
            yield Rung(parts=((Fraction(pound), "lb"), (Fraction(ounce), "oz")))


def jug(*, litres: bool) -> Iterator[Rung]:
    """Give the marks of a measuring jug, every 25 mL; from 1000 mL on in litres if so written."""
    for number in _steps((25, 1000), (50, 5000)):
        if litres and number >= 1000:
            yield Rung(parts=((number / 1000, "l"),), scoops=1)
        else:
            yield Rung(parts=((number, "ml"),), scoops=1)


def jug_and_spoons() -> Iterator[Rung]:
    """Give a mark of the jug up to 500 mL and 1 or 2 level spoons more."""
    for mark in range(25, 501, 25):
        for unit in ("tbsp", "tsp"):
            for spoons in (1, 2):
                yield Rung(
                    parts=((Fraction(mark), "ml"), (Fraction(spoons), unit)), scoops=1 + spoons
                )


def fluid_ounces() -> Iterator[Rung]:
    """Give the marks of a jug in fluid ounces."""
    for number in _steps((1, 128)):
        yield Rung(parts=((number, "fl oz"),), scoops=1)


def cups() -> Iterator[Rung]:
    """Give 1/4, 1/3, 1/2, 2/3, 3/4, 1 and so on to 16 cups, then coarser."""
    for number in range(16):
        for fraction, scoops in _CUP_SCOOPS.items():
            yield Rung(parts=((number + fraction, "cup"),), scoops=number + scoops)
        yield Rung(parts=((Fraction(number + 1), "cup"),), scoops=number + 1)
    for above in _steps((Fraction(1, 2), 64), (1, 1000)):
        if above > 16:
            yield Rung(parts=((above, "cup"),), scoops=int(above) + 1)


def spoons(system: MeasureSystem) -> Iterator[Rung]:
    """Give level spoons, and a tablespoon with teaspoons, up to a quarter of a cup.

    Teaspoons stop short of a tablespoon and tablespoons short of 1/4 cup, whatever those hold in
    this system: three of the one make the other in one, four in the next.
    """
    tsp, tbsp, cup = (millilitres(unit, system) for unit in ("tsp", "tbsp", "cup"))
    if tsp is None or tbsp is None:
        return
    quarter, half = Fraction(1, 4), Fraction(1, 2)
    yield Rung(parts=(EIGHTH,), scoops=1)
    for spoon in (quarter, half, Fraction(1)):
        yield Rung(parts=((spoon, "tsp"), EIGHTH), scoops=2)
    most = tbsp / tsp - 1e-9
    for number in _steps((quarter, 10)):
        if number >= most:
            break
        over = number % 1
        yield Rung(parts=((number, "tsp"),), scoops=int(number) + _TSP_SCOOPS.get(over, 0))
    most = cup / tbsp / 4 - 1e-9 if cup else 4.5
    for number in _steps((half, 10)):
        if number >= most:
            break
        yield Rung(parts=((number, "tbsp"),), scoops=int(number) + (2 if number % 1 else 0))
        if number % 1 == 0:
            for more, scoops in ((quarter, 1), (half, 1), (Fraction(1), 1), (Fraction(2), 2)):
                yield Rung(parts=((number, "tbsp"), (more, "tsp")), scoops=int(number) + scoops)


def cups_and_spoons() -> Iterator[Rung]:
    """Give up to 4 cups with one other measure: "2/3 cup + 1 tbsp", "1/2 cup + 1/3 cup"."""
    third, quarter = (Fraction(1, 3), "cup"), (Fraction(1, 4), "cup")
    yield Rung(parts=((Fraction(1, 2), "cup"), third), scoops=2)
    yield Rung(parts=(third, quarter), scoops=2)
    for rung in cups():
        ((number, unit),) = rung.parts
        if number > _CUPS_WITH_SPOONS:
            return
        for more in (1, 2, 3):
            yield Rung(parts=((number, unit), (Fraction(more), "tbsp")), scoops=rung.scoops + more)
        if number <= 1:
            for more in (1, 2):
                yield Rung(
                    parts=((number, unit), (Fraction(more), "tsp")), scoops=rung.scoops + more
                )
