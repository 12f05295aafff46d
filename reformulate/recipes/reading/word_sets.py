"""Sets of words, written as plain text so that they can be read and kept in order."""

from __future__ import annotations


def word_set(text: str) -> frozenset[str]:
    """Return the words of ``text``.

    Examples
    --------
    >>> sorted(word_set("pinch dash"))
    ['dash', 'pinch']
    """
    return frozenset(text.split())


def phrase_set(text: str) -> frozenset[tuple[str, ...]]:
    """Return the phrases of ``text``, which semicolons or line ends part, each as its words.

    Examples
    --------
    >>> sorted(phrase_set("sour cream; ice cream"))
    [('ice', 'cream'), ('sour', 'cream')]
    """
    return frozenset(
        tuple(phrase.split()) for phrase in text.replace("\n", ";").split(";") if phrase.strip()
    )
