"""The amounts that one line states, each in grams by the food's own measures."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from reformulate.errors import BadInput
from reformulate.measures import Amount, Measure, MeasureSystem, Term, millilitres, system, weigh
from reformulate.measures.choice import choose
from reformulate.measures.words import METRIC, Kind, kind_of
from reformulate.recipes.review.context import LineSeen, parsed

_US: Final = system("us")
_RANGE: Final = re.compile(r"(\d+(?:\.\d+)?)\s?[-–]\s?(\d+(?:\.\d+)?) g\b")
_PARTS: Final = re.compile(r"[/;,]|\bor\b")
_IN_BRACKETS: Final = re.compile(r"[(\[]([^()\[\]]{1,40})[)\]]")
_ABOUT: Final = re.compile(
    r"^\s*(?:about|approx\w*\.?|around|roughly|circa|ca\.?|nearly|[~≈])\s*", re.IGNORECASE
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """One amount that a line states."""

    amount: Amount
    written: str
    """As it stands in the line."""
    low: float
    """Least mass it may have by the food's measures [g]."""
    usual: float
    """Mass by the measure that fits best [g]."""
    high: float
    """Greatest mass it may have by the food's measures [g]."""
    volume: float | None
    """Volume, where every part is one [mL]; None otherwise."""

    @property
    def is_metric(self) -> bool:
        """Whether it is written in grams, millilitres and the like."""
        return all(term.unit in METRIC for term in self.amount.terms)

    @property
    def is_mass(self) -> bool:
        """Whether it is a mass."""
        return all(kind_of(term.unit) is Kind.MASS for term in self.amount.terms)

    @property
    def has_count(self) -> bool:
        """Whether it counts pieces, which differ in size."""
        return any(kind_of(term.unit) is Kind.COUNT for term in self.amount.terms)

    @property
    def has_pack(self) -> bool:
        """Whether it counts packs."""
        return any(kind_of(term.unit) is Kind.PACK for term in self.amount.terms)

    @property
    def is_unsized_pack(self) -> bool:
        """Whether it counts packs, which come in all sizes, and names none."""
        return any(
            kind_of(term.unit) is Kind.PACK and term.size is None for term in self.amount.terms
        )


def stated_amounts(seen: LineSeen, measures: MeasureSystem) -> tuple[Stated, ...]:
    """Return what a line says in several ways, household amounts first.

    Amounts for which the food has no weight are left out.
    """
    found: list[Stated] = []
    for amount, written in _written_amounts(seen):
        one = stated(amount, written, seen, measures)
        if one is not None and all(one.amount != other.amount for other in found):
            found.append(one)
    return tuple(sorted(found, key=lambda one: one.is_metric))


def pack_sizes(seen: LineSeen, measures: MeasureSystem) -> tuple[Stated, ...]:
    """Return the sizes that a line names for one pack: 15 oz and 425 g."""
    if seen.source is None or seen.source.pack is None:
        return ()
    sizes = [stated(one, written, seen, measures) for one, written in _parts(seen.source.pack.text)]
    return tuple(
        one for one in sizes if one is not None and (one.is_mass or one.volume is not None)
    )


def stated(amount: Amount, written: str, seen: LineSeen, measures: MeasureSystem) -> Stated | None:
    """Return an amount with the grams that it may mean; None where the food has no weight for it."""
    prep = " ".join(filter(None, (seen.line.prep, seen.source.prep if seen.source else "")))
    try:
        usual = weigh(amount, seen.food.measures, measures, prep).grams
    except BadInput:
        return None
    spans = [_span(term, seen.food.measures, measures, prep) for term in amount.terms]
    volumes = [millilitres(term.unit, measures) for term in amount.terms]
    volume: float | None = 0.0
    for term, each in zip(amount.terms, volumes, strict=True):
        volume = None if each is None or volume is None else volume + float(term.quantity) * each
    return Stated(
        amount=amount,
        written=written,
        low=min(usual, sum(low for low, _ in spans)),
        usual=usual,
        high=max(usual, sum(high for _, high in spans)),
        volume=volume,
    )


def _written_amounts(seen: LineSeen) -> Iterator[tuple[Amount, str]]:
    line, source = seen.line, seen.source
    if line.grams is not None and line.amount and (amount := parsed(line.amount)) is not None:
        yield amount, line.amount
        yield from _read(f"{line.grams:.10g} g")
    if source is None:
        return
    if source.amount and (amount := parsed(source.amount)) is not None:
        yield amount, source.amount
    if source.other is not None:
        yield from _parts(source.other.text)
    if source.more is not None:
        for bracket in _IN_BRACKETS.findall(source.more.text):
            yield from _parts(bracket)


def _parts(text: str) -> Iterator[tuple[Amount, str]]:
    whole = parsed(_ABOUT.sub("", text))
    if whole is not None:
        yield whole, text
        return
    for part in _PARTS.split(text):
        yield from _read(part)


def _read(text: str) -> Iterator[tuple[Amount, str]]:
    amount = parsed(_ABOUT.sub("", text).strip())
    if amount is not None:
        yield amount, text.strip()


def _span(
    term: Term, measures: tuple[Measure, ...], own: MeasureSystem, prep: str
) -> tuple[float, float]:
    """Return the least and the greatest mass [g] that the food's measures give a term."""
    kind = kind_of(term.unit)
    if kind is Kind.PACK and term.size is not None:
        # Net or drained: either is a weight of the pack.
        net = _span(term.size, measures, own, prep)
        drained = weigh(Amount((term,)), measures, own, prep).grams
        return (
            min(drained, float(term.quantity) * net[0]),
            max(drained, float(term.quantity) * net[1]),
        )
    if kind is Kind.MASS:
        grams = weigh(Amount((term,)), measures, own, prep).grams
        return grams, grams
    volume = millilitres(term.unit, own)
    candidates = [
        (each, volume / size if volume is not None else 1.0)
        for each in measures
        if (size := _comparable(each, term, volume)) is not None
    ]
    fitting = choose([each for each, _ in candidates], term.qualifier, prep, any_else=False)
    ends = [end for each, share in candidates if each in fitting for end in _ends(each, share)]
    if not ends:
        grams = weigh(Amount((term,)), measures, own, prep).grams
        return grams, grams
    quantity = float(Fraction(term.quantity))
    return quantity * min(ends), quantity * max(ends)


def _comparable(each: Measure, term: Term, volume: float | None) -> float | None:
    """Return the volume of a measure [mL] or 1 for the same count; None where it says nothing."""
    if volume is not None:
        return millilitres(each.unit, _US)
    return 1.0 if each.unit == term.unit else None


def _ends(each: Measure, share: float) -> tuple[float, float]:
    """Return the range its source states for a measure, else its grams twice."""
    found = _RANGE.search(each.source)
    if found is None:
        return each.grams * share, each.grams * share
    low, high = float(found[1]), float(found[2])
    if not low <= each.grams <= high:
        return each.grams * share, each.grams * share
    return low * share, high * share
