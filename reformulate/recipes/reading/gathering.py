"""From the sorted lines of a text to the recipe they make."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from reformulate.recipes.reading.from_steps import lines_in_step
from reformulate.recipes.reading.line import read_line
from reformulate.recipes.reading.lists import split_list
from reformulate.recipes.reading.recipe_values import ReadNote, ReadRecipe
from reformulate.recipes.reading.servings import ReadServings, servings_in
from reformulate.recipes.reading.values import ReadLine
from reformulate.recipes.reading.wrapped import Item, numbered_pieces

AROUND: Final = " #*_=~"
"""What stands around a title or a heading."""

Placed = list[tuple[ReadLine, int]]
"""Lines, each with the number of its row in the text."""


def gathered(
    *,
    title: str,
    servings: ReadServings | None,
    ingredients: Sequence[Item],
    steps: Sequence[Item],
    notes: Iterable[ReadNote],
) -> ReadRecipe:
    """Return the recipe; what it lacks is taken from its steps where they tell, else noted."""
    said = list(notes)
    pieces = [(piece, item.first.number) for item in steps for piece in numbered_pieces(item.text)]
    read: Placed = [(line, item.first.number) for item in ingredients for line in _lines_of(item)]
    if not read:
        read = _from_steps(pieces)
        if read:
            what = "No list of ingredients found; they were taken from the steps."
            said.append(ReadNote(line=0, text="", what=what))
    if servings is None or servings.number is None:
        told = (servings_in(item.text) for item in steps)
        servings = next(filter(None, told), servings)
    for missing, what in ((title, "title"), (read, "ingredients")):
        if not missing:
            said.append(ReadNote(line=0, text="", what=f"No {what} found."))
    return ReadRecipe(
        title=title,
        servings=servings,
        lines=tuple(line for line, _ in read),
        places=tuple(number for _, number in read),
        steps=tuple(piece for piece, _ in pieces),
        notes=tuple(sorted(said, key=lambda note: note.line)),
    )


def _from_steps(pieces: Sequence[tuple[str, int]]) -> Placed:
    return [
        (line, place)
        for number, (step, place) in enumerate(pieces, start=1)
        for line in lines_in_step(step, number)
    ]


def _lines_of(item: Item) -> tuple[ReadLine, ...]:
    if item.is_group:
        heading = item.text.strip(AROUND).removesuffix(":")
        return (ReadLine(text=item.text, heading=True, comment=heading),)
    return tuple(read_line(piece) for piece in split_list(item.text))
