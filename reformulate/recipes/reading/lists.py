"""Ingredients that are written one after the other in a paragraph."""

from __future__ import annotations

import re
from typing import Final

from reformulate.recipes.reading.food_names import is_a_food
from reformulate.recipes.reading.line import read_line
from reformulate.recipes.reading.scan import LONGEST, tidy
from reformulate.recipes.reading.values import ReadLine

_AND_AMOUNT: Final = re.compile(r"(?<![0-9]) (?:and|&) (?=[0-9½¼¾⅐-⅞])", re.IGNORECASE)
_FEW_WORDS: Final = 3
_LONGEST_LIST: Final = 10 * LONGEST
_MOST_PIECES: Final = 200


def split_list(text: str) -> tuple[str, ...]:
    """Split a paragraph of ingredients at its commas and semicolons; leave one line whole.

    A comma parts two ingredients only if what follows is a food with an amount of its own, or, in
    a list of several such, a food by itself; all other commas lead to preparation.

    Examples
    --------
    >>> split_list("1 cup sour cream, chilled, 2 tsp dill and 1 tsp salt, pepper")
    ('1 cup sour cream, chilled', '2 tsp dill', '1 tsp salt', 'pepper')
    >>> split_list("1 cup butter, 2 sticks, softened")
    ('1 cup butter, 2 sticks, softened',)
    """
    if len(text) > _LONGEST_LIST:
        return (text,)
    pieces = _pieces(text)
    if len(pieces) == 1 or len(pieces) > _MOST_PIECES:
        return (text,)
    read = [read_line(piece) for _, piece in pieces]
    stated = [_states_an_amount(line) for line in read]
    is_list = sum(stated) >= 2
    by_semicolon = all(line.food_text for line in read) and any(mark == ";" for mark, _ in pieces)
    if not (is_list or by_semicolon):
        return (text,)
    found: list[str] = []
    for (mark, piece), line, own in zip(pieces, read, stated, strict=True):
        starts = own or (by_semicolon and mark == ";") or _is_a_food(line)
        if starts and not own and found and _is_kind_of(found[-1], mark + piece):
            starts = False
        if found and not starts:
            found[-1] += mark + piece
        else:
            found.append(piece)
    return tuple(re.sub(r"^(?:and|&) ", "", piece.strip(" .;,")) for piece in found)


def _pieces(text: str) -> list[tuple[str, str]]:
    """Cut at marks outside brackets; each piece with the mark before it."""
    tidied = _AND_AMOUNT.sub(lambda match: "," + " " * (len(match[0]) - 1), tidy(text))
    ands = {match.start() for match in _AND_AMOUNT.finditer(tidy(text))}
    found = []
    depth, start, mark = 0, 0, ""
    for at, char in enumerate(tidied):
        depth = max(0, depth + (char in "([") - (char in ")]"))
        in_number = (
            char == "," and tidied[at - 1 : at].isdigit() and tidied[at + 1 : at + 2].isdigit()
        )
        if char in ",;" and depth == 0 and not in_number:
            found.append((mark, text[start:at]))
            mark, start = char, at + (5 if at in ands else 1)
            mark = " and" if at in ands else char
    found.append((mark, text[start:]))
    return [(mark, piece) for mark, piece in found if piece.strip(" .,;")]


def _is_kind_of(before: str, piece: str) -> bool:
    """Whether the piece only says which kind is meant: "1 tbsp vinegar, balsamic"."""
    food = read_line(before).food_text
    joined = read_line(before + piece).food_text
    return bool(food) and joined != food and joined.endswith(f" {food}")


def _states_an_amount(line: ReadLine) -> bool:
    return bool(line.food_text and (line.quantity_text or line.unit_text or line.to_taste))


def _is_a_food(line: ReadLine) -> bool:
    """Whether the piece names a food and nothing else."""
    words = line.text.lower().replace("and ", "").split()
    if not line.food_text or line.prep or line.comment or len(words) > _FEW_WORDS:
        return False
    return is_a_food(words[-1].strip("."))
