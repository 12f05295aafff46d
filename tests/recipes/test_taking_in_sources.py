"""Where a recipe comes from: pages, texts in any encoding, bare lines, any bytes; and its file name."""

from __future__ import annotations

import re
import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.errors import FileProblem
from reformulate.recipes.taking_in import (
    as_text,
    document_name,
    read_source,
    recipe_of,
    summary_of,
    take_in,
)
from tests.recipes.taking_in_cases import FOODS, US

PAGE = """<html><script type="application/ld+json">{"@type": "Recipe", "name": "Herb bowl",
"recipeYield": "6 servings", "recipeIngredient": ["2 cups plain yogurt", "1/4 cup dill"],
"recipeInstructions": "Stir.", "nutrition": {"@type": "NutritionInformation",
"calories": "60 kcal", "sodiumContent": "0.1 g"}}</script></html>"""


def test_a_page_brings_its_claims_and_can_be_corrected_as_text() -> None:
    (source,) = read_source(PAGE.encode(), "saved.html")
    intake = take_in(source, FOODS, US)
    assert dict(recipe_of(intake).claims) == {"energy_kcal": 60.0, "sodium_mg": pytest.approx(100)}
    (again,) = read_source(as_text(source).encode())
    assert (again.title, again.servings) == ("Herb bowl", 6.0)
    assert [line.text for line in again.lines] == ["2 cups plain yogurt", "1/4 cup dill"]
    assert again.steps == ("Stir.",)


def test_a_list_with_boxes_is_no_json() -> None:
    (source,) = read_source(b"[ ] 1 cup hummus\n[x] 2 tbsp dill\n")
    assert [line.food_text for line in source.lines] == ["hummus", "dill"]
    assert not any("page" in note for note in source.notes)


@pytest.mark.parametrize("codec", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_texts_in_other_encodings_are_read(codec: str) -> None:
    (source,) = read_source("Soirée\nServes 4\n\n½ cup crème fraîche\n".encode(codec))
    assert source.title == "Soirée"
    assert source.lines[0].quantity == 0.5


def test_bare_lines_are_ingredients_even_if_they_end_as_headings_do() -> None:
    (source,) = read_source(b"1 cup hummus\r\n\r\nsalt:\rdill", lines_only=True)
    assert [line.food_text for line in source.lines] == ["hummus", "salt", "dill"]
    assert [line.text for line in source.lines] == ["1 cup hummus", "salt:", "dill"]


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_refused_in_words(data: bytes) -> None:
    for name in ("", "a.html", "a.json"):
        try:
            found = read_source(data, name)
        except FileProblem:
            continue
        for source in found:
            intake = take_in(source, FOODS, US)
            assert summary_of(intake)


@given(st.text(max_size=200), st.sets(st.text(string.ascii_lowercase, max_size=3), max_size=5))
def test_a_files_name_is_plain_free_and_short(title: str, others: set[str]) -> None:
    taken_names = {f"{name}.TOML" for name in others}
    name = document_name(title, taken_names)
    assert re.fullmatch(r"[a-z0-9]+(?:-[a-z0-9]+)*\.toml", name)
    assert len(name) <= 70
    assert name not in ("set.toml", "foods.toml")
    assert name.casefold() not in {other.casefold() for other in taken_names}
    assert document_name(title, {*taken_names, name}) != name


@pytest.mark.parametrize("title", ["Set", "Foods", "foods!", "CON", "lpt1"])
def test_no_recipe_is_called_as_a_file_of_the_set_or_a_device(title: str) -> None:
    plain = "".join(letter for letter in title.lower() if letter.isalnum())
    assert document_name(title) == f"{plain}-recipe.toml"
