"""Which of a food's measures an amount means."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from reformulate.measures.amount import Term
from reformulate.measures.measure import Measure
from reformulate.measures.words import Kind, canonical_unit, kind_of

_WORD: Final = re.compile(r"[a-z]+")
_NET: Final = (Kind.MASS, Kind.VOLUME)
"""What a pack is sold by."""
_BRACKETED: Final = re.compile(r"\([^()]*\)")
_SIZE: Final = re.compile(
    r"(?P<whole>[0-9]+ )?(?:(?P<top>[0-9]+)/(?P<bottom>[0-9]+)|(?P<plain>[0-9]*\.?[0-9]+))"
    r"[ -]?(?P<unit>fl\.? ?oz|[A-Za-z]+)"
)


def words_of(text: str) -> frozenset[str]:
    """Return the words of a qualifier or preparation, without bracketed remarks and figures.

    "extra large" counts as one word, so that it is not taken for "large".
    """
    plain = re.sub(r"extra[ -]large", "extralarge", _BRACKETED.sub(" ", text.lower()))
    return frozenset(_WORD.findall(_SIZE.sub(_without_size, plain)))


def _without_size(found: re.Match[str]) -> str:
    return " " if kind_of(canonical_unit(found["unit"]) or "") in _NET else found[0]


def choose(
    measures: Sequence[Measure], qualifier: str, prep: str, *, any_else: bool = True
) -> tuple[Measure, ...]:
    """Return the measures that an amount may mean, most fitting first; empty where none may be.

    Parameters
    ----------
    measures : sequence of Measure
        Measures of one food among which only the qualifier tells.
    qualifier : str
        The one that the amount names, or "". A measure with another one is never meant; a measure
        without any is, when none has it.
    prep : str
        The line's preparation: a qualifier whose words all occur in it is meant.
    any_else : bool
        Whether the remaining measures follow when the preparation names some.
    """
    if qualifier:
        wanted = words_of(qualifier)
        named = [found for found in measures if wanted <= words_of(found.qualifier)]
        measures = named or [found for found in measures if not found.qualifier]
    told = words_of(prep)
    fitting = {found: words_of(found.qualifier) for found in measures}
    prepared = [found for found, words in fitting.items() if words and words <= told]
    # Sorting is stable: among equals the food's own order counts.
    prepared.sort(key=lambda found: -len(fitting[found]))
    if prepared and not any_else:
        return tuple(prepared)
    return (*prepared, *(found for found in measures if found not in prepared))


def size_of(measure: Measure) -> Term | None:
    """Return the net size that the qualifier of a pack names: 15 oz in "15 oz, drained"."""
    for found in _SIZE.finditer(measure.qualifier):
        unit = canonical_unit(found["unit"])
        if unit is None or kind_of(unit) not in _NET:
            continue
        if found["bottom"] and int(found["bottom"]) == 0:
            continue
        part = Fraction(found["plain"] or f"{found['top']}/{found['bottom']}")
        value = part + int(found["whole"] or 0)
        if value > 0:
            return Term(quantity=value, unit=unit, decimal=True)
    return None


def described(measure: Measure) -> str:
    """Write a measure of a food with its mass: "1 cup, chopped = 160 g"."""
    return f"{named(measure)} = {measure.grams:.4g} g"


def named(measure: Measure) -> str:
    """Write a measure of a food as the messages name it: "1 cup, chopped" or "1 medium"."""
    if not measure.qualifier:
        return f"1 {measure.unit}"
    if measure.unit == "piece":
        return f"1 {measure.qualifier}"
    if kind_of(measure.unit) is Kind.PACK:
        return f"1 {measure.unit} ({measure.qualifier})"
    return f"1 {measure.unit}, {measure.qualifier}"
