"""One amount for each item, chosen so that all limits hold and all together is nearest; MODEL.md §14."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from time import monotonic
from typing import Final

import numpy as np
from numpy.typing import NDArray

from reformulate.errors import ReformulateError
from reformulate.optimise.choice_search import SAME, Found, Patience, search
from reformulate.optimise.choice_task import Task
from reformulate.optimise.engine import SolverStopped
from reformulate.optimise.weighable import TOLERANCE

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int_]

SECONDS: Final = 5.0
"""How long a choice may be looked for before the best so far has to do [s]; 0.01 is usual."""

PARTS: Final = 20
"""Parts looked at for a choice that keeps all limits before what gives is made least [count]."""

WIDER_PARTS: Final = 400
"""The same among wider options [count]: half a second or so, on any machine the same answer."""

WITHIN: Final = 0.9 * TOLERANCE
"""How far outside a limit the search still counts as within [row unit]. The rest of the tolerance is left
to the order in which a row is summed."""


class NoChoice(ReformulateError):  # noqa: N818
    """No choice keeps the limits that never give way."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Options:
    """The amounts one item may have."""

    grams: FloatArray
    """(k,) rising [g]."""
    cost: FloatArray
    """(k,) what each costs, 0 or more [1]."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Choice:
    """One option for each item."""

    pick: IntArray
    """(n,) number of the option taken for each item [index]."""
    grams: FloatArray
    """(n,) what it weighs [g]."""
    gives: FloatArray
    """(m,) how far each row misses its limits, as a fraction of its size [1]; all 0 if none has to."""
    objective: float
    """What the options taken cost together [1]."""
    bound: float
    """No choice that gives as little costs less than this, 1e-9 aside [1]."""
    proven: bool
    """True where no other choice gives less, or gives as little and costs less."""
    is_wider: bool = False
    """True where ``pick`` counts among the wider options."""


def choose(
    options: Sequence[Options],
    rows: FloatArray,
    lower: FloatArray,
    upper: FloatArray,
    size: FloatArray,
    gives: NDArray[np.int_],
    *,
    wider: Callable[[], Sequence[Options]] | None = None,
    at_most_used: tuple[IntArray, int] | None = None,
    stop: Callable[[], bool] | None = None,
    seconds: float = SECONDS,
) -> Choice | None:
    """Choose one option for each item so that every limit is kept and the costs together are least.

    Where no choice keeps every limit, rows give way: what the rows of level 1 give, as fractions of
    their sizes, is together made least, then what those of level 2 give, and so on; the nearest choice
    among those that give so little is taken. Equal input gives an equal choice.

    Parameters
    ----------
    options : (n,) sequence of Options
    rows : (m, n) [scaled row unit per g]
    lower, upper : (m,) [scaled row unit]
        -inf and inf for none. A row may be outside by `TOLERANCE`.
    size : (m,) [scaled row unit]
        What counts as missing a limit wholly.
    gives : (m,) level of each row
        0 for never, 1 for last, 2 and more for sooner.
    wider : callable, optional
        Gives more options, among them all of these. It is asked for them before any row gives way: if a
        choice among them keeps every limit, the cheapest of those is taken.
    at_most_used : (items, most), optional
        How many of the numbered items may have more than no grams [count].
    stop : callable, optional
        Is asked every few milliseconds whether nobody waits any more.
    seconds : float
        After this the best choice so far is returned, with the bound that is proven so far [s].

    Returns
    -------
    Choice or None
        None if ``stop`` said so.

    Raises
    ------
    ValueError
        If there are no items, or one without options.
    NoChoice
        If rows of level 0 exclude each other.
    SolverStopped
        If the time was up before any choice was found.
    """
    limited = np.isfinite(lower) | np.isfinite(upper)
    task = _task(options, rows[limited], lower[limited], upper[limited], at_most_used)
    patience = Patience(until=monotonic() + seconds, stop=stop or _never)
    # Nearly always there is a choice that keeps every limit, and a first look finds it.
    found = search(task, None, replace(patience, parts=PARTS))
    proven = True
    is_wider = False
    if found.pick is None and not found.stopped and wider is not None:
        more = wider()
        further = _task(more, rows[limited], lower[limited], upper[limited], at_most_used)
        there = search(further, None, replace(patience, parts=WIDER_PARTS))
        is_wider = there.pick is not None
        if is_wider or there.stopped:
            options, found = more, there
    if found.pick is None and not found.stopped:
        extra = len(task.lower) - np.count_nonzero(limited)
        levels = np.append(gives[limited], np.zeros(extra, dtype=int))
        sizes = np.append(size[limited], np.ones(extra))
        found, proven = _nearest(task, levels, sizes, patience)
    if found.stopped:
        return None
    if found.pick is None and found.bound < np.inf:
        raise SolverStopped("No choice of amounts was found in the time there was.")
    if found.pick is None:
        raise NoChoice("No choice of amounts keeps the limits that never give way.")
    grams = np.array([one.grams[at] for one, at in zip(options, found.pick, strict=True)])
    sums = rows @ grams
    misses = np.maximum(lower - sums, sums - upper)
    return Choice(
        pick=found.pick,
        grams=grams,
        gives=np.where(misses > TOLERANCE, misses, 0.0) / size,
        objective=found.cost,
        bound=min(found.bound, found.cost),
        proven=proven and found.proven,
        is_wider=is_wider,
    )


def _never() -> bool:
    return False


def _task(
    options: Sequence[Options],
    rows: FloatArray,
    lower: FloatArray,
    upper: FloatArray,
    at_most_used: tuple[IntArray, int] | None,
) -> Task:
    """Return the task in which every limit is a must."""
    counts = np.array([len(one.grams) for one in options], dtype=int)
    if not len(counts) or not counts.all():
        raise ValueError("there has to be an item, and each needs an option")
    item = np.repeat(np.arange(len(options)), counts)
    grams = np.concatenate([one.grams for one in options])
    cost = np.concatenate([one.cost for one in options])
    adds = rows[:, item] * grams
    least, most = lower - WITHIN, upper + WITHIN
    if at_most_used is not None:
        items, count = at_most_used
        adds = np.vstack([adds, np.isin(item, items) & (grams > 0.0)])
        least, most = np.append(least, -np.inf), np.append(most, count + 0.5)
    return Task(
        first=np.cumsum(counts) - counts,
        item=item,
        grams=grams,
        cost=cost,
        guide=cost,
        adds=adds,
        lower=least,
        upper=most,
        price=np.full(len(least), np.inf),
        shares=np.zeros((0, len(least))),
        most=np.zeros(0),
    )


def _nearest(
    task: Task, levels: IntArray, sizes: FloatArray, patience: Patience
) -> tuple[Found, bool]:
    """Find the cheapest of the choices that give least, and whether they are proven to give least."""
    proven, pick = True, None
    for level in np.unique(levels[levels > 0]):
        here, later = levels == level, levels > level
        giving = replace(
            task,
            cost=np.zeros_like(task.cost),
            lower=np.where(later, -np.inf, task.lower),
            upper=np.where(later, np.inf, task.upper),
            price=np.where(here, 1.0 / sizes, np.where(later, 0.0, task.price)),
        )
        found = search(giving, pick, patience)
        if found.pick is None or found.stopped:
            return found, False
        proven, pick = proven and found.proven, found.pick
        if found.cost > 0.0:
            # A row is outside by more than `WITHIN` before it counts as missed: what is missed in
            # more rows looks like less by so much, and is no less.
            slack = WITHIN * float((1.0 / sizes[here]).sum())
            task = replace(
                task,
                price=np.where(here, 0.0, task.price),
                shares=np.vstack([task.shares, np.where(here, 1.0 / sizes, 0.0)]),
                most=np.append(task.most, found.cost + SAME + slack),
            )
    return search(task, pick, patience), proven
