"""Rounding as rules state it, band by band: what may be printed for an amount, and back."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import floor
from typing import Final, NamedTuple

_HALF: Final = Fraction(1, 2)
_MOST_DIGITS: Final = 12
"""Decimals of a printed figure that count [count]."""


class Range(NamedTuple):
    """The least and the greatest amount that a printed figure may stand for."""

    low: float
    high: float


class Printed(NamedTuple):
    """A figure as printed: an amount, or "less than" it."""

    amount: float
    below: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """Amounts between two ends that a rule prints in one way.

    Bands of one rule may overlap where it leaves a choice; the first is the usual one.
    """

    low: Fraction = Fraction(0)
    """Least amount [unit of what is rounded]."""
    high: Fraction | None = None
    """Greatest amount [unit]; None for no end."""
    closed: bool = False
    """Whether ``high`` itself belongs to the band."""
    step: Fraction = Fraction(0)
    """Printed to the nearest multiple of this [unit], halves upward; 0 for printed as 0."""
    limit: Fraction | None = None
    """Printed as "less than" this [unit]."""

    def __post_init__(self) -> None:
        if self.high is None and not self.step:
            raise ValueError("what is printed as 0 or as less than a limit has an end")

    def holds(self, amount: Fraction) -> bool:
        """Whether the band is for this amount."""
        if amount < self.low or self.high is None:
            return amount >= self.low
        return amount < self.high or (self.closed and amount == self.high)

    def prints(self, amount: Fraction) -> Printed:
        """Return what is printed for an amount of this band."""
        if self.limit is not None:
            return Printed(float(self.limit), below=True)
        if not self.step:
            return Printed(0.0)
        return Printed(float(floor(amount / self.step + _HALF) * self.step))

    def behind(self, printed: Fraction, *, below: bool) -> tuple[Fraction, Fraction] | None:
        """Return between which amounts of this band are printed so; None where none is."""
        if below != (self.limit is not None):
            return None
        low, high = self.low, self.high
        if self.step:
            if printed % self.step:
                return None
            low = max(low, printed - self.step * _HALF)
            end = printed + self.step * _HALF
            high = end if high is None else min(high, end)
        elif printed != (self.limit or 0):
            return None
        return (low, high) if high is not None and low < high else None


Bands = Sequence[Band]


def permitted(bands: Bands, amount: float) -> tuple[Printed, ...]:
    """Return all that a rule lets be printed for an amount [unit], the usual way first.

    Halves go upward and are judged by the amount's decimals: 0.95 is a half of 0.1, the number
    just below it is not.
    """
    exact = as_printed(amount)
    return tuple(dict.fromkeys(band.prints(exact) for band in bands if band.holds(exact)))


def undone(bands: Bands, amount: float, *, below: bool = False) -> Range | None:
    """Return the range of amounts [unit] that a rule prints so; None where it never prints so."""
    printed = as_printed(amount)
    found = [ends for band in bands if (ends := band.behind(printed, below=below)) is not None]
    if not found:
        return None
    return Range(float(min(low for low, _ in found)), float(max(high for _, high in found)))


def printed_between(bands: Bands, low: float, high: float) -> Iterator[float]:
    """Yield the figures from ``low`` to ``high`` [unit] that a rule prints as a number."""
    ends = Fraction(low), Fraction(high)
    seen: set[Fraction] = set()
    for band in bands:
        if band.limit is not None:
            continue
        if not band.step:
            seen |= {Fraction(0)} if low <= 0.0 else set()
            continue
        first, last = -floor(-ends[0] / band.step), floor(ends[1] / band.step)
        steps = (times * band.step for times in range(first, last + 1))
        seen |= {step for step in steps if band.behind(step, below=False) is not None}
    yield from map(float, sorted(seen))


def by_last_digit(amount: float) -> Range:
    """Return the range of a figure rounded to the last digit it is written with.

    >>> by_last_digit(3.2), by_last_digit(47.0)
    (Range(low=3.15, high=3.25), Range(low=46.5, high=47.5))
    """
    printed = as_printed(amount)
    step, digits = Fraction(1), 0
    while (printed / step).denominator != 1 and digits < _MOST_DIGITS:
        step, digits = step / 10, digits + 1
    return Range(float(max(Fraction(0), printed - step * _HALF)), float(printed + step * _HALF))


def as_printed(amount: float) -> Fraction:
    """Return a number as its decimals say it: 0.3 is three tenths."""
    return Fraction(repr(float(amount)))
