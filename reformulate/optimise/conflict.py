"""Why a brief cannot be met: a smallest set of wishes in conflict, and the ways out; MODEL.md §11."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from reformulate.brief import Brief, brief_problems
from reformulate.errors import BadInput
from reformulate.foods import FoodTable
from reformulate.optimise.closest import Found
from reformulate.optimise.engine import Engine, Outcome, SolverStopped, solve_program
from reformulate.optimise.items import collect_items
from reformulate.optimise.members import Member, members_of, with_slack_for, without
from reformulate.optimise.model import Model, build_model
from reformulate.optimise.swap_choice import choose_swaps, pattern_of, under_pattern
from reformulate.optimise.ways_out import Change, way_out
from reformulate.recipes import Batch

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class WayOut:
    """The smallest change to one wish that lets all the others be kept."""

    member: Member
    words: str
    """What the wish becomes, as a cook reads it."""
    brief: Brief
    """The brief with that change made."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Conflict:
    """Wishes that cannot all be kept although any of them could be left out for the rest."""

    members: tuple[Member, ...]
    """An irreducible set: without any one of them the others can be kept together."""
    ways_out: tuple[WayOut, ...]
    """For each member one change that resolves the whole brief alone, where there is one."""


def find_conflict(batch: Batch, brief: Brief, foods: FoodTable) -> Conflict | None:
    """Return why a brief cannot be met, or None where it can.

    The set is found by a deletion filter: each member in turn is left out for good if the rest is
    still in conflict. Source: J. W. Chinneck and E. W. Dravnieks, Locating minimal infeasible
    constraint sets in linear programs, ORSA Journal on Computing 3 (1991); from memory.

    Raises
    ------
    BadInput
        With every problem of the brief.
    """
    problems = tuple(brief_problems(brief, batch.recipe))
    if problems:
        raise BadInput(problems)
    model = build_model(collect_items(batch, brief, foods), brief, batch.recipe)
    feasible = _Feasibility(model, brief.max_swaps)
    if feasible.without(()):
        return None
    everything = members_of(model, brief)
    left_out: tuple[Member, ...] = ()
    kept: list[Member] = []
    for member in everything:
        if feasible.without((*left_out, member)):
            kept.append(member)
        else:
            left_out = (*left_out, member)
    ways = (_checked(model, member, batch, brief, foods) for member in kept)
    return Conflict(members=tuple(kept), ways_out=tuple(way for way in ways if way is not None))


class _Feasibility:
    """A warm program that only asks whether any amounts keep what is left in."""

    def __init__(self, model: Model, max_swaps: int | None) -> None:
        self._model, self._max_swaps = model, max_swaps
        self._engine = Engine(replace(model.program, cost=np.zeros_like(model.program.cost)))
        self._rows = np.arange(len(model.program.rows), dtype=np.int32)

    def without(self, left_out: tuple[Member, ...]) -> bool:
        """Return whether all but ``left_out`` can be kept together."""
        free = any(member.max_swaps is not None for member in left_out)
        model = replace(self._model, program=without(self._model, left_out))
        found = choose_swaps(model, None if free else self._max_swaps, self._keep)
        return found is not None

    def _keep(self, model: Model) -> Found | None:
        program = model.program
        if np.any(program.row_lower > program.row_upper):
            return None
        self._engine.set_row_limits(self._rows, program.row_lower, program.row_upper)
        self._engine.set_column_limits(program.column_lower, program.column_upper)
        found = self._engine.solve()
        if found.outcome is not Outcome.OPTIMAL:
            return None
        return Found(model=model, x=found.x, cost=(0.0,))


def _checked(
    model: Model, member: Member, batch: Batch, brief: Brief, foods: FoodTable
) -> WayOut | None:
    """Return a member's way out, once the brief it leads to has been found to be met."""
    found = (
        _more_swaps(model, brief)
        if member.max_swaps is not None
        else _way_out_with_swaps(model, member, brief)
    )
    if found is None:
        return None
    words, changed = found
    if tuple(brief_problems(changed, batch.recipe)):
        return None
    solved = build_model(collect_items(batch, changed, foods), changed, batch.recipe)
    if not _Feasibility(solved, changed.max_swaps).without(()):
        return None
    return WayOut(member=member, words=words, brief=changed)


def _more_swaps(model: Model, brief: Brief) -> tuple[str, Brief] | None:
    """Return the least number of swaps that lets all else be kept."""
    for most in range((brief.max_swaps or 0) + 1, len(model.items.swaps) + 1):
        if _Feasibility(model, most).without(()):
            return f"at most {most} swap{'s' if most > 1 else ''}", replace(brief, max_swaps=most)
    return None


def _way_out_with_swaps(model: Model, member: Member, brief: Brief) -> Change | None:
    """Return a member's way out with the swaps in with which it has to give least."""

    def find(under: Model) -> Found | None:
        found = solve_program(with_slack_for(under, member))
        if found.outcome is not Outcome.OPTIMAL:
            return None
        x = found.x[: len(under.program.columns)]
        cost = (found.objective,)
        return Found(model=under, x=x, cost=cost)

    if not model.items.swaps:
        return way_out(model, member, brief)
    try:
        best = choose_swaps(model, brief.max_swaps, find)
    except SolverStopped:
        return None
    if best is None:
        return None
    return way_out(under_pattern(model, pattern_of(best.model, best.x)), member, brief)
