"""Read one ingredient line."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from reformulate.recipes.reading.amounts import amount_at
from reformulate.recipes.reading.draft import Draft
from reformulate.recipes.reading.food import (
    FoodWords,
    food_words,
    only_names,
    whole_food,
    without_word,
)
from reformulate.recipes.reading.food_names import is_a_food
from reformulate.recipes.reading.found import Found
from reformulate.recipes.reading.inverted import with_kind_behind
from reformulate.recipes.reading.quantity import word_at
from reformulate.recipes.reading.scan import LONGEST, Sort, scan, tidy
from reformulate.recipes.reading.segments import Segment, only_describing, segments
from reformulate.recipes.reading.settle import settled
from reformulate.recipes.reading.starts import read_amount_after, read_amount_before
from reformulate.recipes.reading.tails import line_of, read_tail, take_amount
from reformulate.recipes.reading.unit_words import unit_at
from reformulate.recipes.reading.values import About, Ask, ReadLine
from reformulate.recipes.reading.word_sets import word_set

_BULLET: Final = re.compile(
    r"[ >|]*(?:(?:\[[ xX]?\]|[-–—*•·▪▫◦‣⁃●○■□☐☑✓✔➢➤►♦+]+) *){0,2}"
    r"(?:\(?[0-9]{1,2}\)(?= )|[0-9]{1,2}\.(?= ))? *"
)
_HEADING: Final = re.compile(
    r"#{1,6} *\S|[^0-9½¼¾⅓⅔]{1,60}:[ *_]*$|for (?:the|your) [^0-9,(½¼¾⅓⅔]{1,40}$", re.IGNORECASE
)
_LEFT_TO_COOK: Final = re.compile(
    r"\b(?:to (?:your )?(?:taste|liking)|as (?:needed|desired|required|necessary|you like)"
    r"|according to taste)\b",
    re.IGNORECASE,
)
_OPTIONAL: Final = re.compile(
    r"\b(?:optional(?:ly)?|if (?:desired|you like|wanted))\b:?", re.IGNORECASE
)
_DIVIDED: Final = re.compile(r"\bdivided\b(?! +(?:in|into|among)\b)", re.IGNORECASE)
_LEADS_ON: Final = word_set("and plus or also & + , ; : .")
_ENDING_UNITS: Final = word_set(
    "clove cloves wedge wedges stalk stalks rib ribs sprig sprigs slice slices spear spears head "
    "heads bulb bulbs bunch bunches wheel wheels twist twists"
)
"""Unit words that end a food's name: 7 garlic cloves, 2 lime wedges."""
_UNITS_THAT_ARE_FOODS: Final = word_set(
    "roll rolls cake cakes bar bars link links fillet fillets filet filets rib ribs clove cloves "
    "leaf leaves loaf loaves"
)


def read_line(text: str) -> ReadLine:
    """Read one ingredient line; never fails, and says what a person has to decide.

    Parameters
    ----------
    text : str
        The line as written, of any length; its first ``LONGEST`` characters are read.

    Returns
    -------
    ReadLine
        With ``text`` to the letter.

    Examples
    --------
    >>> line = read_line("1 1/2 cups plain strained yogurt, chilled (optional)")
    >>> line.quantity, line.unit, line.food_text, line.prep, line.optional
    (1.5, 'cup', 'plain strained yogurt', 'chilled', True)
    >>> line.amount
    '1 1/2 cups'
    """
    shown = text[:LONGEST]
    line = tidy(shown)
    stripped = line.strip()
    if not stripped:
        return ReadLine(text=text, asks=(Ask(About.FOOD, "Which food is meant?"),))
    if _HEADING.match(stripped):
        return ReadLine(text=text, heading=True, comment=stripped.strip("#*_: "))
    draft = Draft(shown, ())
    draft.tokens = scan(_without_flags(line, draft))
    _read(draft)
    found = settled(draft, text)
    if len(text) > LONGEST:
        question = f"Is this one ingredient? Only its first {LONGEST} characters were read."
        return replace(found, asks=(*found.asks, Ask(About.LINE, question)))
    return found


def _without_flags(line: str, draft: Draft) -> str:
    """Note what holds for the whole line wherever it stands, and blank it out."""
    bullet = _BULLET.match(line)
    if bullet and bullet.end() < len(line):
        line = " " * bullet.end() + line[bullet.end() :]
    left_to_cook = _LEFT_TO_COOK.search(line)
    if left_to_cook:
        draft.left_to_cook = left_to_cook[0]
        line = _LEFT_TO_COOK.sub(_blank, line)
    line, options = _OPTIONAL.subn(_blank, line)
    line, divisions = _DIVIDED.subn(_blank, line)
    draft.optional, draft.divided = options > 0, divisions > 0
    return line


def _blank(match: re.Match[str]) -> str:
    """Return as many spaces, so that all places stay the same."""
    return " " * len(match[0])


def _read(draft: Draft) -> None:
    tokens = draft.tokens
    at = 0
    while word_at(tokens, at) in _LEADS_ON:
        at += 1
    rest = read_amount_before(draft, at)
    if draft.main is not None and rest < len(tokens):
        rest = _past_length(draft, rest)
    food_ends = len(tokens) if draft.main else read_amount_after(draft, at)
    pieces = segments(tokens, rest, len(tokens) if food_ends is None else food_ends)
    if draft.main is not None:
        draft.mentions.extend(draft.main.parts())
        _note_aside(draft, draft.main)
        if food_ends is not None and food_ends < len(tokens):
            further = segments(tokens, draft.main.last, len(tokens))
            if further and not further[0].opener:
                further[0].opener = ","
            pieces.extend(further)
    _read_segments(draft, pieces)


def _past_length(draft: Draft, at: int) -> int:
    """Step over how large the pieces of the food are: 1 cup 1-inch pineapple chunks."""
    if draft.tokens[at].sort is not Sort.NUMBER:
        return at
    found = amount_at(draft.tokens, at, bare=False)
    length = found.size or found if found is not None else None
    if found is None or length is None or not length.is_length(draft.tokens):
        return at
    draft.mentions.append(length)
    draft.note(draft.tokens[at].start, draft.tokens[found.last - 1].end, is_prep=True)
    return found.last


def _note_aside(draft: Draft, found: Found) -> None:
    """Keep what stands between a number and its unit as a remark."""
    if found.aside is not None:
        first, last = found.aside
        draft.note(draft.tokens[first].start, draft.tokens[last - 1].end, is_prep=False)


def _read_segments(draft: Draft, pieces: Sequence[Segment]) -> None:
    """Find the segment that names the food; the others say something about it."""
    _mark_examples(pieces)
    named = _naming(draft, pieces)
    if named is None:
        _take_unit_for_food(draft)
    else:
        at, words = named
        piece = pieces[at]
        if piece.opener == "or" and piece.amount is not None and piece.amount.unit is not None:
            # "1 tbsp fresh or 1 tsp dried dill": the second amount is another food's.
            draft.alternatives.append(line_of(draft, piece))
            draft.foods.clear()
            draft.match.extend(food_words(pieces[0].tokens).match)
            words = only_names(words)
        else:
            take_amount(draft, piece)
        turned = with_kind_behind(words, pieces[at + 1 :], has_amount=draft.main is not None)
        if turned is not None:
            words = turned
            pieces = [*pieces[: at + 1], *pieces[at + 2 :]]
        elif _take_ending_unit(draft, piece):
            words = without_word(words, piece.tokens[-1])
        draft.take_words(words)
    for i, piece in enumerate(pieces):
        if named is None or i != named[0]:
            read_tail(draft, piece)


def _mark_examples(pieces: Sequence[Segment]) -> None:
    """Mark a bracket that lists several foods, which only say more about the one before it."""
    for piece, following in itertools.pairwise(pieces):
        if piece.opener == "(" and following.bracketed and following.opener in {",", "or"}:
            both = (food_words(part.tokens).names for part in (piece, following))
            piece.is_example = all(names and is_a_food(names[-1][-1].low) for names in both)


def _naming(draft: Draft, pieces: Sequence[Segment]) -> tuple[int, FoodWords] | None:
    """Return the segment that names the food, or at least describes it, and its words."""
    described = None
    for i, piece in enumerate(pieces):
        if piece.bracketed or piece.is_led or piece.opener == "plus":
            continue
        opens_line = piece.tokens[:1] == [*draft.tokens[:1]]
        words = food_words(
            piece.tokens, opens_line=opens_line, apart=bool(draft.main and draft.main.each)
        )
        if words.names:
            return i, words
        if words.match and described is None:
            described = i, whole_food(piece.tokens)
    return described


def _take_unit_for_food(draft: Draft) -> None:
    """Read "12 rolls", where no other food is named, as rolls."""
    main = draft.main
    if main is None or main.unit is None or main.quantity is None or main.size is not None:
        return
    token = draft.tokens[main.unit.first]
    if token.low in _UNITS_THAT_ARE_FOODS:
        main.unit = None
        draft.take_words(whole_food([token]))


def _take_ending_unit(draft: Draft, piece: Segment) -> bool:
    """Read "7 garlic cloves" as 7 cloves of garlic."""
    main = draft.main
    last = piece.tokens[-1]
    if main is None or main.unit is not None or last.low not in _ENDING_UNITS:
        return False
    if only_describing(piece.tokens):
        return False
    main.unit = unit_at(draft.tokens, draft.tokens.index(last))
    return True
