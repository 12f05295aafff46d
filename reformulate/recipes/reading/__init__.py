"""Recipes as cooks write them: one line, or a whole text.

>>> read_line("2 x 400 g tins chickpeas, drained").amount
'2 tins (400 g)'
"""

from reformulate.recipes.reading.corpus_fields import corpus_fields
from reformulate.recipes.reading.line import read_line
from reformulate.recipes.reading.lists import split_list
from reformulate.recipes.reading.nutrition import printed_for_a_serving
from reformulate.recipes.reading.recipe_values import ReadNote, ReadRecipe
from reformulate.recipes.reading.servings import ReadServings, read_servings
from reformulate.recipes.reading.text import read_text
from reformulate.recipes.reading.values import About, Ask, ReadAmount, ReadLine

__all__ = [
    "About",
    "Ask",
    "ReadAmount",
    "ReadLine",
    "ReadNote",
    "ReadRecipe",
    "ReadServings",
    "corpus_fields",
    "printed_for_a_serving",
    "read_line",
    "read_servings",
    "read_text",
    "split_list",
]
