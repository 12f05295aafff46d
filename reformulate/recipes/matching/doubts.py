"""What speaks against the best food of a line although its name fits."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from reformulate.recipes.matching.form_fit import form_fit
from reformulate.recipes.matching.forms import NO_FORM, STATE
from reformulate.recipes.matching.names import Index, Known
from reformulate.recipes.matching.query import Query
from reformulate.recipes.matching.scoring import Scored
from reformulate.recipes.matching.words import LONGEST, quoted

_SHOWN: Final = 5
"""Foods among which a remark may decide [count]."""
_SWAYED: Final = 25.0
"""Points by which a remark may move a food ahead of another."""
_RAW_AS_WELL: Final = 90.0
"""Points from which a raw food and a cooked one may both be meant."""
_SAME_ENERGY: Final = (12.0, 0.12)
"""Foods whose figures differ less are as good as one another: [kcal per 100 g], [fraction]."""
_SAME_SODIUM: Final = (50.0, 0.20)
"""Likewise for sodium: [mg per 100 g], [fraction]."""


def doubts_aside(query: Query, index: Index, ranked: Sequence[Scored]) -> Iterator[str]:
    """Yield what the rest of the line says against the best food."""
    best = ranked[0]
    if len(query.whole) > LONGEST:
        yield "only the beginning of the line was looked at"
    company = (query.asides.company & index.rows.keys()) - best.known.every_word - best.words
    if company:
        yield f"{quoted(company)} may come with it"
    if query.by_volume and "cooked" in query.hinted.get(STATE, ()):
        near = [one.known for one in ranked[:_SHOWN] if one.points > _RAW_AS_WELL]
        states = frozenset[str]().union(*(known.form.get(STATE, ()) for known in near))
        if {"raw", "cooked"} <= states:
            yield "it may be measured raw or cooked"
    before = query.before - best.known.every_word - best.words
    if before:
        yield f"{quoted(before)} is not a word of {best.known.title}"
    habit = form_fit(query.asides.habit, NO_FORM, best.known, as_usual=True)
    if habit.doubts:
        yield f"{habit.doubts[0]} in a remark"
        return
    loose = query.asides.loose - best.known.every_word
    for other in ranked[1:_SHOWN]:
        says = loose & other.known.names[0].words.food
        if says and other.points > best.points - _SWAYED and not as_good(best.known, other.known):
            yield f"the line has {quoted(says)} too"
            return


def as_good(one: Known, other: Known) -> bool:
    """Whether two foods differ too little in energy and sodium to ask between them."""
    return _near(one.energy, other.energy, *_SAME_ENERGY) and _near(
        one.sodium, other.sodium, *_SAME_SODIUM
    )


def _near(one: float, other: float, least: float, share: float) -> bool:
    if math.isnan(one) or math.isnan(other):
        return math.isnan(one) and math.isnan(other)
    return abs(one - other) <= max(least, share * max(one, other))
