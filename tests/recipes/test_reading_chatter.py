"""What stands around a pasted recipe becomes neither ingredient nor step, and is kept as a note."""

from __future__ import annotations

import pytest

from reformulate.recipes.reading import ReadRecipe, read_text

AROUND = (
    "Jump to recipe",
    "Print this recipe",
    "PRINT",
    "Pin it",
    "Save this recipe",
    "Share this recipe with friends",
    "Rate this recipe!",
    "Advertisement",
    "Scale 1x 2x 3x",
    "1x 2x 3x",
    "5 from 12 votes",
    "4.8 out of 5",
    "12 comments",
    "Did you make this recipe? Tag us!",
    "Let me know how it went",
    "Photo by J. Smith",
    "Photography and styling by J. Smith",
    "Recipe by Ann Doe",
    "By Ann Doe",
    "Posted on 3 May 2019",
    "Filed under: dips",
    "Adapted from my neighbour",
    "From the kitchen of Aunt Mara",
    "© 2019, all rights reserved",
    "#dip #party",
    "Happy dipping!",
    "Hope you like it!",
    "Thanks for reading!",
    "See you next week,",
    "Bon appétit!",
    "Enjoy!",
)
IN_THE_RECIPE = (
    "Save the liquid for the sauce.",
    "Share the dip between four bowls.",
    "Scale and gut the fish, then rinse.",
    "Pin the edges of the dough together.",
    "Follow with the cream, a little at a time.",
    "Top with the done onions.",
)
FOODS = ("Best mayonnaise", "3 star anise", "2 x 400 g tins beans", "4/5 cup sugar", "5 cloves")


def pasted(*, ingredients: str = "1 cup yogurt\n1 tbsp dill", end: str = "") -> ReadRecipe:
    return read_text(
        f"Herb dip\n\nIngredients\n{ingredients}\n\nMethod\nStir it all.\nChill it.\n{end}"
    )


@pytest.mark.parametrize("line", AROUND)
def test_it_is_no_step_no_ingredient_and_no_title(line: str) -> None:
    below = pasted(end=line)
    among = pasted(ingredients=f"1 cup yogurt\n{line}\n1 tbsp dill")
    above = read_text(f"{line}\nHerb dip\n\n1 cup yogurt\n1 tbsp dill\n\nStir it all.\nChill it.\n")
    for recipe in (below, among, above):
        assert recipe.title == "Herb dip"
        assert [one.food_text for one in recipe.lines] == ["yogurt", "dill"]
        assert recipe.steps == ("Stir it all.", "Chill it.")
        assert line in [note.text for note in recipe.notes]


@pytest.mark.parametrize("step", IN_THE_RECIPE)
def test_steps_that_begin_alike_stay_steps(step: str) -> None:
    assert pasted(end=step).steps[-1] == step


@pytest.mark.parametrize("line", FOODS)
def test_foods_that_begin_alike_stay_ingredients(line: str) -> None:
    recipe = pasted(ingredients=f"1 cup yogurt\n{line}")
    assert [one.text for one in recipe.lines] == ["1 cup yogurt", line]


@pytest.mark.parametrize("title", ["Best crab dip", "Love potion dip", "Happy hour spread"])
def test_titles_that_begin_alike_stay_titles(title: str) -> None:
    assert read_text(f"{title}\n\n1 cup yogurt\n\nStir it.\n").title == title


@pytest.mark.parametrize(
    "farewell",
    [
        "Serves a crowd. Love, Aunt",
        "Enjoy!\nServes a crowd. Love, Aunt Mara\nPhoto by J. Smith",
        "Love, Aunt Mara xx",
        "Love Mara",
        "Best,\nMara",
        "xoxo\n\nAunt Mara",
        "Cheers!\n- Mara & Sue",
    ],
)
def test_a_farewell_and_the_name_below_it_are_no_steps(farewell: str) -> None:
    recipe = pasted(end=farewell)
    assert recipe.steps == ("Stir it all.", "Chill it.")
    assert [note.text for note in recipe.notes] == [
        line for line in farewell.splitlines() if line.strip()
    ]
    bare = read_text(f"Herb dip\n1 cup yogurt\n1 tbsp dill\n{farewell}\n")
    assert [line.food_text for line in bare.lines] == ["yogurt", "dill"]
    assert bare.steps == ()


def test_what_follows_a_farewell_but_is_no_name_is_kept() -> None:
    recipe = pasted(end="Enjoy!\nServe Warm")
    assert recipe.steps == ("Stir it all.", "Chill it.", "Serve Warm")


def test_below_a_heading_of_the_page_nothing_belongs_to_the_recipe() -> None:
    recipe = pasted(
        end="You might also like\nHot crab dip\nLeave a reply\nGreat dip, made it twice."
    )
    assert recipe.steps == ("Stir it all.", "Chill it.")
    assert [note.line for note in recipe.notes] == [10, 11, 12, 13]


def test_a_heading_of_the_page_above_the_recipe_hides_nothing() -> None:
    recipe = read_text("Reviews (12)\nHerb dip\n\n1 cup yogurt\n1 tbsp dill\n\nStir it all.\n")
    assert (recipe.title, recipe.steps) == ("Herb dip", ("Stir it all.",))
    assert len(recipe.lines) == 2


def test_a_story_above_ingredients_without_a_heading_ends_with_the_first_of_them() -> None:
    recipe = read_text(
        "Herb dip\nNotes:\nFrom 1974, when all had dill.\n\n1 cup yogurt\n1 tbsp dill\n\nStir it all.\n"
    )
    assert [line.food_text for line in recipe.lines] == ["yogurt", "dill"]
    assert recipe.steps == ("Stir it all.",)
