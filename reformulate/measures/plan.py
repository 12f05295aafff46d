"""The measurable amounts of one line of a recipe: worked out once, then only searched."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction
from functools import lru_cache
from math import frexp, inf
from typing import Final, NamedTuple

from reformulate.errors import BadInput
from reformulate.measures import ladder
from reformulate.measures.amount import Amount, Term
from reformulate.measures.ladder import Rung
from reformulate.measures.measure import Measure
from reformulate.measures.systems import MeasureSystem
from reformulate.measures.units import millilitres
from reformulate.measures.weigh import unit_weight, weigh
from reformulate.measures.words import METRIC, Kind, kind_of

# Below this a kitchen scale is unreliable and spoons are used where the food has them.
_SCALE_FROM: Final = 2
_OUNCE: Final = 28.0
"""Quarters of an ounce are coarse below this, so spoons are used too [g]."""
_SMALL: Final = ("dash", "pinch", "smidgen", "dessertspoon")
_JUG: Final = ("ml", "cl", "dl", "l")
_LOST: Final = 0.05
"""Scoops that add less than this are lost in the others: level scoops of what pours or spreads repeat
within 3 to 5 %, common practice [mL/mL]."""


@lru_cache(maxsize=4096)
def plan_of(
    measures: tuple[Measure, ...], system: MeasureSystem, like: Amount | None, prep: str
) -> Plan:
    """Return the plan of a line; the arguments are those of `household`."""
    return Plan(measures, system, like, prep)


class _Run(NamedTuple):
    """Amounts of one shape."""

    rungs: Iterator[Rung]
    rising: bool = True
    """Whether they go up without end; otherwise all of them are used, whatever they weigh."""
    below: float = inf
    """Where the others stop being used [g]."""


class Effort(NamedTuple):
    """What an amount asks of the cook; less of it comes first."""

    terms: int
    """Measures that are named [count]."""
    scoops: int
    """Fillings of spoons and cups [count]."""
    fine: bool
    """Whether the last measure is lost in the others, or is one more that many kitchens lack."""


def _effort(rung: Rung, system: MeasureSystem) -> Effort:
    terms, fine = len(rung.parts), False
    if terms > 1 and rung.scoops:
        each = [float(number) * (millilitres(unit, system) or 0.0) for number, unit in rung.parts]
        fine = rung.parts[-1] == ladder.EIGHTH or each[-1] < _LOST * sum(each)
    return Effort(terms, rung.scoops, fine)


class _Weighed(NamedTuple):
    """One measurable amount of a food."""

    grams: float
    effort: Effort
    rung: Rung


class Plan:
    """How one line is written, and the amounts worked out for it so far."""

    def __init__(
        self,
        measures: tuple[Measure, ...],
        system: MeasureSystem,
        like: Amount | None,
        prep: str,
    ) -> None:
        self._measures = measures
        self._system = system
        self._prep = prep
        self._first = like.terms[0] if like else None
        self._weights: dict[str, float | None] = {}
        self._steps: dict[int, Steps] = {}
        self.like: tuple[float, Amount] | None = None
        """The amount as first written and its mass [g], where a cook could measure it."""
        if like is not None and all(_simple(term) for term in like.terms):
            try:
                self.like = weigh(like, measures, system, prep).grams, like
            except BadInput:
                self.like = None

    def reaching(self, grams: float) -> Steps:
        """Return all amounts up to ``grams`` and at least one above."""
        # In powers of two, so that a moving handle seldom needs another table.
        power = max(6, frexp(grams)[1])
        steps = self._steps.get(power)
        if steps is None:
            steps = self._steps[power] = Steps(self._weighed_rungs(2.0**power), self._term)
        return steps

    def _term(self, quantity: Fraction, unit: str) -> Term:
        """Return a term that keeps the qualifier and the pack size of the written one."""
        first = self._first
        kind = kind_of(unit)
        kept = first is not None and kind is kind_of(first.unit)
        return Term(
            quantity=quantity,
            unit=unit,
            qualifier=first.qualifier if first and kept else "",
            size=first.size if first and kept and kind is Kind.PACK else None,
            decimal=unit in METRIC,
        )

    def _weight(self, unit: str) -> float | None:
        if unit not in self._weights:
            try:
                term = self._term(Fraction(1), unit)
                one = unit_weight(term, self._measures, self._system, self._prep).grams
            except BadInput:
                one = None
            self._weights[unit] = one if one and one > 0 else None
        return self._weights[unit]

    def _weigh(self, rung: Rung) -> _Weighed | None:
        grams = 0.0
        for number, unit in rung.parts:
            one = self._weight(unit)
            if one is None:
                return None
            grams += float(number) * one
        return _Weighed(grams, _effort(rung, self._system), rung)

    def _weighed_rungs(self, reach: float) -> Iterator[_Weighed]:
        for run in self._runs():
            for rung in run.rungs:
                weighed = self._weigh(rung)
                if run.rising:
                    if weighed is None:
                        break
                    yield weighed
                    if weighed.grams > reach:
                        break
                elif weighed is not None and weighed.grams < run.below:
                    yield weighed

    def _runs(self) -> list[_Run]:
        """Return the runs of amounts that suit the written form, or the system without one."""
        unit = self._first.unit if self._first and self._weight(self._first.unit) else ""
        kind = kind_of(unit)
        by_volume = bool(self._weight("tsp") or self._weight("cup"))
        if kind is Kind.COUNT:
            return [_Run(ladder.counted(unit))]
        if kind is Kind.PACK:
            rest = self._by_cups() if by_volume else self._by_scale("")
            return [_Run(ladder.counted(unit)), *rest]
        if unit in _JUG:
            return [
                _Run(ladder.jug(litres=unit == "l")),
                self._spoons(),
                _Run(ladder.jug_and_spoons(), rising=False),
            ]
        if unit == "fl oz":
            return [_Run(ladder.fluid_ounces()), self._spoons()]
        if kind is Kind.VOLUME or (not kind and by_volume and not self._system.prefers_metric):
            small = [_Run(ladder.whole(unit, 3), rising=False)] if unit in _SMALL else []
            return [*small, *self._by_cups()]
        return self._by_scale(unit)

    def _spoons(self, below: float = inf) -> _Run:
        return _Run(ladder.spoons(self._system), rising=False, below=below)

    def _by_cups(self) -> list[_Run]:
        if not self._weight("cup"):
            return [_Run(ladder.jug(litres=False)), self._spoons()]
        sums = _Run(ladder.cups_and_spoons(), rising=False)
        return [_Run(ladder.cups()), self._spoons(), sums]

    def _by_scale(self, unit: str) -> list[_Run]:
        if unit == "oz":
            return [_Run(ladder.ounces()), self._spoons(_OUNCE)]
        if unit == "lb":
            sums = _Run(ladder.pounds_and_ounces(), rising=False)
            below_one = _Run(ladder.ounces(15), rising=False)
            return [_Run(ladder.pounds()), below_one, sums, self._spoons(_OUNCE)]
        least = _SCALE_FROM if self._weight("tsp") else 1
        rising = ladder.kilograms(least) if unit == "kg" else ladder.grams(least)
        return [_Run(rising), self._spoons(least)]


def _simple(term: Term) -> bool:
    """Tell whether a cook could have measured the term as it stands."""
    return term.quantity.denominator <= (2 if term.unit in METRIC else 8)


class Steps:
    """The measurable amounts of one line, lightest first."""

    def __init__(
        self,
        weighed: Iterable[_Weighed],
        term: Callable[[Fraction, str], Term],
    ) -> None:
        # 1 1/2 tsp and 1/2 tbsp weigh the same but for the last bit: one of them is enough.
        easiest: dict[str, _Weighed] = {}
        for one in weighed:
            key = f"{one.grams:.10g}"
            if key not in easiest or one.effort < easiest[key].effort:
                easiest[key] = one
        ordered = sorted(easiest.values(), key=lambda one: one.grams)
        self.grams = [one.grams for one in ordered]
        """What each weighs, rising, (n,) [g]."""
        self.efforts = [one.effort for one in ordered]
        """What each asks of the cook, (n,)."""
        self._rungs = [one.rung for one in ordered]
        self._amounts: list[Amount | None] = [None] * len(ordered)
        self._term = term

    def amount(self, at: int) -> Amount:
        """Return amount number ``at``."""
        amount = self._amounts[at]
        if amount is None:
            amount = Amount(tuple(self._term(*part) for part in self._rungs[at].parts))
            self._amounts[at] = amount
        return amount
