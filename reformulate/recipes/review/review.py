"""The review before print: every check on one recipe, most serious first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from reformulate.foods import FoodTable
from reformulate.measures import MeasureSystem
from reformulate.recipes.batch import Batch
from reformulate.recipes.review.amounts import find_disagreeing
from reformulate.recipes.review.claims import find_wrong_claims
from reformulate.recipes.review.context import Context, context_of
from reformulate.recipes.review.drained import find_drained
from reformulate.recipes.review.energy_sum import find_wrong_sum
from reformulate.recipes.review.left_out import find_left_out
from reformulate.recipes.review.moisture import find_moisture
from reformulate.recipes.review.naming import naming_of
from reformulate.recipes.review.oil import find_oil
from reformulate.recipes.review.portion import find_portion
from reformulate.recipes.review.salt import find_salt
from reformulate.recipes.review.steps import find_unlisted, find_unused
from reformulate.recipes.review.twice import find_twice
from reformulate.recipes.review.units import find_units
from reformulate.recipes.review.values import Finding

_NOTHING: Final[Mapping[str, str]] = MappingProxyType({})
_NO_CLAIMS: Final[Mapping[str, float]] = MappingProxyType({})


def review(
    batch: Batch,
    foods: FoodTable,
    system: MeasureSystem,
    *,
    texts: Mapping[str, str] = _NOTHING,
    claims: Mapping[str, float] = _NO_CLAIMS,
) -> tuple[Finding, ...]:
    """Find what is easily missed before a recipe is printed; never fails.

    Parameters
    ----------
    batch : Batch
        The recipe, weighed.
    foods : FoodTable
        The foods it was weighed with.
    system : MeasureSystem
        Whose cups and spoons its amounts are written in.
    texts : mapping, optional
        Ingredient lines to the letter by line id; a line's own ``text`` stands where none is given.
        An id that no line has is a line of the source that the recipe leaves out.
    claims : mapping, optional
        What the source prints a serving, by nutrient key [unit of the nutrient]; beside, and before,
        the recipe's own ``claims``. Figures below 0 and unknown keys are passed over.

    Returns
    -------
    tuple of Finding
        Most serious first: by how far the figures hang on it and how sure it is. A fix changes the
        recipe; where it was found in a text or a claim that is handed in, hand in what is left.
    """
    context = context_of(batch, foods, system, texts, claims)
    found = sorted(_all(context), key=lambda finding: -finding.weight)
    return tuple({(one.kind, one.where, one.what): one for one in found}.values())


def _all(context: Context) -> Iterator[Finding]:
    naming = naming_of(context)
    yield from find_disagreeing(context)
    yield from find_unlisted(context, naming)
    yield from find_unused(context, naming)
    yield from find_left_out(context)
    yield from find_wrong_claims(context)
    yield from find_wrong_sum(context)
    yield from find_portion(context)
    yield from find_units(context)
    yield from find_salt(context, naming)
    yield from find_oil(context, naming)
    yield from find_drained(context)
    yield from find_twice(context)
    yield from find_moisture(context, naming)
