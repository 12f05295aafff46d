"""The serving a label names: how much of which measure, and its grams."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from reformulate.errors import BadInput, Problem
from reformulate.foods.own.bands import Range, by_last_digit, undone
from reformulate.foods.own.label_rounding import SERVING_MASS, Rounding
from reformulate.measures import SYSTEMS, Measure, millilitres, parse_amount
from reformulate.measures.words import Kind, kind_of

_NUMBER = r"\d{1,6}(?:[.,]\d{1,6})?"
_GRAMS = re.compile(rf"(?<![\d.,])({_NUMBER})\s?g(?:r|rams?|rammes?)?\b", re.IGNORECASE)
_BRACKETS = re.compile(r"\([^()]*\)")
_LONGEST: Final = 120

# A label's cups and spoons are not those of the food table's measures.
_SPOONS_OF: Final = {Rounding.US_LABEL: SYSTEMS["label"], Rounding.EU_LABEL: SYSTEMS["metric"]}


@dataclass(frozen=True, slots=True, kw_only=True)
class Serving:
    """How much a label's figures are for."""

    amount: str = ""
    """In a household measure: ``2 tbsp``; "" where the label gives grams alone."""
    grams: float | None = None
    """Its mass as printed [g]; None where it is not."""


def read_serving(text: str) -> Serving:
    """Read a label's line on the size of a serving.

    Raises
    ------
    BadInput
        The text is neither an amount nor a mass.

    Examples
    --------
    >>> read_serving("2 Tbsp. (30g)")
    Serving(amount='2 tbsp', grams=30.0)
    >>> read_serving("30 g")
    Serving(amount='', grams=30.0)
    """
    text = " ".join(text[:_LONGEST].split())
    masses = _GRAMS.findall(text)
    grams = float(masses[-1].replace(",", ".")) if masses else None
    rest = _GRAMS.sub("", _BRACKETS.sub(" ", text)).strip(" /,;-–")
    if not rest:
        if grams is None:
            what = f"found “{text[:40]}”, expected the size of a serving."
            raise BadInput(Problem("serving", what, "Write it as in 2 tbsp (30 g), or 30 g."))
        return Serving(grams=grams)
    try:
        return Serving(amount=str(parse_amount(rest)), grams=grams)
    except BadInput as error:
        raise BadInput(
            Problem("serving", f"{p.where}: {p.what}", f"{p.fix} The grams alone will do: 30 g.")
            for p in error.problems
        ) from None


def serving_measures(serving: Serving, rounding: Rounding) -> tuple[Measure, ...]:
    """Return what a serving tells of the food's household measures; none without its grams.

    The serving itself is a piece that is called a serving. Cups and spoons of a label, 15 mL to the
    tablespoon, become the US customary ones of the food table.
    """
    if serving.grams is None:
        return ()
    whole = Measure(unit="piece", qualifier="serving", grams=serving.grams, source="its serving")
    terms = parse_amount(serving.amount).terms if serving.amount else ()
    if len(terms) != 1 or kind_of(terms[0].unit) is Kind.MASS:
        return (whole,)
    term = terms[0]
    grams = serving.grams / float(term.quantity)
    label = _SPOONS_OF.get(rounding)
    if label is not None and kind_of(term.unit) is Kind.VOLUME:
        ours, theirs = millilitres(term.unit, SYSTEMS["us"]), millilitres(term.unit, label)
        if ours is None:
            return (whole,)
        grams *= ours / theirs if theirs is not None else 1.0
    source = f"its serving: {serving.amount} = {serving.grams:g} g"
    measure = Measure(unit=term.unit, qualifier=term.qualifier, grams=grams, source=source)
    return measure, whole


def serving_range(grams: float, rounding: Rounding) -> Range:
    """Return between which masses [g] a serving printed as ``grams`` [g] lies.

    Only US labels round it by a rule of their own; elsewhere it is taken as it is.
    """
    if rounding is not Rounding.US_LABEL:
        return Range(grams, grams)
    return undone(SERVING_MASS, grams) or by_last_digit(grams)
