"""The measured answer: amounts a home cook can measure, chosen together; MODEL.md §14."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from math import isfinite
from typing import Final

import numpy as np
from numpy.typing import NDArray

from reformulate.errors import BadInput
from reformulate.measures import Amount, Household, MeasureSystem, measurable, parse_amount
from reformulate.optimise.answer import Answer, Measured
from reformulate.optimise.choice import Options, choose
from reformulate.optimise.gives import Stopped
from reformulate.optimise.levels import level
from reformulate.optimise.reach import Reach
from reformulate.optimise.rows import Row
from reformulate.optimise.shown import answer_with

FloatArray = NDArray[np.float64]

WIDTH: Final = 0.6
"""How far from the optimum amounts are looked for, as a share of the line's scale [1]."""

WIDER: Final = 3.0
"""The same before a limit gives way that the optimum keeps [1]."""

SCOOP: Final = 0.03
"""What one scoop costs beside a relative change of 1 [1]: the least that level scoops of what pours or
spreads repeat to (3 to 5 %, common practice), so that a line is not spooned out more finely than it is
measured.

Tried on the demo set under 330 random briefs: from 0.02 without `FINE` to this an answer takes 10.6
scoops in place of 11.6, 76 amounts in 1439 are fine in place of 163 in 1508, its lines are 0.03 further
off together, and the same 9 briefs cannot be kept."""

FINE: Final = 0.06
"""What a fine amount costs beside its scoops [1]: as much as two more. Its last measure is lost in the
others, or an eighth of a teaspoon, which many kitchens lack; so it comes where a must needs it."""

SLIVER: Final = 0.05
"""Less than this of a line's scale is fine too [1]: 1/4 tsp of what was 1/4 cup."""

NEW_CHANGE: Final = 0.02
"""What moving a line costs that the optimum leaves as written [1]."""

NEW_SWAP: Final = 0.5
"""What a swap costs that the optimum does not use [1]."""

TRACE: Final = 1e-3
"""Below this an amount is nothing, and two amounts are one [g]."""

NEVER, HOLDS, GOALS = 0, 1, 2
"""When a limit may give way in the nearest choice."""


def measured_answer(
    answer: Answer,
    system: MeasureSystem,
    progress: Callable[[float], bool] = lambda _: True,
) -> Answer:
    """Return the answer in amounts that spoons, cups, pieces, packs and scales give.

    One amount is chosen for each line and swap so that all musts and holds are kept by the amounts
    chosen, as near to the optimum as can be, with a small cost for each scoop; proven so. Where no
    such amounts exist, near the optimum or further off, goals give way before holds, by as little as
    can be, and ``measured.in_the_way`` says which.

    Raises
    ------
    Stopped
        If ``progress`` returned False.
    NoChoice
        If no amounts leave the dish the water that cooking drives off.
    SolverStopped
        If no amounts were found in some seconds.
    """
    exact, model = answer.optimum, answer.optimum.model
    near, further = _candidates(answer, system, WIDTH), partial(_candidates, answer, system, WIDER)
    lower, upper = exact.limits
    choice = choose(
        _options(answer, near),
        model.gram_rows,
        lower,
        upper,
        np.array([row.size for row in model.rows]) / model.row_scale,
        np.array([_gives(row, i < model.goal_count) for i, row in enumerate(model.rows)]),
        wider=(lambda: _options(answer, further())) if exact.relaxed is None else None,
        at_most_used=_few_swaps(answer),
        stop=lambda: not progress(0.5),
    )
    if choice is None:
        raise Stopped("Given up.")
    found = further() if choice.is_wider else near
    picked = [some[at] for some, at in zip(found, choice.pick.tolist(), strict=True)]
    shown = answer_with(
        answer.batch,
        answer.brief,
        exact,
        choice.grams,
        original=answer.original,
        reach=answer.reach,
        measured=Measured(
            amounts=tuple(one.household for one in picked),
            proven=choice.proven,
            in_the_way=tuple(
                dict.fromkeys(
                    row.name
                    for row, by in zip(model.rows, choice.gives.tolist(), strict=True)
                    if by > 0.0
                )
            ),
        ),
    )
    return replace(shown, reach=_reach(shown)) if choice.gives.any() else shown


def _reach(answer: Answer) -> tuple[Reach, ...]:
    """Return the reach with what the amounts shown have: they miss limits that the optimum keeps."""
    items, servings = answer.items, answer.batch.recipe.servings
    levels = (level(one.nutrient, one.per, answer.grams, items, servings) for one in answer.reach)
    return tuple(
        replace(one, low=min(one.low, now), high=max(one.high, now)) if isfinite(now) else one
        for one, now in zip(answer.reach, levels, strict=True)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Candidate:
    """One amount an item may be measured as."""

    grams: float
    """What it weighs [g]."""
    household: Household | None = None
    """None for the original as written, for nothing, and for grams that no measure gives."""


def _options(answer: Answer, found: list[list[_Candidate]]) -> list[Options]:
    return [
        Options(
            grams=np.array([one.grams for one in some]),
            cost=np.array([_cost(answer, i, one) for one in some]),
        )
        for i, some in enumerate(found)
    ]


def _candidates(answer: Answer, system: MeasureSystem, far: float) -> list[list[_Candidate]]:
    """Return what each item may be measured as, at most ``far`` of its scale off, lightest first."""
    return [_of_item(answer, i, system, far) for i in range(len(answer.exact))]


def _of_item(answer: Answer, i: int, system: MeasureSystem, far: float) -> list[_Candidate]:
    items, amount = answer.items, answer.amounts[i]
    original, now = float(items.original[i]), float(answer.exact[i])
    least, most = float(items.least[i]), float(items.most[i])
    found: dict[float, _Candidate] = {}
    if amount.line is not None and least <= original <= most:
        found[original] = _Candidate(grams=original)
        if least == most:
            return [found[original]]
    width = far * max(float(items.scale[i]), now)
    low, high = max(now - width, float(items.least_used[i]), least, TRACE), min(now + width, most)
    if low <= high:
        line = amount.line
        for one in measurable(
            low,
            high,
            amount.measures,
            system,
            _written(line.amount) if line else None,
            prep=line.prep if line else "",
        ):
            if not any(abs(one.grams - grams) < TRACE for grams in found):
                found[one.grams] = _Candidate(grams=one.grams, household=one)
    if least <= 0.0 and (amount.swap is not None or now - width <= 0.0):
        found[0.0] = _Candidate(grams=0.0)
    if not found:
        found[0.0] = _Candidate(grams=float(answer.grams[i]))
    return sorted(found.values(), key=lambda one: one.grams)


def _cost(answer: Answer, i: int, one: _Candidate) -> float:
    """Return what an amount costs: how far it is off, its scoops, and moving what may stay [1]."""
    items, exact, scale = answer.items, float(answer.exact[i]), float(answer.items.scale[i])
    off = abs(one.grams - exact) / scale
    if one.household is not None:
        fine = one.household.fine or one.grams < SLIVER * scale
        off += SCOOP * one.household.scoops + FINE * fine
    original = float(items.original[i])
    stays = abs(exact - original) <= TRACE
    if not stays or abs(one.grams - original) <= TRACE:
        return off
    return off + (NEW_SWAP if i >= len(items.lines) else NEW_CHANGE)


def _gives(row: Row, is_goal: bool) -> int:
    if row.quality:
        return NEVER
    if is_goal:
        return GOALS
    return HOLDS if row.hold is not None or row.band else NEVER


def _few_swaps(answer: Answer) -> tuple[NDArray[np.int_], int] | None:
    most, lines = answer.brief.max_swaps, len(answer.items.lines)
    return None if most is None else (np.arange(lines, len(answer.items.original)), most)


@lru_cache(maxsize=512)
def _written(amount: str) -> Amount | None:
    try:
        return parse_amount(amount) if amount else None
    except BadInput:
        return None
