"""A messy recipe, taken in and settled, for the tests of taking in."""

from __future__ import annotations

from reformulate.foods import food_table
from reformulate.measures import SYSTEMS
from reformulate.recipes.taking_in import (
    Intake,
    Topic,
    answered,
    open_questions,
    read_source,
    take_in,
    with_servings,
    with_title,
)

FOODS, US = food_table(), SYSTEMS["us"]

MESSY = """From: Odile
Subject: that dip!!

Odile's Cheesy Bean & Chile Dip  (serves 10-12)

You'll need:
- 2 (8 oz) pkgs cream cheese, softened
- 1 x 15oz can black beans, drained and rinsed
• 1½ c. shredded sharp cheddar, divided
- 3/4 cup mayo or sour cream
- 1-2 jalapenos, seeded + finely chopped
- a handful of cilantro
- juice of 1 lime
- 1 Tbsp plus 1 tsp olive oil
- 2 cloves garlic (minced)
- 1/2 tsp cumin (optional)
- salt and pepper to taste
- tortilla chips, for serving

Beat the cream cheese with the mayo. Fold in the rest.
Bake at 375F for 25 mins until bubbly.
"""
"""Invented for this test."""


def taken(text: str, **remembered: str) -> Intake:
    (source,) = read_source(text.encode())
    words = {name.replace("_", " "): food for name, food in remembered.items()}
    return take_in(source, FOODS, US, words)


def place(intake: Intake, words: str, part: int = 0) -> int:
    return next(
        i for i, line in enumerate(intake.lines) if words in line.read.text and line.part == part
    )


def settled(intake: Intake) -> Intake:
    """Take the first answer to every question."""
    while questions := open_questions(intake):
        first = questions[0]
        if first.choices:
            intake = answered(intake, first, first.choices[0])
        elif first.topic is Topic.SERVINGS:
            intake = with_servings(intake, 4)
        else:
            assert first.topic is Topic.TITLE
            intake = with_title(intake, "A title")
    return intake
