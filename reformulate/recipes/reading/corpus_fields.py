"""The fields in which a marked corpus of ingredient lines gives what a line says."""

from __future__ import annotations

from typing import Final

from reformulate.recipes.reading.values import ReadLine

_BETWEEN: Final = " | "


def corpus_fields(line: ReadLine) -> tuple[str, str, str]:
    """Return quantity, unit and food as written; several of one kind are joined by " | ".

    Examples
    --------
    >>> from reformulate.recipes.reading.line import read_line
    >>> corpus_fields(read_line("1 (8 ounce) package cream cheese, softened"))
    ('1 | 8', 'ounce | package', 'cream cheese')
    """
    return (
        _BETWEEN.join(line.quantities),
        _BETWEEN.join(line.units),
        _BETWEEN.join(line.foods),
    )
