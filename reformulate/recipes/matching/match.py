"""The foods a line may mean, best first, and whether to ask."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType
from typing import Final

from reformulate.foods import FoodTable
from reformulate.recipes.matching.aliases import Alias, aliases_by_words
from reformulate.recipes.matching.form_fit import form_fit
from reformulate.recipes.matching.forms import NO_FORM, STATE
from reformulate.recipes.matching.names import Index, Known, as_written, index_of
from reformulate.recipes.matching.query import Query, query_of
from reformulate.recipes.matching.scoring import Scored, applying, score_alias, score_food
from reformulate.recipes.matching.spelling import spelt
from reformulate.recipes.matching.values import Candidate, Match
from reformulate.recipes.matching.words import LONGEST
from reformulate.recipes.reading import ReadLine

_MOST_SHOWN: Final = 5
_MOST_COMPARED: Final = 200
"""Foods that are looked at closely [count]; those that share the most telling words."""
_LEAST_SHARED: Final = 0.4
"""Telling words that a food shares, of those the best shares [fraction]: cream cheese, not cheese."""
_TEMPERATURE: Final = 5.0
"""Points by which the odds of two foods differ e-fold."""
_NONE_OF_THEM: Final = 71.5
"""Points at which a food is as likely as that the table has none for the line."""
_SURE: Final = 0.85
"""Confidence from which nothing is asked: of the best, and of all foods that are as good as it."""
_MOST_IN_DOUBT: Final = 0.7
"""Confidence of a food about which there is a doubt, at most."""
_SAME_ENERGY: Final = (12.0, 0.12)
"""Foods whose figures differ less are as good as one another: [kcal per 100 g], [fraction]."""
_SAME_SODIUM: Final = (50.0, 0.20)
"""Likewise for sodium: [mg per 100 g], [fraction]."""
_SWAYED: Final = 25.0
"""Points by which a remark may move a food ahead of another."""
_RAW_AS_WELL: Final = 90.0
"""Points from which a raw food stands beside the cooked one that a line may mean."""
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
    chosen = remembered.get(query.name)
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
    others = [one for one in _ranked(query, index) if one.known.row != known.row]
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


def _ranked(query: Query, index: Index) -> list[Scored]:
    """Foods by points, each once."""
    best: dict[int, Scored] = {}
    usual: Known | None = None
    for alias in _called(query):
        rows = [index.by_key[key] for key in alias.foods if key in index.by_key]
        if rows and not alias.ask and usual is None:
            usual = index.foods[rows[0]]
        for place, row in enumerate(rows):
            _keep(best, score_alias(query, alias, index.foods[row], place))
    for row in _sharing_words(query, index):
        _keep(best, score_food(query, index.foods[row], index, usual))
    return sorted(best.values(), key=lambda one: (-one.points, one.known.row))


def _called(query: Query) -> list[Alias]:
    """Return what cooks are known to call by the line's words, its further words first."""
    for words in query.wider:
        found = applying(query, aliases_by_words().get(words, ()))
        if found:
            return found
    return []


def _keep(best: dict[int, Scored], one: Scored) -> None:
    old = best.get(one.known.row)
    if old is not None:
        better = old if old.points >= one.points else one
        one = replace(better, words=old.words | one.words)
    best[one.known.row] = one


def _sharing_words(query: Query, index: Index) -> list[int]:
    shared: dict[int, float] = defaultdict(float)
    for word in query.food:
        weight = index.weight.get(word, 0.0) + 0.01
        for row in index.rows.get(word, ()):
            shared[row] += weight
    least = _LEAST_SHARED * max(shared.values(), default=0.0)
    ranked = sorted(shared.items(), key=lambda pair: (-pair[1], pair[0]))
    return [row for row, weight in ranked[:_MOST_COMPARED] if weight >= least]


def _decided(query: Query, index: Index, misspelt: str) -> Match:
    ranked = _ranked(query, index)
    if not ranked:
        return Match(why=f"No food of the table is called “{query.written}”.")
    odds = [math.exp((one.points - _NONE_OF_THEM) / _TEMPERATURE) for one in ranked]
    total = sum(odds) + 1.0
    best = ranked[0]
    alike = sum(o for o, one in zip(odds, ranked, strict=True) if _as_good(best.known, one.known))
    doubts = [*best.doubts, *([misspelt] if misspelt else [])]
    doubts.extend(_doubts_aside(query, index, ranked))
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


def _doubts_aside(query: Query, index: Index, ranked: Sequence[Scored]) -> Iterator[str]:
    """Yield what the rest of the line says against the best food."""
    best = ranked[0]
    if len(query.whole) > LONGEST:
        yield "only the beginning of the line was looked at"
    company = (query.asides.company & index.rows.keys()) - best.known.every_word - best.words
    if company:
        yield f"{_quoted(company)} may come with it"
    if "cooked" in query.hinted.get(STATE, ()) and "cooked" in best.known.form.get(STATE, ()):
        for other in ranked[1:_MOST_SHOWN]:
            is_raw = "raw" in other.known.form.get(STATE, ()) and other.points > _RAW_AS_WELL
            if is_raw and not _as_good(best.known, other.known):
                yield f"it may be measured raw, as {other.known.title}"
                return
    before = query.before - best.known.every_word - best.words
    if before:
        yield f"{_quoted(before)} is not a word of {best.known.title}"
    habit = form_fit(query.asides.habit, NO_FORM, best.known, as_usual=True)
    if habit.doubts:
        yield f"{habit.doubts[0]} in a remark"
        return
    loose = query.asides.loose - best.known.every_word
    for other in ranked[1:_MOST_SHOWN]:
        says = loose & other.known.names[0].words.food
        if says and other.points > best.points - _SWAYED and not _as_good(best.known, other.known):
            yield f"the line has {_quoted(says)} too"
            return


def _quoted(words: Iterable[str]) -> str:
    return " ".join(f"“{word}”" for word in sorted(words))


def _why(query: Query, ranked: Sequence[Scored], doubts: Sequence[str], *, sure: bool) -> str:
    title = ranked[0].known.title
    if sure:
        return f"“{query.written}” is {title}."
    if doubts:
        return f"“{query.written}” may be {title}, but {'; '.join(dict.fromkeys(doubts))}."
    others = " or ".join(one.known.title for one in ranked[1:3])
    return f"“{query.written}” may be {title}, or {others}: their figures differ."


def _as_good(one: Known, other: Known) -> bool:
    return _near(one.energy, other.energy, *_SAME_ENERGY) and _near(
        one.sodium, other.sodium, *_SAME_SODIUM
    )


def _near(one: float, other: float, least: float, share: float) -> bool:
    if math.isnan(one) or math.isnan(other):
        return math.isnan(one) and math.isnan(other)
    return abs(one - other) <= max(least, share * max(one, other))
