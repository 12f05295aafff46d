"""What a line is called when its file does not say."""

from __future__ import annotations

from collections.abc import Sequence


def line_ids(lines: Sequence[tuple[str, str]]) -> tuple[str, ...]:
    """Return an id for every line, given its written id ("" for none) and its food.

    A line without an id is called by its food, the second of a food ``food-2``, and so on. Names
    that are written down somewhere in the recipe are never given to another line.

    >>> line_ids([("", "garlic"), ("", "garlic"), ("late", "garlic")])
    ('garlic', 'garlic-2', 'late')
    """
    taken = {written for written, _ in lines if written}
    names: list[str] = []
    for written, food in lines:
        names.append(written or _free(food, taken))
        taken.add(names[-1])
    return tuple(names)


def ids_to_write(
    lines: Sequence[tuple[str, str]], already: frozenset[str] = frozenset()
) -> frozenset[str]:
    """Return the ids that must stand in the file, given every line's id and food.

    Parameters
    ----------
    lines
        Id and food of every line, in order; ids are unique.
    already
        Ids that are written down in the file and stay there.
    """
    written = already
    while True:
        names = line_ids([(name if name in written else "", food) for name, food in lines])
        missing = {name for (name, _), found in zip(lines, names, strict=True) if name != found}
        # A line whose id is not its own by default may also be robbed of it by a later one that
        # is then written down; each turn writes at least one more, so this ends.
        if not missing:
            return written
        written = written | missing


def _free(food: str, taken: set[str]) -> str:
    name, number = food, 1
    while name in taken:
        number += 1
        name = f"{food}-{number}"
    return name
