"""What a line asks for: its words sorted, what it says and what it only hints at."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from reformulate.recipes.matching.forms import FAT, PACK, RINSE, SALT, SMOKE, STATE, SWEET, Form
from reformulate.recipes.matching.text import sorted_words
from reformulate.recipes.matching.words import words_of
from reformulate.recipes.reading import ReadLine, read_line

_SAID_ASIDE: Final = frozenset({FAT, SALT, SMOKE, SWEET, PACK, RINSE})
"""What counts as said wherever in the line it stands: "butter, unsalted"."""
_STATES_ASIDE: Final = frozenset({"raw", "canned", "dried", "frozen", "pickled"})
"""States likewise; but beef that is "cooked and drained" was weighed raw, or not: a hint."""
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
    """Words of the preparation and the comments that may name it."""
    idle: frozenset[str]
    said: Form
    hinted: Form


def query_of(line: ReadLine | str) -> Query:
    """Sort a line that was read, or a text: an ingredient line or a name alone."""
    read = read_line(line) if isinstance(line, str) else line
    written = read.match_text or read.food_text
    main_words = words_of(written)
    main = sorted_words(main_words)
    side = sorted_words((*words_of(read.prep), *words_of(read.comment)))
    said = dict(main.form)
    hinted: dict[str, frozenset[str]] = {}
    for axis, values in side.form.items():
        strong = values & _STATES_ASIDE if axis == STATE else values
        if axis in said:
            # "roasted red peppers, drained" is drained as well.
            if axis == RINSE:
                said[axis] |= values
        elif axis in _SAID_ASIDE or (axis == STATE and strong):
            said[axis] = strong
        else:
            hinted[axis] = values
    if STATE not in said:
        hints = set(hinted.get(STATE, frozenset()))
        if RINSE in said:
            hints.add("canned")
        if read.unit in _FRESH_UNITS:
            hints.add("raw")
        if hints:
            hinted[STATE] = frozenset(hints)
    return Query(
        written=written,
        name=remembered_name(main_words, said),
        whole=line if isinstance(line, str) else read.text,
        food=main.food,
        aside=side.food - main.food,
        idle=main.idle | side.idle,
        said=said,
        hinted=hinted,
    )


def remembered_name(words: tuple[str, ...], said: Form) -> str:
    """Return the food's words and what is said of its form, in one order."""
    aside = sorted({value for values in said.values() for value in values} - set(words))
    return " ".join((*words, *aside))
