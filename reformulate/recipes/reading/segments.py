"""Cut what follows the amount of a line into pieces: food, preparation, brackets, "or"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

from reformulate.recipes.reading.amounts import amount_at
from reformulate.recipes.reading.describing_words import aspect_of, describes_together
from reformulate.recipes.reading.found import Found
from reformulate.recipes.reading.quantity import quantity_at
from reformulate.recipes.reading.scan import Sort, Token
from reformulate.recipes.reading.word_sets import word_set

_OPENING: Final = frozenset("([{")
_CLOSING: Final = frozenset(")]}")
_MARKS: Final = {
    **dict.fromkeys("([{", "("),
    **dict.fromkeys(")]}", ")"),
    **dict.fromkeys(",;:—–•=…", ","),
    "+": "plus",
}
"""What a mark opens, wherever it stands."""
LEADING: Final = word_set(
    "for to as from with without such at in into per if until like when since though "
    "on by used using not because unless depending"
)
"""Words after which the name of a food is over."""
_ORS: Final = frozenset({"or", "and/or"})


@dataclass(slots=True)
class Segment:
    """A piece of a line."""

    opener: str
    """What opened it: "," "(" ")" "or" "plus", a word such as "for"; "" for the first."""
    start: int
    """Where it starts in the line [characters]."""
    bracketed: bool = False
    in_remark: bool = False
    """Whether it stands in a bracket that a word such as "with" leads."""
    is_example: bool = False
    """Whether it is the first of several foods in a bracket: seeds (sunflower, pumpkin)."""
    amount: Found | None = None
    """An amount that it starts with."""
    tokens: list[Token] = field(default_factory=list)
    """What follows that amount."""

    @property
    def words(self) -> list[str]:
        """Its words in lower case."""
        return [token.low for token in self.tokens if token.sort is Sort.WORD]

    @property
    def is_empty(self) -> bool:
        """Whether nothing was found in it."""
        return self.amount is None and not self.tokens

    @property
    def is_led(self) -> bool:
        """Whether a word such as "for" or "into" leads it, so that it says no more about the food."""
        return self.opener in LEADING


def segments(tokens: Sequence[Token], at: int, end: int) -> list[Segment]:
    """Cut tokens ``at`` to ``end`` into segments, each with the amount it starts with.

    An amount that runs on beyond ``end`` is taken whole.
    """
    found: list[Segment] = []
    here = Segment("", tokens[at].start if at < end else 0)
    depth = 0
    while at < end:
        token = tokens[at]
        opener = _opener(tokens, at, here)
        if opener:
            if not here.is_empty:
                found.append(here)
            depth = max(0, depth + (token.text in _OPENING) - (token.text in _CLOSING))
            start = token.start if token.sort is Sort.WORD else token.end
            within = depth > 0 and opener != "(" and (here.in_remark or here.is_led)
            here = Segment(opener, start, depth > 0, within and here.bracketed)
            at += 1
        elif here.opener and here.is_empty and (amount := _amount(tokens, at, here)) is not None:
            here.amount = amount
            at = amount.last
        else:
            here.tokens.append(token)
            at += 1
    if not here.is_empty:
        found.append(here)
    return found


def _amount(tokens: Sequence[Token], at: int, here: Segment) -> Found | None:
    return amount_at(tokens, at, bare=here.opener in {"or", "plus"})


def _opener(tokens: Sequence[Token], at: int, here: Segment) -> str:
    """Return what the token opens; "" where it belongs to the segment so far."""
    token = tokens[at]
    if token.sort is Sort.MARK and token.text != "&":
        return _mark_opener(tokens, at)
    word, opener = token.low, ""
    if word in _ORS:
        unnamed = here.tokens and here.amount is None and only_describing(here.tokens)
        opener = "" if unnamed and quantity_at(tokens, at + 1) is None else "or"
    elif word == "plus":
        opener = word
    elif word in {"and", "&"} and here.tokens and quantity_at(tokens, at + 1) is not None:
        # "1 tsp salt and 1/2 tsp pepper"
        opener = "," if amount_at(tokens, at + 1, bare=False) is not None else ""
    elif word in LEADING and (here.opener or not here.is_empty):
        described = at > 0 and describes_together(tokens[at - 1].low, word)
        opener = "" if described else word
    return opener


def opens(tokens: Sequence[Token], at: int) -> bool:
    """Whether a mark at ``at`` parts the line."""
    inside = 0 <= at < len(tokens)
    return inside and tokens[at].sort is Sort.MARK and bool(_mark_opener(tokens, at))


def _mark_opener(tokens: Sequence[Token], at: int) -> str:
    mark = tokens[at]
    if mark.text in _MARKS:
        return _MARKS[mark.text]
    before = at > 0 and tokens[at - 1].end < mark.start
    after = at + 1 < len(tokens) and mark.end < tokens[at + 1].start
    if (mark.text == "-" and (before or after)) or (mark.text == "." and after):
        return ","
    if mark.text == "/" and 0 < at < len(tokens) - 1:
        words = tokens[at - 1], tokens[at + 1]
        if all(word.sort is Sort.WORD and aspect_of(word.low) is None for word in words):
            return "or"
    return ""


def only_describing(tokens: Sequence[Token]) -> bool:
    """Whether the words so far name no food yet: fresh or frozen blueberries."""
    return all(token.sort is not Sort.WORD or aspect_of(token.low) is not None for token in tokens)
