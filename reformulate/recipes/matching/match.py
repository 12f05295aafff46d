"""The foods a line may mean, best first, and whether to ask."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

from reformulate.foods import FoodTable
from reformulate.recipes.matching.doubts import as_good, doubts_aside
from reformulate.recipes.matching.names import Index, Known, as_written, index_of
from reformulate.recipes.matching.query import Query, query_of
from reformulate.recipes.matching.ranking import rank
from reformulate.recipes.matching.scoring import Scored
from reformulate.recipes.matching.spelling import spelt
from reformulate.recipes.matching.values import Candidate, Match
from reformulate.recipes.matching.words import LONGEST
from reformulate.recipes.reading import ReadLine

_MOST_SHOWN: Final = 5
_TEMPERATURE: Final = 5.0
"""Points by which the odds of two foods differ e-fold."""
_NONE_OF_THEM: Final = 71.5
"""Points at which a food is as likely as that the table has none for the line."""
_SURE: Final = 0.85
"""Confidence from which nothing is asked: of the best, and of all foods that are as good as it."""
_MOST_IN_DOUBT: Final = 0.7
"""Confidence of a food about which there is a doubt, at most."""
_NOTHING: Final[Mapping[str, str]] = MappingProxyType({})


def match_food(
    line: ReadLine | str, foods: FoodTable, remembered: Mapping[str, str] = _NOTHING
) -> Match:
    """Return the foods that a line may mean; never fails.

    Parameters
    ----------
    line : ReadLine or str
        A line that was read, or its text; a food's name alone will do.
    foods : FoodTable
        The foods to choose from.
    remembered : mapping
        Food keys by the name that `name_to_remember` gives: choices a person made before. They
        win.

    Returns
    -------
    Match
        Up to five foods. It is sure where every word is accounted for, nothing in the line
        speaks against the food, and no other food with other figures is nearly as likely.

    Examples
    --------
    >>> from reformulate.foods import food_table
    >>> match = match_food("2 tbsp extra-virgin olive oil", food_table())
    >>> match.food, match.sure
    ('oil-olive', True)
    """
    index = index_of(foods)
    query = query_of(line)
    chosen = remembered.get(query.name) if query.name else None
    if chosen is not None and chosen in foods:
        known = index.foods[foods.index(chosen)]
        return _given(index, query, known, f"You chose {known.title} for “{query.written}” before.")
    named = index.exact.get(as_written(query.whole)) if len(query.whole) <= LONGEST else None
    if named is not None:
        known = index.foods[named]
        return _given(index, query, known, f"{known.title}: the food's own name.")
    if not query.food and not query.said:
        return Match(why="The line names no food.")
    query, misspelt = spelt(query, index)
    return _decided(query, index, misspelt)


def name_to_remember(line: ReadLine | str) -> str:
    """Return the name under which a person's choice of food for a line is remembered."""
    return query_of(line).name


def _given(index: Index, query: Query, known: Known, why: str) -> Match:
    others = [one for one in rank(query, index) if one.known.row != known.row]
    first = Candidate(food=known.key, score=100.0, confidence=1.0)
    return Match(
        ranked=(
            first,
            *(
                Candidate(food=one.known.key, score=min(one.points, 99.0), confidence=0.0)
                for one in others[: _MOST_SHOWN - 1]
            ),
        ),
        sure=True,
        why=why,
    )


def _decided(query: Query, index: Index, misspelt: str) -> Match:
    ranked = rank(query, index)
    if not ranked:
        return Match(why=f"No food of the table is called “{query.written}”.")
    odds = [math.exp((one.points - _NONE_OF_THEM) / _TEMPERATURE) for one in ranked]
    total = sum(odds) + 1.0
    best = ranked[0]
    alike = sum(o for o, one in zip(odds, ranked, strict=True) if as_good(best.known, one.known))
    doubts = [*best.doubts, *([misspelt] if misspelt else [])]
    doubts.extend(doubts_aside(query, index, ranked))
    sure = not doubts and alike / total >= _SURE
    candidates = tuple(
        Candidate(
            food=one.known.key,
            score=min(one.points, 100.0),
            confidence=min(o / total, _MOST_IN_DOUBT if one.doubts or misspelt else 1.0),
        )
        for o, one in zip(odds[:_MOST_SHOWN], ranked[:_MOST_SHOWN], strict=True)
    )
    return Match(ranked=candidates, sure=sure, why=_why(query, ranked, doubts, sure=sure))


def _why(query: Query, ranked: Sequence[Scored], doubts: Sequence[str], *, sure: bool) -> str:
    title = ranked[0].known.title
    if sure:
        return f"“{query.written}” is {title}."
    if doubts:
        return f"“{query.written}” may be {title}, but {'; '.join(dict.fromkeys(doubts))}."
    others = " or ".join(one.known.title for one in ranked[1:3])
    return f"“{query.written}” may be {title}, or {others}: their figures differ."
