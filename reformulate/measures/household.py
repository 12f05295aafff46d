"""Grams as the nearest amount a home cook can measure.

Called for every line while a slider handle moves, so the amounts of a food are worked out once per
written form, sorted by their grams, and then only searched.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from reformulate.errors import BadInput, Problem
from reformulate.measures.amount import LARGEST, Amount
from reformulate.measures.measure import Measure
from reformulate.measures.plan import Steps, plan_of
from reformulate.measures.systems import MeasureSystem

NOTHING: Final = 1e-3
"""Below this an amount is nothing [g]."""
SHARE: Final = 0.01
"""How far an amount may be off and still count as exact [g/g]."""
LEAST: Final = 0.05
"""The same for the smallest amounts [g]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Household:
    """An amount that can be measured, and what it weighs."""

    amount: Amount
    grams: float
    """What ``amount`` weighs, edible [g]: every figure shown beside it is worked out from this."""
    exact: bool
    """Whether that is within 1 % (or 0.05 g) of what was asked for."""
    scoops: int = 0
    """Fillings of spoons and cups it takes [count]; 0 for what is counted, weighed, or as written."""
    fine: bool = False
    """Whether the last of its measures is lost in the others (under 5 % of its volume), or is an eighth of
    a teaspoon beside another spoon."""


def household(
    grams: float,
    measures: Sequence[Measure],
    system: MeasureSystem,
    like: Amount | None = None,
    prep: str = "",
) -> Household | None:
    """Return the amount nearest to ``grams`` that a home cook can measure.

    Among the amounts within 1 % (or 0.05 g) the one with fewest terms, then fewest scoops, then one
    that is not fine, then the nearest is taken; if there are none, the nearest of all. More grams
    never give a lighter amount.

    Parameters
    ----------
    grams : float
        What is wanted, edible [g].
    measures : sequence of Measure
        The food's household measures.
    system : MeasureSystem
        Whose cups and spoons to write in.
    like : Amount, optional
        The amount as first written: the answer stays with its kind (cloves, grams, cups and
        spoons; a can gives way to cups or grams unless half or whole cans fit), its qualifier and
        its pack size. It is itself an answer where it fits, unless no cook could have measured it.
    prep : str
        The line's preparation, as for `weigh`.

    Returns
    -------
    Household or None
        None for nothing: less than a milligram. ``weigh`` gives back exactly its grams.

    Raises
    ------
    BadInput
        If ``grams`` is negative, not a number, or more than a tonne.
    """
    if not 0.0 <= grams <= LARGEST:
        raise BadInput(
            Problem(
                "amount",
                f"{grams:g} g cannot be measured.",
                f"Give at least 0 and at most {LARGEST} g.",
            )
        )
    if grams < NOTHING:
        return None
    plan = plan_of(tuple(measures), system, like, prep)
    off = max(SHARE * grams, LEAST)
    if plan.like is not None and abs(plan.like[0] - grams) <= off:
        return Household(amount=plan.like[1], grams=plan.like[0], exact=True)
    steps = plan.reaching(grams + off)
    first = bisect_left(steps.grams, grams - off)
    last = bisect_right(steps.grams, grams + off)
    if first < last:
        best = min(
            range(first, last), key=lambda at: (steps.efforts[at], abs(steps.grams[at] - grams))
        )
        return _step(steps, best, exact=True)
    around = [at for at in (first - 1, first) if 0 <= at < len(steps.grams)]
    best = min(around, key=lambda at: abs(steps.grams[at] - grams))
    if plan.like is not None and abs(plan.like[0] - grams) < abs(steps.grams[best] - grams):
        return Household(amount=plan.like[1], grams=plan.like[0], exact=False)
    return _step(steps, best, exact=False)


def measurable(
    low: float,
    high: float,
    measures: Sequence[Measure],
    system: MeasureSystem,
    like: Amount | None = None,
    *,
    prep: str = "",
) -> tuple[Household, ...]:
    """Return every amount between ``low`` and ``high`` [g] that a cook can measure, lightest first.

    The arguments are those of `household`; ``low`` and ``high`` include their ends.
    """
    if not low <= high <= LARGEST:
        raise BadInput(
            Problem(
                "amount",
                f"{low:g} to {high:g} g cannot be measured.",
                f"Give the smaller first, and at most {LARGEST} g.",
            )
        )
    plan = plan_of(tuple(measures), system, like, prep)
    steps = plan.reaching(max(high, NOTHING))
    found = {
        steps.grams[at]: _step(steps, at, exact=True)
        for at in range(bisect_left(steps.grams, low), bisect_right(steps.grams, high))
    }
    if plan.like is not None and low <= plan.like[0] <= high:
        found[plan.like[0]] = Household(amount=plan.like[1], grams=plan.like[0], exact=True)
    return tuple(found[grams] for grams in sorted(found))


def _step(steps: Steps, at: int, *, exact: bool) -> Household:
    effort = steps.efforts[at]
    return Household(
        amount=steps.amount(at),
        grams=steps.grams[at],
        exact=exact,
        scoops=effort.scoops,
        fine=effort.fine,
    )
