"""Which food of a table a line means, what it weighs, and what is worth asking.

>>> from reformulate.foods import food_table
>>> match_food("1 (8 oz) package reduced-fat cream cheese, softened", food_table()).food
'cream-cheese-neufchatel'
"""

from reformulate.recipes.matching.consequence import Consequence, asking_order, consequence
from reformulate.recipes.matching.grams import grams_asks, grams_of
from reformulate.recipes.matching.match import match_food, name_to_remember
from reformulate.recipes.matching.values import Candidate, Match

__all__ = [
    "Candidate",
    "Consequence",
    "Match",
    "asking_order",
    "consequence",
    "grams_asks",
    "grams_of",
    "match_food",
    "name_to_remember",
]
