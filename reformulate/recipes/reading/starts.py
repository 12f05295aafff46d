"""Find the amount of a line, which stands before the food or, in a table of one's own, after it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from reformulate.recipes.reading.amount_words import ABOUT, past_share, qualifies
from reformulate.recipes.reading.amounts import TIMES, amount_at
from reformulate.recipes.reading.draft import Draft
from reformulate.recipes.reading.found import Found
from reformulate.recipes.reading.quantity import Quantity, word_at
from reformulate.recipes.reading.scan import Sort, Token
from reformulate.recipes.reading.segments import LEADING, only_describing, opens
from reformulate.recipes.reading.unit_words import unit_at
from reformulate.recipes.reading.word_sets import word_set

_STARTS_VAGUE: Final = word_set("some several few plenty little enough lot lots bit")
_FRUIT_PARTS: Final = word_set("juice zest rind peel")
_AROUND_PARTS: Final = word_set("the grated finely fresh freshly squeezed strained and & from of")
_MOST_QUALIFIERS: Final = 3
_FARTHEST: Final = 16
"""How far into a line an amount after its food is looked for [tokens]."""


def read_amount_before(draft: Draft, at: int) -> int:
    """Read the amount that stands first; return the index of the token after it."""
    after_fruit = _fruit_at(draft, at)
    if after_fruit is not None:
        return after_fruit
    found = amount_at(draft.tokens, at)
    if found is not None and found.unit is None and found.size is None:
        again = amount_at(draft.tokens, found.last, bare=False)
        if again is not None and again.unit is not None:
            # "2 2 slices ham": the number slipped in twice.
            found = again
    found = found or _unit_alone(draft, at)
    if found is None:
        return at
    draft.main = found
    return found.last


def read_amount_after(draft: Draft, at: int) -> int | None:
    """Read "Flour - 2 cups", "salt (1 tsp)", "eggs 4"; return where the food before it ends."""
    tokens = draft.tokens
    parted, words, here = False, 0, at
    while here < min(len(tokens), at + _FARTHEST):
        token = tokens[here]
        shared = past_share(tokens, here)
        if token.low in LEADING:
            return None
        if shared > here:
            here = shared
            continue
        if opens(tokens, here):
            parted, words = True, 0
        elif token.sort not in {Sort.NUMBER, Sort.VULGAR}:
            words += token.low not in ABOUT
        elif here == at or (parted and words):
            # Words before a number in a bracket make it a remark.
            return None
        else:
            return _food_before(draft, here, parted=parted)
        here += 1
    return None


def _food_before(draft: Draft, at: int, *, parted: bool) -> int | None:
    tokens = draft.tokens
    found = amount_at(tokens, at)
    if found is None or found.is_length(tokens) or not _ends_the_food(tokens, found, parted):
        return None
    draft.main = found
    while (
        opens(tokens, at - 1)
        or word_at(tokens, at - 1) in ABOUT
        or word_at(tokens, at - 1) in TIMES
    ):
        at -= 1
    return at


def _ends_the_food(tokens: Sequence[Token], found: Found, parted: bool) -> bool:
    """Whether only describing words follow the amount, so that the food stands before it."""
    following: list[Token] = []
    for at in range(found.last, len(tokens)):
        if opens(tokens, at):
            break
        following.append(tokens[at])
    stated = found.unit is not None or found.last == len(tokens)
    # A bare number within a line counts pieces only behind a mark: "eggs - 6, chopped".
    return only_describing(following) and (stated or (parted and _marks_a_count(tokens, found)))


def _marks_a_count(tokens: Sequence[Token], found: Found) -> bool:
    return not tokens[found.first - 1].text[0].isalnum() and tokens[found.first - 1].text != "("


def _unit_alone(draft: Draft, at: int) -> Found | None:
    """Read "pinch of salt", "small bunch of chives", "a few sprigs thyme" and "some parsley"."""
    tokens = draft.tokens
    start = at
    at += word_at(tokens, at) == "a"
    vague = word_at(tokens, at) in _STARTS_VAGUE
    if vague:
        at += 1
        place = tokens[start].start
        draft.starts_vague = (place, draft.line[place : tokens[at - 1].end])
        at += word_at(tokens, at) == "of"
    elif at > start:
        return None
    first = at
    while at - first < _MOST_QUALIFIERS and qualifies(word_at(tokens, at)):
        at += 1
    unit = unit_at(tokens, at, after_number=vague)
    if unit is not None and unit.last < len(tokens):
        of = word_at(tokens, unit.last) == "of"
        if of or vague or tokens[unit.last].sort is Sort.WORD:
            said = tuple(token.low for token in tokens[first:at])
            return Found(None, unit, start, unit.last + of, said)
    return Found(None, None, start, first) if vague else None


def _fruit_at(draft: Draft, at: int) -> int | None:
    """Read "juice of 1 lemon", "grated zest and juice of half a lime"; return the food's place."""
    tokens = draft.tokens
    start, parts = at, []
    while word_at(tokens, at) in _FRUIT_PARTS or word_at(tokens, at) in _AROUND_PARTS:
        if word_at(tokens, at) in _FRUIT_PARTS:
            parts.append(word_at(tokens, at))
        at += 1
    if not parts or word_at(tokens, at - 1) not in {"of", "from"}:
        return None
    draft.fruit_part = " and ".join(parts)
    draft.note(tokens[start].start, tokens[at - 1].end, is_prep=True)
    draft.main = amount_at(tokens, at) or _one_fruit(tokens, at)
    return draft.main.last if draft.main else at


def _one_fruit(tokens: Sequence[Token], at: int) -> Found | None:
    """Read the "a" of "juice of a lemon" as one."""
    if word_at(tokens, at) not in {"a", "an"}:
        return None
    return Found(Quantity(Fraction(1), Fraction(1), at, at + 1), None, at, at + 1)
