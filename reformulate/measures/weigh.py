"""An amount in grams, through the food's own measures, with the route it took.

Nothing is guessed in silence: either the route says what was used, or the amount is refused with
the measures that the food does have.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from reformulate.errors import BadInput, Problem
from reformulate.measures.amount import Amount, Term, write_number
from reformulate.measures.choice import choose, described, named, size_of
from reformulate.measures.measure import Measure
from reformulate.measures.systems import SYSTEMS, MeasureSystem
from reformulate.measures.units import grams_per, millilitres
from reformulate.measures.words import METRIC, Kind, kind_of

_US: Final = SYSTEMS["us"]

# 15 oz and 425 g name the same can (0.06 % apart), 14 oz and 400 g do not (0.8 %).
_SAME_SIZE: Final = 0.005
_JUG_ML: Final = 100.0
"""Stands for amounts in metric volumes when the food's nearest volume measure is sought [mL]."""
_LISTED: Final = 6
"""How many measures of the food a message names [count]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """The mass of an amount, and how it was come by."""

    grams: float
    """Edible mass [g]."""
    route: str
    """What was multiplied by what, and whose figure it is, in one line."""


def weigh(
    amount: Amount, measures: Sequence[Measure], system: MeasureSystem, prep: str = ""
) -> Weighed:
    """Return the grams of an amount of one food.

    Each term goes by the first rule that applies: a mass as written; the food's measure of that
    unit; a volume through the density that another volume measure of the food gives; a pack by its
    drained share or its stated net weight; a bare count by the food's piece.

    Parameters
    ----------
    amount : Amount
        What was written.
    measures : sequence of Measure
        The food's household measures; among equals the first counts. Volumes are US customary.
    system : MeasureSystem
        Whose cups and spoons the amount is written in.
    prep : str
        The line's preparation, "finely chopped": it picks the measure with that qualifier.

    Returns
    -------
    Weighed
        The mass [g] and the route.

    Raises
    ------
    BadInput
        With one problem for each term that the food has no measure for.
    """
    grams = 0.0
    routes: list[str] = []
    problems: list[Problem] = []
    for term in amount.terms:
        try:
            one = unit_weight(term, measures, system, prep)
        except BadInput as bad:
            problems.extend(
                Problem(f"amount '{amount}'", found.what, found.fix) for found in bad.problems
            )
        else:
            grams += float(term.quantity) * one.grams
            routes.append(one.route)
    if problems:
        raise BadInput(problems)
    # A route shared by all terms is said once.
    return Weighed(grams=grams, route="; ".join(dict.fromkeys(routes)))


def unit_weight(
    term: Term, measures: Sequence[Measure], system: MeasureSystem, prep: str = ""
) -> Weighed:
    """Return the grams of one unit of ``term``, whatever its quantity, by the rules of `weigh`."""
    kind = kind_of(term.unit)
    if kind is Kind.MASS:
        return _mass(term)
    if kind is Kind.VOLUME:
        return _volume(term, measures, system, prep)
    if kind is Kind.PACK:
        return _pack(term, measures, system, prep)
    return _count(term, measures, prep)


def _mass(term: Term) -> Weighed:
    grams = grams_per(term.unit)
    if grams is None:
        raise LookupError(term.unit)
    if term.unit == "g":
        return Weighed(grams=grams, route=f"{term} as written")
    return Weighed(grams=grams, route=f"{term} as written; 1 {term.unit} = {grams:.6g} g")


def _volume(term: Term, measures: Sequence[Measure], system: MeasureSystem, prep: str) -> Weighed:
    volume = millilitres(term.unit, system)
    if volume is None:
        raise _refused(
            f"The system of measures '{system}' has no {term.unit}.",
            "Write millilitres or grams instead.",
        )
    if volume == millilitres(term.unit, _US):
        own = choose([m for m in measures if m.unit == term.unit], term.qualifier, prep)
        if own:
            return _by_measure(own[0], term)
    sized = {m: size for m in measures if (size := millilitres(m.unit, _US)) is not None}
    fitting = choose(tuple(sized), term.qualifier, prep, any_else=False)
    if not fitting:
        raise _no_weight(term, measures)
    # One mL says nothing about how much is poured; metric volumes are those of a jug.
    scale = _JUG_ML if term.unit in METRIC else volume
    nearest = min(fitting, key=lambda m: abs(math.log(sized[m] / scale)))
    share = volume / sized[nearest]
    return Weighed(
        grams=share * nearest.grams,
        route=f"{_as_share(term.unit, system, volume, nearest.unit, share)}; {_cited(nearest)}",
    )


def _as_share(unit: str, system: MeasureSystem, volume: float, other: str, share: float) -> str:
    """Say what part of a US measure a volume is: "1 tbsp = 1/16 cup"."""
    exact = Fraction(share).limit_denominator(96)
    if system == _US and math.isclose(float(exact), share, rel_tol=1e-12):
        return f"1 {unit} = {write_number(exact)} {other}"
    whose = "" if volume == millilitres(unit, _US) else f" ({system})"
    millis = "" if unit == "ml" else f" = {volume:.6g} mL"
    return f"1 {unit}{whose}{millis} = {share:.4g} {other} (US customary)"


def _pack(term: Term, measures: Sequence[Measure], system: MeasureSystem, prep: str) -> Weighed:
    # Tin and can are two words for one thing.
    units = {"can", "tin"} if term.unit in ("can", "tin") else {term.unit}
    own = choose([m for m in measures if m.unit in units], term.qualifier, prep)
    if term.size is None:
        if own:
            return _by_measure(own[0], term)
        refusal = _no_weight(term, measures).problems[0]
        raise _refused(f"{refusal.what[:-1]} without its size.", f"Write {_example(term)}.")
    stated = unit_weight(term.size, measures, system, prep).grams * float(term.size.quantity)
    sized = [(net, m) for m in own if (net := _net_grams(m, measures)) is not None]
    pack = f"1 {term.unit} ({term.size})"
    if not sized:
        drained = " No drained weight is known." if "drained" in prep.lower() else ""
        return Weighed(
            grams=stated, route=f"{pack} = {stated:.4g} g, net weight as stated.{drained}"
        )
    net, measure = min(sized, key=lambda pair: abs(math.log(pair[0] / stated)))
    if abs(net / stated - 1.0) <= _SAME_SIZE:
        return _by_measure(measure, term)
    share = measure.grams / net
    grams = stated * share
    return Weighed(
        grams=grams,
        route=f"{pack} = {grams:.4g} g at the same share of the net weight, {share:.1%}, as "
        f"{_cited(measure)}",
    )


def _net_grams(measure: Measure, measures: Sequence[Measure]) -> float | None:
    """Return the net mass [g] of the pack that a measure's qualifier names, if it does."""
    size = size_of(measure)
    if size is None:
        return None
    try:
        one = unit_weight(size, measures, _US).grams
    except BadInput:
        return None
    return one * float(size.quantity)


def _count(term: Term, measures: Sequence[Measure], prep: str) -> Weighed:
    own = choose([m for m in measures if m.unit == term.unit], term.qualifier, prep)
    if own:
        return _by_measure(own[0], term)
    counted = [m for m in measures if kind_of(m.unit) is Kind.COUNT and m.unit != "piece"]
    if term.unit == "piece" and len({m.unit for m in counted}) == 1:
        only = choose(counted, term.qualifier, prep)
        if only:
            one = _by_measure(only[0], term)
            return Weighed(grams=one.grams, route=f"a piece taken as a {only[0].unit}; {one.route}")
    raise _no_weight(term, measures)


def _by_measure(measure: Measure, term: Term) -> Weighed:
    # The food tells no packed from loose cups, or no large from small pieces: say so.
    told = f"{term.qualifier} not told apart; " if term.qualifier and not measure.qualifier else ""
    return Weighed(grams=measure.grams, route=told + _cited(measure))


def _cited(measure: Measure) -> str:
    return f"{described(measure)} ({measure.source or 'no source given'})"


def _no_weight(term: Term, measures: Sequence[Measure]) -> BadInput:
    one = Term(quantity=Fraction(1), unit=term.unit, qualifier=term.qualifier)
    name = "1 piece" if one.unit == "piece" and not one.qualifier else str(one)
    return _refused(f"This food has no weight for {name}.", _instead(measures))


def _instead(measures: Sequence[Measure]) -> str:
    if not measures:
        return "It has no household measures: write grams."
    listed = ", ".join(f"{named(m)} ({m.grams:.4g} g)" for m in measures[:_LISTED])
    more = " and others" if len(measures) > _LISTED else ""
    return f"It has {listed}{more}: use one of these or write grams."


def _example(term: Term) -> str:
    return f"the net weight in brackets, as in 1 {term.unit} (400 g), or grams"


def _refused(what: str, fix: str) -> BadInput:
    return BadInput(Problem("", what, fix))
