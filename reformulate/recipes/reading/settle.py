"""Settle what was found in a line into a value."""

from __future__ import annotations

from dataclasses import replace

from reformulate.recipes.reading.draft import Draft
from reformulate.recipes.reading.expressed import (
    numbers_of,
    qualifier_of,
    quantity_text,
    read_amount,
    unit_text,
    unit_word,
    written,
)
from reformulate.recipes.reading.food import phrase
from reformulate.recipes.reading.found import Found
from reformulate.recipes.reading.questions import asks_of, remarks_on
from reformulate.recipes.reading.values import About, Ask, ReadAmount, ReadLine

_PINCHES = frozenset({"pinch", "dash", "smidgen"})
_CANS = frozenset({"can", "tin"})


def settled(draft: Draft, text: str) -> ReadLine:
    """Return the line as a value.

    Parameters
    ----------
    draft : Draft
        What was found.
    text : str
        The line to the letter.
    """
    main = draft.main
    food = phrase(draft.names[0]) if draft.names else ""
    amount = _amount(draft)
    stated = main is not None and (main.quantity is not None or main.unit is not None)
    to_taste = bool(draft.left_to_cook) and not (main and main.quantity)
    also = (
        *_other_parts(draft, text, amount, food),
        *_named_together(draft, text, amount),
        *draft.also,
    )
    return ReadLine(
        text=text,
        quantity=_quantity(draft),
        quantity_text=quantity_text(draft.line, draft.tokens, main) if main else "",
        unit_text=unit_text(draft.line, draft.tokens, main) if main else "",
        unit=unit_word(main) if main and stated else "",
        qualifier=qualifier_of((*main.qualifiers, *draft.sizes)) if main else "",
        food_text=food,
        match_text=_match_text(draft, 0),
        prep=_listed(" ".join(draft.done), *_pieces(draft, is_prep=True)),
        comment=_comment(draft, "" if to_taste else draft.left_to_cook),
        optional=draft.optional,
        divided=draft.divided,
        to_taste=to_taste,
        pinch=bool(main and main.unit and main.unit.unit in _PINCHES),
        and_extra=draft.and_extra,
        each=bool(main and main.each),
        pack=_value(draft, main.size) if main else None,
        other=_value(draft, main.other) if main else None,
        more=_value(draft, main.more) if main else None,
        juice_of=food if draft.fruit_part else "",
        alternatives=tuple(draft.alternatives),
        also=also,
        amount=amount,
        remarks=remarks_on(draft, amount, food),
        asks=asks_of(draft, amount, food, also),
        quantities=_quantities(draft),
        units=_units(draft),
        foods=tuple(food for _, food in sorted(draft.foods)),
    )


def _value(draft: Draft, found: Found | None) -> ReadAmount | None:
    return read_amount(draft.line, draft.tokens, found) if found else None


def _quantity(draft: Draft) -> float | tuple[float, float] | None:
    if draft.main is None:
        return None
    if draft.main.quantity is None:
        return None if draft.vague else 1.0
    return numbers_of(draft.main.quantity)


def _amount(draft: Draft) -> str:
    """Write the amount; by the other measure where the first has no household word."""
    main = draft.main
    if main is None or (main.quantity is None and draft.vague) or main.less is not None:
        return ""
    parts = (main, _counted_alike(main, main.more)) if main.more else (main,)
    amount = written(draft.line, draft.tokens, parts, draft.sizes)
    if not amount and main.other:
        amount = written(draft.line, draft.tokens, (main.other,))
    return amount


def _counted_alike(main: Found, more: Found) -> Found:
    """Count what is added as the first amount does: 1 sprig mint, plus 1 for garnish."""
    return replace(more, unit=main.unit) if more.unit is None and main.is_counted else more


def _parts(draft: Draft) -> list[str]:
    """Return which parts of a fruit are used: its juice, its zest; of all else [""]."""
    return draft.fruit_part.split(" and ")


def _match_text(draft: Draft, index: int, part: int = 0) -> str:
    """Return what tells which food is meant, for one of those that are named together."""
    if not draft.names:
        return ""
    start = draft.names[index - 1][-1].end if index else 0
    is_last = index + 1 == len(draft.names)
    end = len(draft.line) if is_last else draft.names[index][-1].end
    words = [word.text for word in draft.match if start <= word.start < end]
    if index and words[0].lower() in {"and", "&"}:
        del words[0]
    further = [*draft.further_match, _parts(draft)[part]]
    if draft.main and draft.main.unit and draft.main.unit.unit in _CANS:
        further.append("canned")
    # A name may say a word twice, as half and half does; what stands elsewhere adds only new ones.
    words.extend(dict.fromkeys(word for word in further if word and word not in words))
    return " ".join(words)


def _pieces(draft: Draft, *, is_prep: bool) -> list[str]:
    pieces = (draft.line[span.start : span.end] for span in draft.spans if span.is_prep is is_prep)
    return [" ".join(piece.strip(" \t,;-–—").split()) for piece in pieces]


def _comment(draft: Draft, left_to_cook: str) -> str:
    return _listed(" ".join(draft.makers), *_pieces(draft, is_prep=False), left_to_cook)


def _listed(*parts: str) -> str:
    return ", ".join(part for part in parts if part)


def _other_parts(draft: Draft, text: str, amount: str, food: str) -> tuple[ReadLine, ...]:
    """Give the zest in "juice and zest of 1 lemon" a line of its own: another food of as many fruits."""
    return tuple(
        ReadLine(
            text=text,
            quantity=_quantity(draft),
            unit=unit_word(draft.main) if draft.main else "",
            food_text=food,
            match_text=_match_text(draft, 0, part),
            juice_of=food,
            amount=amount,
            asks=() if amount else (Ask(About.AMOUNT, f"How much {food} {_parts(draft)[part]}?"),),
        )
        for part in range(1, len(_parts(draft)))
        if food
    )


def _named_together(draft: Draft, text: str, amount: str) -> tuple[ReadLine, ...]:
    """Give the second food of "salt and pepper" a line of its own."""
    shared = amount if draft.main and draft.main.each else ""
    return tuple(
        ReadLine(
            text=text,
            quantity=_quantity(draft) if shared else None,
            food_text=phrase(name),
            match_text=_match_text(draft, index),
            amount=shared,
            to_taste=bool(draft.left_to_cook) and draft.main is None,
            asks=() if shared else (Ask(About.AMOUNT, f"How much {phrase(name)}?"),),
        )
        for index, name in enumerate(draft.names[1:], start=1)
    )


def _quantities(draft: Draft) -> tuple[str, ...]:
    places = [
        (draft.tokens[found.quantity.first].start, quantity_text(draft.line, draft.tokens, found))
        for found in draft.mentions
        if found.quantity is not None
    ]
    # An article says one, but is no quantity as written.
    places = [place for place in places if place[1].lower() not in {"a", "an"}]
    if draft.starts_vague:
        places.append(draft.starts_vague)
    if not places and draft.left_to_cook:
        return (draft.left_to_cook,)
    return tuple(text for _, text in sorted([*places, *draft.per]))


def _units(draft: Draft) -> tuple[str, ...]:
    places = [
        (draft.tokens[found.unit.first].start, unit_text(draft.line, draft.tokens, found))
        for found in draft.mentions
        if found.unit is not None
    ]
    return tuple(text for _, text in sorted(places))
