"""What the questions of a line are about."""

from __future__ import annotations

from reformulate.recipes.reading import About, ReadLine


def abouts(line: ReadLine) -> set[About]:
    return {ask.about for ask in line.asks}
