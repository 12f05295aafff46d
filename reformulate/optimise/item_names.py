"""Short names for the things whose grams may move: as few words as tell them apart."""

from __future__ import annotations

from collections import Counter

from reformulate.optimise.items import Items
from reformulate.optimise.words import spoken


def short_names(items: Items) -> tuple[str, ...]:
    """Return a name for each item: ``cream cheese``, ``light mayonnaise``, ``strained yogurt``.

    A line goes by the first words of its food's name, a swap by the first two, for it has yet to be
    shopped for; with more words where others would read the same.
    """
    parts = [item.food.name.split(", ") for item in items.ingredients]
    words = [1] * len(items.lines) + [2] * len(items.swaps)
    longest = max((len(part) for part in parts), default=1)
    for _ in range(longest):
        names = _joined(parts, words)
        count = Counter(names)
        words = [n + (count[name] > 1) for n, name in zip(words, names, strict=True)]
    return _joined(parts, words)


def _joined(parts: list[list[str]], words: list[int]) -> tuple[str, ...]:
    return tuple(spoken(", ".join(part[:n])) for part, n in zip(parts, words, strict=True))
