"""What a line asks for: its words sorted, what it says and what it only hints at."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Final

from reformulate.measures import SYSTEMS, grams_per, millilitres
from reformulate.recipes.matching.aliases import alias_words, aliases_by_words
from reformulate.recipes.matching.asides import Asides, asides_of, without_packs
from reformulate.recipes.matching.forms import (
    FAT,
    NO_FORM,
    PACK,
    RINSE,
    SALT,
    SMOKE,
    STATE,
    SWEET,
    Form,
    form_of,
    says,
)
from reformulate.recipes.matching.idle_words import IDLE
from reformulate.recipes.matching.text import Sorted, sorted_words
from reformulate.recipes.matching.words import LONGEST, words_of
from reformulate.recipes.reading import ReadLine, read_line
from reformulate.recipes.reading.slips import as_meant

_NONE: Final[frozenset[str]] = frozenset()
_WRITTEN_APART: Final = (FAT, SALT, SWEET, PACK)
"""Said in several words, wherever in the line they stand: "ricotta, part skim"."""
_SAID_ASIDE: Final = frozenset({SMOKE, RINSE})
"""What counts as said in a remark as well."""
_STATES_ASIDE: Final = frozenset({"raw", "canned", "dried", "frozen", "pickled"})
"""States likewise; but beef that is "cooked and drained" was weighed raw, or not: a hint."""
_APART: Final = frozenset({"and", "or", "plus", "n"})
_FRESH_UNITS: Final = frozenset({"sprig", "bunch", "leaf", "stalk", "ear"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Query:
    """A line's words, ready to be compared with the names of foods."""

    written: str
    """The words of the food as written, for messages."""
    name: str
    """The food's own words in one form, for remembering a choice."""
    whole: str
    """Everything that may be a food's name in full."""
    food: frozenset[str]
    """Words that name the food."""
    aside: frozenset[str]
    """Further words of the line that may name it."""
    asides: Asides
    before: frozenset[str]
    """Words before the food in its own segment that name neither it nor its form."""
    idle: frozenset[str]
    said: Form
    hinted: Form
    telling: frozenset[str]
    """The hints at a state that answer what would have to be asked."""
    as_bought: bool
    """Whether the amount is a mass or a count: of the raw food, where it is cooked later."""
    by_volume: bool
    """Whether it is a volume, of which cooked food weighs more."""

    @property
    def wider(self) -> tuple[frozenset[str], ...]:
        """The food's words with those of one or all further segments, the fullest first."""
        sets = [self.food | self.aside, self.food | self.asides.company]
        sets.extend(self.food | segment.food for segment in self.asides.told)
        return tuple(dict.fromkeys(sorted(sets, key=len, reverse=True)))


def query_of(line: ReadLine | str) -> Query:
    """Sort a line that was read, or a text: an ingredient line or a name alone."""
    read = read_line(line) if isinstance(line, str) else line
    written = read.match_text or read.food_text
    words = _in_a_phrase(written, as_meant(read.text)) or words_of(written)
    main = sorted_words(words)
    asides = asides_of(read)
    # What was left of a phrase when a word of it was taken for something else is no food:
    # the grain of long-grain rice, the oil of oil-packed tomatoes.
    written_so = asides.every | ({"juice"} if read.juice_of else _NONE)
    food = (main.food & written_so) or main.food
    if not food and asides.told:
        food = asides.told[0].food
    main = replace(main, food=food)
    remarks = sorted_words(words_of(without_packs(f"{read.prep}, {read.comment}")))
    said, hinted = _forms(read, words, main, remarks, asides)
    aside = remarks.food.union(*(segment.food for segment in asides.told)) - main.food
    idle = main.idle.union(remarks.idle, *(segment.idle for segment in asides.told))
    if read.unit == "piece" and main.food == {"pepper"}:
        idle |= {"peppers"}  # what is counted is a vegetable, not the spice
    mass = grams_per(read.pack.unit if read.pack is not None else read.unit) is not None
    by_volume = millilitres(read.unit, SYSTEMS["us"]) is not None
    hints = hinted.get(STATE, _NONE)
    return Query(
        written=written,
        name=_remembered_name(words, main.food, aside, idle, said, hinted),
        whole=line if isinstance(line, str) else read.text,
        food=main.food,
        aside=aside - asides.loose,
        asides=asides,
        before=_before(asides, main.food) - frozenset(words_of(read.comment)) - _amount(read),
        idle=idle,
        said=said,
        hinted=hinted,
        telling=hints & ({"canned", "raw"} if mass else {"canned", "raw", "cooked"}),
        as_bought=mass or (read.unit != "" and not by_volume),
        by_volume=by_volume,
    )


def _amount(read: ReadLine) -> frozenset[str]:
    """Return the words of the amounts: one pound, a few grinds."""
    return frozenset(words_of(" ".join((*read.quantities, *read.units, read.unit_text))))


def _in_a_phrase(written: str, text: str) -> tuple[str, ...]:
    """Return the food's words where the one before them makes a name with them, else none.

    Reading sets apart what was done to a food; but crushed red pepper is no red pepper.
    """
    found = re.search(rf"([^\W\d_]+) +{re.escape(written)}", text[:LONGEST], re.IGNORECASE)
    if not written or found is None:
        return ()
    joined = words_of(found[0])
    return () if joined == (*words_of(found[1]), *words_of(written)) else joined


def _forms(
    read: ReadLine, words: tuple[str, ...], main: Sorted, remarks: Sorted, asides: Asides
) -> tuple[Form, Form]:
    """Return what the line says of the food's form, and what it only hints at."""
    said = dict(main.form)
    hinted: dict[str, frozenset[str]] = {}
    if _cooked_later(words):
        hinted[STATE] = said.pop(STATE)
    for axis, values in _cooked_before(asides, main.food).items():
        said[axis] = said.get(axis, _NONE) | values
    for axis in _WRITTEN_APART:
        told = _NONE.union(*(segment.form.get(axis, _NONE) for segment in asides.told))
        if told or axis in said:
            said[axis] = told or said[axis]
    for axis, values in remarks.form.items():
        strong = values & _STATES_ASIDE if axis == STATE else values
        if axis in said:
            # "roasted red peppers, drained" is drained as well.
            if axis == RINSE:
                said[axis] |= values
        elif axis in _SAID_ASIDE or (axis == STATE and strong):
            said[axis] = strong
        elif axis not in _WRITTEN_APART:
            hinted[axis] = hinted.get(axis, _NONE) | values
    hints = _state_hints(read, said, hinted)
    if hints:
        hinted[STATE] = hints
    return said, hinted


def _state_hints(read: ReadLine, said: Form, hinted: Form) -> frozenset[str]:
    """Return the states that a line hints at where it says none."""
    if STATE in said:
        return _NONE
    hints = hinted.get(STATE, _NONE)
    if RINSE in said and "cooked" not in hints:
        hints |= {"canned"}
    return hints | {"raw"} if read.unit in _FRESH_UNITS else hints


def _cooked_later(words: tuple[str, ...]) -> bool:
    """Whether cooking is named after the food, as a step: "bacon, cooked and crumbled"."""
    states = [at for at, word in enumerate(words) if any(axis == STATE for axis, _ in says(word))]
    names = [at for at, word in enumerate(words) if not says(word) and word not in IDLE]
    return bool(
        states
        and names
        and states[0] > names[-1]
        and all((STATE, "cooked") in says(words[at]) for at in states)
    )


def _before(asides: Asides, food: frozenset[str]) -> frozenset[str]:
    for words in asides.words:
        named = [at for at, word in enumerate(words) if word in food]
        if named:
            # In "salt and pepper", salt says nothing about pepper.
            apart = [at for at in range(named[0]) if words[at] in _APART]
            start = apart[-1] + 1 if apart else 0
            return sorted_words(words[start : named[-1]]).food - food
    return _NONE


def _cooked_before(asides: Asides, food: frozenset[str]) -> Form:
    """Return the form that cooking words before the food say: "grilled eggplant"."""
    for words in asides.words:
        names = [at for at, word in enumerate(words) if word in food]
        if names:
            cooking = [word for word in words[: names[0]] if (STATE, "cooked") in says(word)]
            return form_of(cooking)
    return NO_FORM


def _remembered_name(
    words: tuple[str, ...],
    food: frozenset[str],
    aside: frozenset[str],
    idle: frozenset[str],
    said: Form,
    hinted: Form,
) -> str:
    """Return all that may tell which food is meant, in one order.

    "Butter, melted" is remembered as butter; "vinegar, balsamic" is not remembered as vinegar.
    """
    forms = (*said.values(), hinted.get(STATE, _NONE))
    further = set[str]().union(*forms, aside & alias_words())
    called = [alias for alias in aliases_by_words().get(food, ()) if not alias.words.form]
    if len({alias.foods for alias in called}) > 1:
        # Freshly grated parmesan is another food than grated parmesan; a beaten egg is an egg.
        further = further.union(*(alias.words.idle & idle for alias in called))
    return " ".join((*words, *sorted(further - set(words))))
