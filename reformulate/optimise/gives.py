"""What gives: how the amounts move when a binding limit moves a little, and how far that stays true."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import Brief
from reformulate.errors import ReformulateError
from reformulate.foods import FoodTable
from reformulate.optimise.exact import Exact
from reformulate.optimise.levers import Lever, levers_of
from reformulate.optimise.model import Model
from reformulate.optimise.optimiser import Optimiser
from reformulate.recipes import Batch

FloatArray = NDArray[np.float64]
Solve = Callable[[Model], FloatArray | None]

HALVINGS: Final = 30
"""How often a stretch is halved in search of where the amounts stop moving straight [count]."""

DOUBLINGS: Final = 12
"""How often a straight stretch is doubled [count]."""

STRAIGHT: Final = 1e-6
"""How far amounts may be from a straight line and still count as on it [g per batch of 1 kg]."""

FINE: Final = 1e-4
"""How near the end of a straight stretch is found [fraction of a step]."""


class Stopped(ReformulateError):  # noqa: N818
    """Work was given up because nobody waits for it any more."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Give:
    """How an optimum moves with one of its limits."""

    lever: Lever
    grams: FloatArray
    """(n,) change of each item for one step [g]; nan where not even a little more can be had."""
    per_serving: FloatArray
    """(39,) change of each quantity per serving for one step [its unit]."""
    low: float
    """The limit from which this holds [the limit's unit]."""
    high: float
    """The limit up to which it holds [the limit's unit]."""

    @property
    def possible(self) -> bool:
        """False where the limit cannot be moved that way at all."""
        return bool(np.isfinite(self.grams).all())


def what_gives(
    batch: Batch,
    brief: Brief,
    foods: FoodTable,
    *,
    progress: Callable[[float], bool] = lambda _: True,
) -> tuple[Give, ...]:
    """Return what each binding goal and hold of a brief costs near its optimum.

    Every figure comes from solving the brief again with the limit moved, never from prices alone.
    The swaps in use stay those of the optimum.

    Parameters
    ----------
    progress : callable
        Is told the fraction done; returns False to give up.

    Returns
    -------
    tuple of Give
        Empty where the musts conflict: then nothing is optimal that could give.

    Raises
    ------
    BadInput
        With every problem of the brief.
    Stopped
        If ``progress`` said so.
    """
    optimiser = Optimiser(batch, brief, foods)
    exact = optimiser.exact(brief)
    if exact.relaxed is not None:
        return ()
    levers = levers_of(exact, brief)
    found = []
    for number, lever in enumerate(levers):
        if not progress(number / len(levers)):
            raise Stopped("Given up.")
        give = _give(exact, lever, optimiser.amounts_near)
        if give is not None:
            found.append(give)
    return tuple(found)


def _give(exact: Exact, lever: Lever, solve: Solve) -> Give | None:
    """Return how the optimum moves with a lever; None where it does not move."""
    line = _Line(exact, lever, solve)
    length = line.straight(lever.step)
    items, servings = exact.model.items, exact.model.recipe.servings
    if length is None:
        nothing = np.full(len(items.original), np.nan)
        return Give(
            lever=lever,
            grams=nothing,
            per_serving=np.full(items.per_gram.shape[1], np.nan),
            low=lever.limit,
            high=lever.limit,
        )
    slope = line.slope(length)
    if np.abs(slope * lever.step).max() <= STRAIGHT * line.size:
        return None
    ends = (line.end(length, slope), line.end(-length, slope))
    grams = slope * abs(lever.step) * np.sign(lever.step)
    return Give(
        lever=lever,
        grams=grams,
        per_serving=grams @ items.per_gram / servings,
        low=lever.limit + min(ends),
        high=lever.limit + max(ends),
    )


class _Line:
    """The optimum as a function of one limit, near where the limit stands."""

    def __init__(self, exact: Exact, lever: Lever, solve: Solve) -> None:
        self._model, self._lever, self._solve = exact.model, lever, solve
        self._here = exact.grams
        self.size = max(float(exact.model.items.original.sum()) / 1000.0, 1e-3)

    def straight(self, step: float) -> float | None:
        """Return a stretch from here on which the amounts move straight, None where there is none."""
        length = step
        for _ in range(HALVINGS):
            far, middle = self._at(length), self._at(length / 2)
            if far is not None and middle is not None:
                bend = np.abs((self._here + far) / 2 - middle).max()
                if bend <= STRAIGHT * self.size:
                    return length
            if abs(length) < FINE * abs(step):
                return None
            length /= 2
        return None

    def slope(self, length: float) -> FloatArray:
        """(n,) change per unit of the limit, from a straight stretch [g per unit]."""
        far = self._at(length)
        if far is None:
            raise ValueError("not on a straight stretch")
        change: FloatArray = (far - self._here) / length
        return change

    def end(self, length: float, slope: FloatArray) -> float:
        """Return how far the amounts go on straight in the direction of ``length`` [limit's unit]."""
        good = 0.0
        reach = length
        for _ in range(DOUBLINGS):
            if not self._on(reach, slope):
                break
            good, reach = reach, reach * 2
        else:
            return good
        bad = reach
        while abs(bad - good) > FINE * abs(self._lever.step):
            middle = (good + bad) / 2
            if self._on(middle, slope):
                good = middle
            else:
                bad = middle
        return good

    def _on(self, by: float, slope: FloatArray) -> bool:
        found = self._at(by)
        if found is None:
            return False
        off = np.abs(found - self._here - by * slope).max()
        return bool(off <= STRAIGHT * self.size * (1.0 + abs(by / self._lever.step)))

    def _at(self, by: float) -> FloatArray | None:
        if self._lever.limit + by < 0.0:
            return None
        return self._solve(self._lever.move(self._model, by))
