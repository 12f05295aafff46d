r"""A recipe on its way in: read, matched, weighed, asked about, and then a recipe.

>>> from reformulate.foods import food_table
>>> from reformulate.measures import SYSTEMS
>>> source, = read_source(b"Salsa bowl\nServes 4\n\n2 cups chopped tomatoes\nsalt to taste\n")
>>> intake = take_in(source, food_table(), SYSTEMS["us"])
>>> [str(question) for question in open_questions(intake)]
["How much salt? The line says 'to taste'."]
"""

from reformulate.recipes.taking_in.asking import open_questions
from reformulate.recipes.taking_in.edits import (
    answered,
    carried_over,
    chosen_foods,
    skip,
    with_amount,
    with_food,
    with_role,
    with_servings,
    with_title,
)
from reformulate.recipes.taking_in.naming import document_name
from reformulate.recipes.taking_in.offers import foods_on_offer
from reformulate.recipes.taking_in.roles import guess_roles
from reformulate.recipes.taking_in.source import Source, as_text, read_source, read_source_file
from reformulate.recipes.taking_in.taking import recipe_of, summary_of, take_in
from reformulate.recipes.taking_in.values import Choice, Intake, IntakeLine, Question, Topic

__all__ = [
    "Choice",
    "Intake",
    "IntakeLine",
    "Question",
    "Source",
    "Topic",
    "answered",
    "as_text",
    "carried_over",
    "chosen_foods",
    "document_name",
    "foods_on_offer",
    "guess_roles",
    "open_questions",
    "read_source",
    "read_source_file",
    "recipe_of",
    "skip",
    "summary_of",
    "take_in",
    "with_amount",
    "with_food",
    "with_role",
    "with_servings",
    "with_title",
]
