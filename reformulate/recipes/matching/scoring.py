"""Points for a food's name against a line: 100 where all words fit and none is missing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from reformulate.recipes.matching.aliases import Alias
from reformulate.recipes.matching.form_fit import form_fit
from reformulate.recipes.matching.forms import METHOD, NO_FORM, RINSE, STATE, Form
from reformulate.recipes.matching.names import Index, Known, Name
from reformulate.recipes.matching.query import Query

_FULL: Final = 100.0
_KNOWN_AS: Final = 12.0
"""What it counts for that cooks are known to call the food so [points]."""
_NEXT_MEANING: Final = 3.0
"""What each further meaning of the same words stands behind the one before [points]."""
_WORD_TOO_MANY: Final = 25.0
_HEAD_WORD_MISSING: Final = 25.0
_FURTHER_WORD_MISSING: Final = 3.0
_MOST_FURTHER: Final = 12.0
_LOOSER_NAME: Final = 15.0
_OF_RELEASE: Final = 6.0
_TELLING_HINTS: Final = frozenset({"canned", "raw"})
"""Hints at a state that answer what would have to be asked; that it is cooked, later, does not."""
_SAME_IDLE: Final = 3.0
_IDLE_MISSING: Final = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Scored:
    """A food, its points and what is in doubt about it."""

    known: Known
    points: float
    doubts: tuple[str, ...] = ()
    """Why it must be asked about; none where it fits."""


def score_food(query: Query, known: Known, index: Index, usual: Form = NO_FORM) -> Scored:
    """Return the points of the food's best name.

    Parameters
    ----------
    query : Query
        The line.
    known : Known
        The food.
    index : Index
        The table's words.
    usual : Form
        The form that is meant where the line says nothing.
    """
    fit = form_fit(query.said, query.hinted, known, as_usual=False, usual=usual)
    best = Scored(known=known, points=float("-inf"))
    for name in known.names:
        points, doubts = _name_points(query, known, name, index)
        if points + fit.points > best.points:
            best = Scored(
                known=known, points=points + fit.points, doubts=(*doubts, *fit.doubts)
            )
    return best


def _name_points(
    query: Query, known: Known, name: Name, index: Index
) -> tuple[float, tuple[str, ...]]:
    words = name.words
    has = query.food | query.aside
    doubts: list[str] = []
    points = _FULL
    unknown = query.food - known.every_word
    if unknown:
        points -= sum(_WORD_TOO_MANY * (0.5 + 0.5 * index.weight.get(w, 1.0)) for w in unknown)
        doubts.append(f"{_quoted(unknown)} is not a word of {known.title}")
    missing = name.head - has
    if missing:
        points -= _HEAD_WORD_MISSING * len(missing)
        doubts.append(f"it does not say {_quoted(missing)}")
    elif not name.head & query.food:
        doubts.append("the food itself is not named")
    further = words.food - name.head - has
    points -= min(_FURTHER_WORD_MISSING * len(further), _MOST_FURTHER)
    points += _SAME_IDLE * len(words.idle & query.idle) - _IDLE_MISSING * len(words.idle - query.idle)
    if not name.is_own:
        points -= _LOOSER_NAME
        doubts.append(f"{known.title} is only near to it")
    if known.is_release:
        points -= _OF_RELEASE
    # Between foods that share only some words, the rarer word tells more.
    points += sum(index.weight.get(word, 0.0) for word in query.food & words.food)
    return points, tuple(doubts)


def score_alias(query: Query, alias: Alias, known: Known, place: int) -> Scored:
    """Return the points of a food that the line's words are known to mean.

    Parameters
    ----------
    query : Query
        The line.
    alias : Alias
        One that `applying` gave for it.
    known : Known
        One of the foods it means.
    place : int
        0 for the likeliest of them, 1 for the next.
    """
    fit = form_fit(query.said, query.hinted, known, as_usual=True, settled=alias.words.form)
    points = _FULL + fit.points + len(alias.words.food)
    if not fit.doubts:
        points += _KNOWN_AS - _NEXT_MEANING * place
    doubts = (*fit.doubts, "it may mean several things") if alias.ask else tuple(fit.doubts)
    return Scored(known=known, points=points, doubts=doubts)


def applying(query: Query, found: Sequence[Alias]) -> list[Alias]:
    """Return the aliases that the line says in full, without those that another says and more."""
    said = [alias for alias in found if _says(query, alias)]
    return [
        alias for alias in said if not any(_says_more(other, alias) for other in said)
    ]


def _says(query: Query, alias: Alias) -> bool:
    if not alias.words.idle <= query.idle:
        return False
    hints = query.hinted.get(STATE, frozenset())
    for axis, values in alias.words.form.items():
        if axis in query.said:
            if not values <= query.said[axis]:
                return False
        elif axis != STATE or not values <= hints & _TELLING_HINTS:
            # "drained" chickpeas are canned ones; nothing else is taken for said.
            return False
    if alias.ask:
        # What has to be asked of "rosemary" is answered by "dried rosemary".
        further = query.said.keys() - alias.words.form.keys() - {RINSE, METHOD}
        return not further and (STATE in alias.words.form or not hints & _TELLING_HINTS)
    return True


def _says_more(one: Alias, other: Alias) -> bool:
    axes, others = one.words.form.items(), other.words.form.items()
    more_idle = one.words.idle >= other.words.idle
    return more_idle and axes >= others and (axes > others or one.words.idle > other.words.idle)


def _quoted(words: frozenset[str]) -> str:
    return " ".join(f"“{word}”" for word in sorted(words))
