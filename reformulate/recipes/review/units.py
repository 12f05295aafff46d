"""Units that do not fit the food: cups of salt, cloves of yogurt, teaspoons of chicken."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from reformulate.errors import BadInput
from reformulate.measures import Amount, parse_amount, weigh
from reformulate.measures.amount import Term
from reformulate.measures.words import UNITS, kind_of
from reformulate.measures.words import Kind as UnitKind
from reformulate.recipes.reading.word_sets import word_set
from reformulate.recipes.review.collective import is_salt
from reformulate.recipes.review.context import Context, LineSeen, parsed
from reformulate.recipes.review.fixes import SetAmount
from reformulate.recipes.review.food_class import Handled, handled
from reformulate.recipes.review.values import Finding, Fix, Kind
from reformulate.recipes.review.words import grams_words, percent

SALT_SHARE: Final = 0.02
"""From this share of the batch it is too salty to eat [fraction]; sea water has 3.5 %."""
_SPICE_SHARE: Final = 0.03
"""From this share of the batch a cup of spice is a slip [fraction]."""

_BIG: Final = frozenset({"cup", "pint", "quart", "gallon", "l", "dl"})
_TINY: Final = frozenset({"tsp", "pinch", "dash", "smidgen", "drop"})
_PINCHES: Final = frozenset({"pinch", "dash", "smidgen"})
_BY_THE_SACK: Final = frozenset({"lb", "kg", "l", "gallon", "quart"})
_STRONG: Final = word_set("chile horseradish wasabi flakes dried ginger garlic nori")
_VOLUMES: Final = frozenset({"ml", "cl", "dl", "l", "fl oz"})

_ONLY: Final = {
    unit: word_set(words)
    for unit, words in {
        "clove": "garlic clove",
        "sprig": "thyme rosemary dill mint parsley basil cilantro oregano sage tarragon marjoram chervil "
        "watercress savory fennel",
        "rib": "celery chard rhubarb kale cabbage fennel pork beef",
        "stalk": "celery chard rhubarb lemongrass scallion asparagus leek broccoli fennel kale",
        "floret": "broccoli cauliflower",
        "spear": "asparagus pickle broccoli cucumber pineapple chicory carrot",
        "ear": "corn",
        "drop": "extract sauce juice oil vinegar syrup liquid water sriracha",
        "link": "sausage chorizo frankfurter",
        "stick": "butter margarine celery carrot cinnamon crab pretzel breadstick mozzarella pepperoni "
        "celeriac lard jicama spread",
    }.items()
}
"""Units that belong to some foods only, by words of their names."""

_SPELT: Final = {
    "tsp": "teaspoons",
    "tbsp": "tablespoons",
    "ml": "millilitres",
    "cl": "centilitres",
    "dl": "decilitres",
    "l": "litres",
    "fl oz": "fluid ounces",
    "lb": "pounds",
    "kg": "kilograms",
}
_SOLID_COUNTS: Final = word_set(
    "slice head bulb bunch leaf stalk rib spear floret fillet strip wedge ear pod root ring link loaf roll "
    "sprig clove cracker"
)
"""Counts of what is neither poured nor spooned nor a powder."""


def find_units(context: Context) -> Iterator[Finding]:
    """Find amounts in units that their food is never measured in."""
    for seen in context.lines:
        terms = _terms(seen)
        for term in terms:
            found = _misfit(term, seen, context)
            if found is not None:
                words, confidence = found
                yield _finding(seen, term, terms, words, confidence, context)
                break
        else:
            yield from _too_salty(seen, terms, context)


def _terms(seen: LineSeen) -> tuple[Term, ...]:
    """Return what the line is measured in; by the source where the line is weighed."""
    amount = parsed(seen.line.amount) if seen.line.amount else None
    if amount is None and seen.source is not None and seen.source.amount:
        amount = parsed(seen.source.amount)
    return amount.terms if amount is not None else ()


def _misfit(term: Term, seen: LineSeen, context: Context) -> tuple[str, float] | None:
    """Say what does not fit, and how surely; None where the unit fits."""
    unit, how = term.unit, handled(seen.food)
    if unit == "mg":
        return "Milligrams are no kitchen measure", 0.9
    if kind_of(unit) in (UnitKind.COUNT, UnitKind.PACK):
        sure = 0.9 if _is_odd_count(unit, how, seen) else 0.0
    elif how is Handled.POWDER:
        sure = _odd_for_powder(unit, seen, context)
    elif how is Handled.FRESH_HERB:
        sure = 0.7 if unit in _BY_THE_SACK else 0.0
    elif how is Handled.PIECES:
        sure = 0.8 if unit in _TINY or unit in _VOLUMES else 0.0
    else:
        sure = 0.7 if unit in _PINCHES and _is_no_seasoning(seen, how) else 0.0
    return (_not_in(unit), sure) if sure else None


def _is_odd_count(unit: str, how: Handled, seen: LineSeen) -> bool:
    # The food's own measures decide: a leaf of gelatin, a slice of cream cheese.
    if any(measure.unit == unit for measure in seen.food.measures):
        return False
    if unit in _ONLY:
        return not any(word in seen.food.name.lower() for word in _ONLY[unit])
    soft = (Handled.POURED, Handled.SPOONED, Handled.POWDER, Handled.FLOUR)
    return unit in _SOLID_COUNTS and how in soft


def _odd_for_powder(unit: str, seen: LineSeen, context: Context) -> float:
    """Return how surely a powder is not measured so [fraction]."""
    heavy = unit in ("lb", "kg")
    if not heavy and unit not in _BIG:
        return 0.0
    if seen.food.group == "Salt and leavening" or "extract" in seen.food.name.lower():
        return 0.95
    share = seen.grams / context.total_grams if context.total_grams > 0 else 0.0
    return 0.85 if heavy or share > _SPICE_SHARE else 0.5


def _is_no_seasoning(seen: LineSeen, how: Handled) -> bool:
    """Whether a pinch of it makes no difference."""
    if how not in (Handled.SPOONED, Handled.SMALL):
        return False
    if seen.food.group in ("Dairy", "Plant bases", "Mayonnaise and dressings"):
        return True
    name = seen.food.name.lower()
    return seen.food.group in ("Vegetables", "Fruit", "Beans and lentils") and not any(
        word in name for word in _STRONG
    )


def _not_in(unit: str) -> str:
    return f"This is not measured in {_SPELT.get(unit, UNITS[unit].plural)}"


def _too_salty(seen: LineSeen, terms: tuple[Term, ...], context: Context) -> Iterator[Finding]:
    """Find so much salt that a spoon was mistaken."""
    share = seen.grams / context.total_grams if context.total_grams > 0 else 0.0
    if not is_salt(seen) or share <= SALT_SHARE:
        return
    yield Finding(
        kind=Kind.UNIT,
        where=seen.line.id,
        what=f"{_salt_said(seen)} is {100.0 * share:.1f} % of the batch.",
        why=f"Up to {percent(SALT_SHARE)} is let pass; a dip has 0.5 to 1 %. A tablespoon may stand for a "
        "teaspoon: check the amount.",
        confidence=0.9 if share > 2 * SALT_SHARE else 0.75,
        gravity=0.8,
        fix=_in_unit(seen, terms, "tsp", context) if any(t.unit != "tsp" for t in terms) else None,
    )


def _salt_said(seen: LineSeen) -> str:
    written, grams = f"{seen.line.written} of salt", grams_words(seen.grams)
    return written if seen.line.grams is not None else f"{written}, {grams},"


def _finding(
    seen: LineSeen,
    term: Term,
    terms: tuple[Term, ...],
    words: str,
    confidence: float,
    context: Context,
) -> Finding:
    return Finding(
        kind=Kind.UNIT,
        where=seen.line.id,
        what=f"{seen.food.name.partition(',')[0]}: {Amount(terms)} is written, "
        f"{grams_words(seen.grams)}. {words}.",
        why="A slip in a unit is a slip in every figure. Check the unit, or write grams.",
        confidence=confidence,
        gravity=max(0.3, context.hangs_on(seen.number, seen.grams)),
        fix=_fix(seen, term, terms, context),
    )


def _fix(seen: LineSeen, term: Term, terms: tuple[Term, ...], context: Context) -> Fix | None:
    how = handled(seen.food)
    if how is Handled.POWDER:
        return _in_unit(seen, terms, "tsp", context)
    if term.unit == "mg":
        return _in_unit(seen, terms, "g", context)
    return (
        _in_unit(seen, terms, "cup", context) if kind_of(term.unit) is not UnitKind.PACK else None
    )


def _in_unit(seen: LineSeen, terms: tuple[Term, ...], unit: str, context: Context) -> Fix | None:
    """Offer the same number in a unit that the food has."""
    if len(terms) != 1:
        return None
    amount = str(Amount((replace(terms[0], unit=unit, qualifier="", size=None),)))
    try:
        grams = weigh(
            parse_amount(amount), seen.food.measures, context.system, seen.line.prep
        ).grams
    except BadInput:
        return None
    return Fix(
        words=f"Make it {amount} ({grams_words(grams)})",
        apply=SetAmount(line=seen.line.id, amount=amount, text=""),
    )
