"""What each swap would do: the brief answered with that swap alone, and in use."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from reformulate.brief import Brief, Swap
from reformulate.errors import BadInput, Problem
from reformulate.foods import FoodTable
from reformulate.optimise.answer import Answer
from reformulate.optimise.gives import Stopped
from reformulate.optimise.optimiser import Optimiser
from reformulate.recipes import Batch


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Prospect:
    """One swap with the answer that uses it and no other."""

    swap: Swap
    answer: Answer | None
    """None where the brief cannot be answered with it."""
    problems: tuple[Problem, ...] = ()
    """Why not."""

    @property
    def missed(self) -> float:
        """What the goals are missed by, each as a fraction of its limit [1]."""
        if self.answer is None:
            return float("inf")
        return sum(
            result.misses_by / max(result.goal.highest or 0.0, result.goal.lowest or 0.0, 1e-9)
            for result in self.answer.goals
        )

    @property
    def grams(self) -> float:
        """How much of the swap the answer uses [g]."""
        return 0.0 if self.answer is None else float(self.answer.grams[-1])


def explore(
    batch: Batch,
    brief: Brief,
    foods: FoodTable,
    swaps: Sequence[Swap],
    *,
    progress: Callable[[float], bool] = lambda _: True,
) -> tuple[Prospect, ...]:
    """Return what each swap would do on its own, those first that come nearest to the goals.

    Each is pinned and all others are left out; the amounts are the optimum of that brief.

    Parameters
    ----------
    progress : callable
        Is told the fraction done; returns False to give up.

    Raises
    ------
    Stopped
        If ``progress`` said so.
    """
    found = []
    for number, swap in enumerate(swaps):
        if not progress(number / len(swaps)):
            raise Stopped("Given up.")
        alone = replace(brief, swaps=(replace(swap, allowed=True, pinned=True),), max_swaps=None)
        try:
            answer = Optimiser(batch, alone, foods).answer(alone, reach=False)
        except BadInput as error:
            found.append(Prospect(swap=swap, answer=None, problems=error.problems))
        else:
            found.append(Prospect(swap=swap, answer=answer))
    return tuple(sorted(found, key=_order))


def _order(prospect: Prospect) -> tuple[float, float]:
    answer = prospect.answer
    return round(prospect.missed, 4), float("inf") if answer is None else answer.changes
