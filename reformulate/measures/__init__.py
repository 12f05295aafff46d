"""Units, household amounts, and what a cook can measure.

>>> from fractions import Fraction
>>> onion = (Measure(unit="cup", grams=160.0, qualifier="chopped", source="SR28, NDB 11282"),)
>>> weigh(parse_amount("1 tbsp"), onion, system("us"))
Weighed(grams=10.0, route='1 tbsp = 1/16 cup; 1 cup, chopped = 160 g (SR28, NDB 11282)')
>>> str(household(130.0, onion, system("us"), like=parse_amount("1 cup")).amount)
'3/4 cup + 1 tbsp'
"""

from reformulate.measures.amount import Amount, Term, scaled
from reformulate.measures.household import Household, household, measurable
from reformulate.measures.measure import Measure
from reformulate.measures.reading import parse_amount
from reformulate.measures.systems import SYSTEMS, MeasureSystem, system
from reformulate.measures.units import canonical_unit, grams_per, millilitres
from reformulate.measures.weigh import Weighed, weigh

__all__ = [
    "SYSTEMS",
    "Amount",
    "Household",
    "Measure",
    "MeasureSystem",
    "Term",
    "Weighed",
    "canonical_unit",
    "grams_per",
    "household",
    "measurable",
    "millilitres",
    "parse_amount",
    "scaled",
    "system",
    "weigh",
]
