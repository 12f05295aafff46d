"""Points for a food's name against a line: 100 where all words fit and none is missing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from reformulate.recipes.matching.aliases import Alias
from reformulate.recipes.matching.form_fit import form_fit
from reformulate.recipes.matching.forms import METHOD, NO_FORM, RINSE, STATE
from reformulate.recipes.matching.names import Index, Known, Name
from reformulate.recipes.matching.query import Query
from reformulate.recipes.matching.words import quoted

_FULL: Final = 100.0
_KNOWN_AS: Final = 9.0
"""What it counts for that cooks are known to call the food so [points]."""
_ALL_WORDS: Final = 3.0
"""What it counts that cooks use just these words, even where the form is another [points]."""
_NEXT_MEANING: Final = 3.0
"""What each further meaning of the same words stands behind the one before [points]."""
_WORD_TOO_MANY: Final = 28.0
_HEAD_WORD_MISSING: Final = 25.0
_FURTHER_WORD_MISSING: Final = 3.0
_MOST_FURTHER: Final = 12.0
_UNUSUAL_WORD: Final = 8.0
"""For a word missing that what is usually meant has not: plain yogurt is not vanilla yogurt."""
_LOOSER_NAME: Final = 15.0
_OF_RELEASE: Final = 6.0
_WORD_ASIDE: Final = 25.0
"""For a word beside the food that the name has: "vinegar, balsamic" [points]."""
_CLEAR: Final = -5.0
"""Points a form may lose before words that are known to mean a food no longer count for it."""
_SAME_IDLE: Final = 3.0
_IDLE_MISSING: Final = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Scored:
    """A food, its points and what is in doubt about it."""

    known: Known
    points: float
    """How well it fits [points]."""
    words: frozenset[str] = frozenset()
    """The words of the name that fits best."""
    doubts: tuple[str, ...] = ()
    """Why it must be asked about; none where it fits."""


def score_food(query: Query, known: Known, index: Index, usual: Known | None = None) -> Scored:
    """Return the points of the food's best name.

    Parameters
    ----------
    query : Query
        The line.
    known : Known
        The food.
    index : Index
        The table's words.
    usual : Known or None
        The food that the words usually mean; its form is meant where the line says nothing.
    """
    usual_form = usual.form if usual else NO_FORM
    fit = form_fit(query.said, query.hinted, known, as_usual=False, usual=usual_form)
    best = Scored(known=known, points=float("-inf"))
    for name in known.names:
        if not name.is_own and not best.doubts:
            break  # its own name fits; a looser one cannot be better
        points, doubts = _name_points(query, known, name, index, usual)
        if points + fit.points > best.points:
            best = Scored(
                known=known,
                points=points + fit.points,
                words=name.words.food,
                doubts=(*doubts, *fit.doubts),
            )
    return best


def _name_points(
    query: Query, known: Known, name: Name, index: Index, usual: Known | None
) -> tuple[float, tuple[str, ...]]:
    words = name.words
    has = query.food | query.aside
    doubts: list[str] = []
    points = _FULL
    unknown = query.food - known.every_word
    if unknown:
        points -= sum(_WORD_TOO_MANY * (0.6 + 0.4 * index.weight.get(w, 1.0)) for w in unknown)
        doubts.append(f"{quoted(unknown)} is not a word of {known.title}")
    missing = name.head - has
    if missing:
        points -= _HEAD_WORD_MISSING * len(missing)
        doubts.append(f"it does not say {quoted(missing)}")
    elif not name.head & query.food:
        doubts.append("the food itself is not named")
    further = words.food - name.head - has
    points -= min(_FURTHER_WORD_MISSING * len(further) * (1 + known.is_release), _MOST_FURTHER)
    if usual is not None and further - usual.every_word:
        points -= _UNUSUAL_WORD
    points += _SAME_IDLE * len(words.idle & query.idle) - _IDLE_MISSING * len(
        words.idle - query.idle
    )
    if not name.is_own:
        points -= _LOOSER_NAME
        doubts.append(f"{known.title} is only near to it")
    if known.is_release:
        points -= _OF_RELEASE
    if not unknown and not missing and name.is_own:
        points += _WORD_ASIDE * len((query.aside - query.food) & words.food)
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
    answered = alias.ask and _answers(query, alias)
    settled = alias.words.form
    fit = form_fit(query.said, query.hinted, known, as_usual=not answered, settled=settled)
    points = _FULL + fit.points + len(alias.words.food) + _ALL_WORDS - _NEXT_MEANING * place
    doubts = tuple(fit.doubts)
    if not answered:
        if not doubts and fit.points > _CLEAR and not _cooked_or_raw(query, known):
            points += _KNOWN_AS
        if alias.ask:
            doubts = (*doubts, "it may mean several things")
    return Scored(known=known, points=points, words=alias.words.food, doubts=doubts)


def _cooked_or_raw(query: Query, known: Known) -> bool:
    """Whether the line has it cooked in the end while this food is raw, or so it seems."""
    hints = query.hinted.get(STATE, frozenset())
    state = known.form.get(STATE, frozenset())
    return "cooked" in hints and not query.as_bought and "cooked" not in state


def applying(query: Query, found: Sequence[Alias]) -> list[Alias]:
    """Return the aliases that the line says in full, without those that another says and more."""
    said = [alias for alias in found if _says(query, alias)]
    return [alias for alias in said if not any(_says_more(other, alias) for other in said)]


def _says(query: Query, alias: Alias) -> bool:
    if not alias.words.idle <= query.idle:
        return False
    for axis, values in alias.words.form.items():
        if axis in query.said:
            if not values <= query.said[axis]:
                return False
        elif axis != STATE or not values <= query.telling:
            # "drained" chickpeas are canned ones; nothing else is taken for said.
            return False
    return True


def _answers(query: Query, alias: Alias) -> bool:
    """Whether the form the line says answers what the alias asks: "dried" of rosemary."""
    if query.said.keys() - alias.words.form.keys() - {RINSE, METHOD}:
        return True
    return STATE not in alias.words.form and bool(query.telling)


def _says_more(one: Alias, other: Alias) -> bool:
    axes, others = one.words.form.items(), other.words.form.items()
    more_idle = one.words.idle >= other.words.idle
    return more_idle and axes >= others and (axes > others or one.words.idle > other.words.idle)
