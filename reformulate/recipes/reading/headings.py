"""Headings in a pasted text: of its parts, of a group of ingredients, of the whole."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum
from typing import Final

from reformulate.recipes.reading.word_sets import phrase_set, word_set


class Part(Enum):
    """The part of a text that a heading opens."""

    INGREDIENTS = "ingredients"
    STEPS = "steps"
    ASIDE = "aside"
    """Notes, nutrients, a greeting: kept as notes."""


_HEADINGS: Final = {
    Part.INGREDIENTS: """
        ingredients; ingredient; ingredient list; list of ingredients; shopping list; what you need
        what you'll need; you will need; you'll need; you need
    """,
    Part.STEPS: """
        method; methods; direction; directions; instruction; instructions; preparation; procedure
        process; steps; how to make; how to make it; to make; to make it; making it; what to do
        method steps; cooking method; how to prepare; how to prepare it
        cooking directions; cooking instructions; preparation method; preparation steps
    """,
    Part.ASIDE: """
        note; notes; recipe notes; cook's note; cook's notes; cook's tip; cook's tips; chef's tip
        chef's note; chef's notes; good to know; tip; tips; variation; variations
        storage; equipment; comments; description; story; source; about this recipe
        nutrition; nutrition facts; nutrition information; nutritional information
        nutritional info; per serving; nutrition per serving; nutrition per serve; per serve
        per portion; nutrition per portion; typical values; make ahead; make-ahead; how to store
        how to store it; storing; faq; faqs; substitutions; serving suggestions
    """,
}
_PARTS: Final = {name: part for part, names in _HEADINGS.items() for name in phrase_set(names)}
_LONGEST_HEADING: Final = 60
_AROUND: Final = " \t#*_=~:-–—.[]<>"
_TITLE: Final = re.compile(
    r"[\W_]*(subject|title|recipe(?: name)?|name|product|dish)[ *_]*[:=][ *_]*"
    r"(?:(?:re|fwd?|aw|wg) ?: ?)*(.+)",
    re.IGNORECASE,
)
_BESIDE: Final = re.compile(r" +[/|] +")
"""What parts two languages, and the columns of a table."""
_NUMBER_OF: Final = re.compile(r"[0-9]{1,2} +(?=[A-Za-z])")
"""How many there are: 12 ingredients."""
_GROUPS: Final = word_set(
    "topping toppings filling dip sauce dressing crust marinade base garnish glaze frosting icing "
    "dough salad spread layer batter paste dippers drizzle"
)


def part_of_heading(line: str) -> tuple[Part, str] | None:
    """Return the part that a heading opens, and what follows it on the same line.

    Examples
    --------
    >>> part_of_heading("INGREDIENTS (serves 4)"), part_of_heading("Method: mix it all.")
    ((<Part.INGREDIENTS: 'ingredients'>, '(serves 4)'), (<Part.STEPS: 'steps'>, 'mix it all.'))
    """
    head, colon, rest = line.partition(":")
    part = _part_named(head)
    if part is not None and colon:
        return part, rest.strip(" \t*_")
    bare = line.strip(_AROUND)
    if not bare or len(bare) > _LONGEST_HEADING:
        return None
    name, bracket, _ = bare.partition("(")
    parts = (_part_named(each) for each in _BESIDE.split(name))
    part = next(filter(None, parts), None)
    if part is not None:
        return part, bare[len(name) :] if bracket else ""
    counted = _part_named(_NUMBER_OF.sub("", bare))
    if counted in {Part.INGREDIENTS, Part.STEPS}:
        return counted, ""
    if bare.lower().startswith("ingredients for "):
        return Part.INGREDIENTS, bare[len("ingredients ") :].capitalize() + ":"
    return None


def _part_named(text: str) -> Part | None:
    return _PARTS.get(tuple(text.strip(_AROUND).lower().replace("’", "'").split()))


def names_a_group(line: str) -> bool:
    """Whether the line is the bare name of a group of ingredients: TOPPING, Bottom layer."""
    words = line.strip(_AROUND).lower().split()
    return 0 < len(words) <= 3 and words[-1] in _GROUPS


@dataclass(frozen=True, slots=True)
class NamedTitle:
    """A title that a line names as such."""

    text: str
    is_subject: bool
    """Whether it is what a mail is headed."""


def named_title(line: str) -> NamedTitle | None:
    """Read "Title: ..." and the subject of a mail, without its marks of being sent on."""
    found = _TITLE.match(line)
    if found is None:
        return None
    return NamedTitle(found[2].strip(" *_"), is_subject=found[1].lower() == "subject")
