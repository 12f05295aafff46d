"""Which food of a table a line means, what it weighs, and what is worth asking.

>>> from reformulate.foods import food_table
>>> match_food("1 (8 oz) package reduced-fat cream cheese, softened", food_table()).food
'cream-cheese-neufchatel'
"""

from reformulate.recipes.matching.match import match_food, name_to_remember
from reformulate.recipes.matching.values import Candidate, Match

__all__ = ["Candidate", "Match", "match_food", "name_to_remember"]
