"""Read what stands beside the food: preparation, remarks, second amounts, "or" alternatives."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import Final

from reformulate.measures.words import Kind
from reformulate.recipes.reading.describing_words import Aspect, aspect_of
from reformulate.recipes.reading.draft import Draft
from reformulate.recipes.reading.food import FoodWords, food_words, phrase
from reformulate.recipes.reading.food_names import KINDS, LEANING, is_a_food
from reformulate.recipes.reading.found import Found
from reformulate.recipes.reading.other_foods import (
    FEW_WORDS,
    REMARKING,
    SIZED,
    SPOKEN,
    is_another_food,
)
from reformulate.recipes.reading.scan import Token
from reformulate.recipes.reading.segments import Segment
from reformulate.recipes.reading.settle import settled
from reformulate.recipes.reading.unit_words import unit_at
from reformulate.recipes.reading.values import ReadLine
from reformulate.recipes.reading.word_sets import word_set

_FOR_ONE: Final = word_set("person guest serving portion slice sandwich head piece each")
_MORE: Final = frozenset({"more", "extra", "additional", "some"})
_FRUIT: Final = word_set(
    "juice juiced juices zest zested rind peel only of and the grated finely freshly squeezed "
    "strained & from"
)
_FRUIT_USED: Final = {"juiced": "juice", "zested": "zest"} | {
    part: part for part in ("juice", "zest", "rind", "peel")
}
_NOT_MATCHED: Final = frozenset({"dry", "whole", "part", "hot"})
"""Forms that beside a food tell of work more often: patted dry."""
_PACKED_IN: Final = frozenset({"oil", "water", "brine", "juice", "syrup"})


def read_tail(draft: Draft, piece: Segment) -> None:
    """Sort one segment that does not name the food."""
    if piece.opener == "per" and piece.words and piece.words[0] in _FOR_ONE:
        draft.per.append((piece.start, draft.line[piece.start : piece.tokens[0].end]))
    elif piece.opener == "or" and not piece.in_remark:
        _read_alternative(draft, piece)
    elif is_another_food(draft, piece):
        draft.also.append(line_of(draft, piece))
    elif piece.amount is not None and not piece.is_led and take_amount(draft, piece):
        if piece.tokens and not only_naming(piece, draft):
            piece.start = piece.tokens[0].start
            _read_words(draft, piece)
    else:
        _read_words(draft, piece)


def _read_words(draft: Draft, piece: Segment) -> None:
    words = piece.words
    if piece.amount is None and _take_late_unit(draft, piece):
        return
    if words and words[0] in _MORE:
        draft.and_extra = True
    _take_fruit(draft, words)
    _take_note(draft, piece)


def take_amount(draft: Draft, piece: Segment) -> bool:
    """Give an amount away from the start of the line its meaning; False where it has none."""
    found = piece.amount
    if found is None or (piece.words and piece.words[0] in SIZED):
        return False
    main = draft.main
    if found.is_length(draft.tokens):
        draft.mentions.append(found)
        return False
    if found.quantity is None and found.size is not None and found.size.is_length(draft.tokens):
        # "1-inch pieces" beside a food says how it is cut.
        draft.mentions.append(found.size)
        return False
    if main is None or (main.quantity is None and main.unit is None):
        draft.main = found
    elif piece.opener == "plus" and main.more is None:
        main.more = found
    elif main.size is None and found.is_weighed and (main.is_pack or _is_for_each(found, piece)):
        main.size = found
    elif main.other is None and piece.opener != "plus":
        main.other = found
    else:
        return False
    draft.mentions.extend(found.parts())
    return True


def _is_for_each(found: Found, piece: Segment) -> bool:
    return found.each or "each" in piece.words


def _read_alternative(draft: Draft, piece: Segment) -> None:
    words = food_words(piece.tokens)
    remark = bool(piece.words) and piece.words[0] in REMARKING
    named = sum(len(name) for name in words.names)
    found = piece.amount
    if found is not None and found.unit is not None and words.match and not (named or remark):
        draft.alternatives.append(_other_form(draft, piece, words))
        return
    if remark or not 0 < named <= FEW_WORDS + 1 or any(w in REMARKING for w in piece.words):
        if found is not None and not piece.tokens and not piece.bracketed:
            take_amount(draft, piece)
        _take_note(draft, piece)
        return
    draft.alternatives.append(line_of(draft, piece))
    if draft.names and len(draft.names[0]) == 1 and draft.names[0][0].low in LEANING:
        kind = words.names[-1][-1]
        if kind.low in KINDS and len(words.names[-1]) > 1:
            # "vegetable or canola oil": both are oils.
            draft.names = ((*draft.names[0], kind), *draft.names[1:])
            draft.match.append(kind)


def _other_form(draft: Draft, piece: Segment, words: FoodWords) -> ReadLine:
    """Read "or 1 tbsp dried" as so much of the same food."""
    own = Draft(draft.line, draft.tokens)
    own.main, own.names = piece.amount, draft.names[:1]
    own.match = [*words.match, *itertools.chain.from_iterable(own.names)]
    if piece.amount is not None:
        draft.mentions.extend(piece.amount.parts())
    return settled(own, draft.line[piece.start : piece.tokens[-1].end].strip())


def only_naming(piece: Segment, draft: Draft) -> bool:
    """Whether the segment only says the food's name again."""
    return bool(piece.tokens) and all(token.low in draft.known for token in piece.tokens)


def line_of(draft: Draft, piece: Segment) -> ReadLine:
    """Read a segment as a line of its own, and count its words to this line's."""
    own = Draft(draft.line, draft.tokens)
    own.take_words(food_words(piece.tokens, apart=bool(draft.main and draft.main.each)))
    own.main = piece.amount
    if own.main is not None:
        own.mentions.extend(own.main.parts())
    first = draft.tokens[piece.amount.first] if piece.amount else piece.tokens[0]
    end = piece.tokens[-1].end
    draft.mentions.extend(own.mentions)
    draft.foods.extend(own.foods)
    if own.main is None and draft.main is not None:
        # "butter or margarine": as much of the one as of the other.
        own.main, own.sizes = draft.main, own.sizes or draft.sizes
    return settled(own, draft.line[first.start : end])


def _take_late_unit(draft: Draft, piece: Segment) -> bool:
    """Read the unit in "2 strawberries (cartons of)"."""
    main = draft.main
    if main is None or main.unit is not None or not piece.bracketed or not piece.tokens:
        return False
    at = next(i for i, token in enumerate(draft.tokens) if token.start == piece.tokens[0].start)
    end = at
    while end < len(draft.tokens) and aspect_of(draft.tokens[end].low) is Aspect.SIZE:
        end += 1
    unit = unit_at(draft.tokens, end, after_number=False)
    if unit is None or unit.kind is Kind.MASS:
        return False
    rest = [token.low for token in piece.tokens if token.start >= draft.tokens[unit.last - 1].end]
    if rest and rest != ["of"]:
        return False
    main.unit = unit
    return True


def _take_fruit(draft: Draft, words: Sequence[str]) -> None:
    """Read "juiced" in "1 lemon, juiced"."""
    used = [_FRUIT_USED[word] for word in words if word in _FRUIT_USED]
    if used and all(word in _FRUIT for word in words) and not draft.known & _FRUIT_USED.keys():
        draft.fruit_part = " and ".join(used)


def _take_note(draft: Draft, piece: Segment) -> None:
    """Keep the segment as preparation or remark, with what it says of the food's form."""
    words = piece.words
    end = _end_of(draft, piece)
    if piece.is_led:
        within_choice = piece.bracketed and bool(draft.alternatives)
        packed = piece.opener in {"in", "with"} and words and words[-1] in _PACKED_IN
        if packed and not within_choice:
            draft.further_match.extend((piece.opener, *words))
        if not draft.extend_note(piece.start, end):
            draft.note(piece.start, end, is_prep=piece.opener in {"into", "in", "at"})
        return
    remark = bool(words) and (words[0] in REMARKING or any(word in SPOKEN for word in words))
    described = any(aspect_of(word) is not None for word in words)
    if not remark and len(words) <= 2 * FEW_WORDS:
        draft.further_match.extend(_form_in(piece.tokens))
    worked = any(aspect_of(word) is Aspect.DONE for word in words)
    if not worked and not remark:
        draft.sizes.extend(word for word in words if aspect_of(word) is Aspect.SIZE)
    may_name = piece.opener == "(" and not piece.is_example and len(words) <= FEW_WORDS
    if not remark and not worked and may_name:
        _take_food_in_bracket(draft, piece.tokens)
    draft.note(piece.start, end, is_prep=described and not remark)


def _form_in(tokens: Sequence[Token]) -> list[str]:
    """Return the words that tell the form of the food."""
    found = food_words(tokens)
    named = {word for name in found.names for word in name}
    return [
        word.text
        for word in found.match
        if word not in named
        and word.low not in _NOT_MATCHED
        and aspect_of(word.low) is not Aspect.PART
    ]


def _end_of(draft: Draft, piece: Segment) -> int:
    """Return where the segment ends [characters]."""
    if piece.tokens:
        return piece.tokens[-1].end
    return draft.tokens[piece.amount.last - 1].end if piece.amount else piece.start


def _take_food_in_bracket(draft: Draft, tokens: Sequence[Token]) -> None:
    """Read the food that a bracket says more closely: "seasoning (onion soup)"."""
    names = food_words(tokens).names
    if len(names) == 1 and not draft.known.issuperset(token.low for token in names[0]):
        if not is_a_food(names[0][-1].low):
            return
        draft.foods.append((names[0][0].start, phrase(names[0])))
        draft.further_match.extend(token.text for token in names[0])
