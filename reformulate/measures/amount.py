"""An amount as a cook writes it, kept exactly."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from reformulate.errors import BadInput, Problem
from reformulate.measures.words import METRIC, QUALIFIERS, UNITS, Kind

LARGEST: Final = 1_000_000
"""The largest number an amount may have [of any unit]: beyond it something else was meant."""

_DECIMALS: Final = 6

# Scaling by a binary fraction a few times over stays below this; Python writes no longer numbers
# than some thousand digits, and what cannot be written cannot be read back.
_FINEST: Final = 10**50


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """A number and a unit: the whole of most amounts, one part of "1/4 cup + 2 tbsp".

    Raises
    ------
    BadInput
        If the number is not above nothing, or absurdly large.
    ValueError
        If the words are not canonical: a mistake in code, not of the cook.
    """

    quantity: Fraction
    """How many, above 0 [units]."""
    unit: str
    """Canonical unit word; "piece" for a bare count."""
    qualifier: str = ""
    """Which measure of that unit: "medium", "packed" ..."""
    size: Term | None = None
    """Net weight or volume of one pack, as written in brackets after it."""
    decimal: bool = False
    """Whether a part is written as 0.5 rather than 1/2; False where there is no difference."""

    def __post_init__(self) -> None:
        quantity = Fraction(self.quantity)
        if self.unit not in UNITS:
            raise ValueError(f"'{self.unit}' is not a canonical unit word")
        if self.qualifier and self.qualifier not in QUALIFIERS:
            raise ValueError(f"'{self.qualifier}' is not a qualifier")
        if self.size is not None:
            if UNITS[self.unit].kind is not Kind.PACK:
                raise ValueError(f"only a pack has a size, not a {self.unit}")
            if self.size.qualifier or UNITS[self.size.unit].kind not in (Kind.MASS, Kind.VOLUME):
                raise ValueError("the size of a pack is a mass or a volume")
        if quantity <= 0:
            raise BadInput(
                Problem("amount", "An amount must be more than nothing.", "Leave the line out.")
            )
        if quantity > LARGEST:
            raise BadInput(
                Problem("amount", f"A number above {LARGEST} is no amount.", "Check the number.")
            )
        if quantity.denominator > _FINEST:
            raise BadInput(
                Problem("amount", "The number is too fine to write.", "Use a simpler factor.")
            )
        shown = self.decimal and quantity.denominator != 1 and _terminates(quantity)
        object.__setattr__(self, "quantity", quantity)
        object.__setattr__(self, "decimal", shown)

    def __str__(self) -> str:
        return self.written(bare=True)

    def written(self, *, bare: bool) -> str:
        """Write the term; a ``bare`` count goes without the word piece, a part of a sum has it."""
        word = UNITS[self.unit]
        parts = [write_number(self.quantity, decimal=self.decimal)]
        if self.qualifier:
            parts.append(self.qualifier)
        if self.unit != "piece" or not (bare or self.qualifier):
            parts.append(word.plural if self.quantity > 1 else word.word)
        if self.size is not None:
            parts.append(f"({self.size})")
        return " ".join(parts)


@dataclass(frozen=True, slots=True)
class Amount:
    """One or more terms that are measured one after the other; ``str`` writes it canonically."""

    terms: tuple[Term, ...]

    def __post_init__(self) -> None:
        if not self.terms:
            raise ValueError("an amount has at least one term")

    def __str__(self) -> str:
        bare = len(self.terms) == 1
        return " + ".join(term.written(bare=bare) for term in self.terms)


def write_number(number: Fraction, *, decimal: bool = False) -> str:
    """Write a number as cooks do, exactly: "1 1/2", or "1.5" if ``decimal``.

    A number that six decimals cannot give exactly is written as a fraction either way.
    """
    whole, rest = divmod(number, 1)
    if rest == 0:
        return str(whole)
    if decimal and _terminates(rest):
        return f"{whole}.{int(rest * 10**_DECIMALS):0{_DECIMALS}d}".rstrip("0")
    part = f"{rest.numerator}/{rest.denominator}"
    return f"{whole} {part}" if whole else part


def scaled(amount: Amount, factor: Fraction) -> Amount:
    """Return ``factor`` times an amount, exactly; packs keep their size.

    Parameters
    ----------
    amount : Amount
        What was written.
    factor : Fraction
        How many times as much, above 0 [-].

    Raises
    ------
    BadInput
        If the result is nothing, less than nothing or absurdly large.
    """
    return Amount(
        tuple(
            replace(
                term,
                quantity=term.quantity * factor,
                decimal=term.decimal or term.unit in METRIC,
            )
            for term in amount.terms
        )
    )


def _terminates(number: Fraction) -> bool:
    return (number * 10**_DECIMALS).denominator == 1
