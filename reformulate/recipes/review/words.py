"""Figures as a cook reads them."""

from __future__ import annotations


def grams_words(grams: float) -> str:
    """Write a mass [g] as a scale shows it.

    >>> grams_words(58.4), grams_words(2.26), grams_words(1234.6)
    ('58 g', '2.3 g', '1235 g')
    """
    return f"{grams:.1f} g".replace(".0 g", " g") if grams < 10 else f"{grams:.0f} g"


def percent(share: float) -> str:
    """Write a share [fraction] in per cent.

    >>> percent(0.154)
    '15 %'
    """
    return f"{100 * share:.0f} %"


def names_of(names: list[str]) -> str:
    """Write names one after another: "salt, oil and lemon".

    >>> names_of(["salt", "oil", "lemon"])
    'salt, oil and lemon'
    """
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"
