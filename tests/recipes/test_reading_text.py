from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.recipes.reading import ReadRecipe, read_servings, read_text, split_list
from reformulate.recipes.reading.text import MOST_LINES
from tests.yardstick import expect_bounded

MAIL = """\
From: someone@example.org
Subject: Fwd: Re: White bean spread

> Prep time: 10 min
> Yield: 2 1/2 cups (10 servings)
>
> INGREDIENTS:
> - 2 cans (15 oz each) white beans, drained
>   and rinsed
> - 1/4 cup (60 ml) olive oil, plus more
>   for drizzling
> - juice of 1 lemon
> For the topping:
> * pinch of paprika
>
> DIRECTIONS:
> 1. Put beans, oil and juice in a processor and
>    blend until smooth.
> 2) Spoon into a bowl.
>
> Notes
> Keeps 3 days.
"""

NOTEBOOK = """\
Hi Sue,

here is the dip we talked about, everybody loved it on Sunday!

Aunt Mara's Spinach Dip (serves 8-10)

10 oz frozen spinach, thawed
1 (8 oz) pkg cream cheese, softened
½ cup mayo
Hot sauce
salt and pepper to taste

Beat cream cheese until smooth. Stir in everything else
and chill for at least two hours.
Serve with crackers.

Love, Mara
"""


def amounts(recipe: ReadRecipe) -> list[str]:
    return [line.amount for line in recipe.lines]


def foods(recipe: ReadRecipe) -> list[str]:
    return [line.food_text for line in recipe.lines]


def left_out(recipe: ReadRecipe) -> list[int]:
    return [note.line for note in recipe.notes]


def test_a_quoted_mail_with_headings_is_read() -> None:
    recipe = read_text(MAIL)
    assert recipe.title == "White bean spread"
    assert recipe.servings is not None
    assert (recipe.servings.number, recipe.servings.makes) == (10.0, "2 1/2 cups")
    assert amounts(recipe) == ["2 cans (15 oz)", "1/4 cup", "1", "", "1 pinch"]
    assert [line.heading for line in recipe.lines] == [False, False, False, True, False]
    assert recipe.lines[0].prep == "drained and rinsed"
    assert recipe.lines[1].and_extra
    assert recipe.places == (8, 10, 12, 13, 14)
    assert recipe.steps == (
        "Put beans, oil and juice in a processor and blend until smooth.",
        "Spoon into a bowl.",
    )
    assert left_out(recipe) == [1, 4, 22]


def test_a_notebook_without_headings_is_read() -> None:
    recipe = read_text(NOTEBOOK)
    assert recipe.title == "Aunt Mara's Spinach Dip"
    assert recipe.servings is not None
    assert (recipe.servings.number, recipe.servings.range) == (9.0, (8.0, 10.0))
    assert foods(recipe) == ["spinach", "cream cheese", "mayo", "Hot sauce", "salt"]
    assert recipe.steps == (
        "Beat cream cheese until smooth. Stir in everything else and chill for at least two hours.",
        "Serve with crackers.",
    )
    assert left_out(recipe) == [1, 3, 17]


def test_ingredients_in_a_paragraph_are_parted() -> None:
    recipe = read_text(
        "Onion dip\n\n"
        "Ingredients: 2 cups sour cream, chilled, 1/2 cup mayonnaise, 1 packet soup mix, 2 tsp\n"
        "lemon juice and 1 tsp salt; pepper.\n\n"
        "Method: Mix everything. Chill 2 hours.\n"
    )
    assert foods(recipe) == [
        "sour cream",
        "mayonnaise",
        "soup mix",
        "lemon juice",
        "salt",
        "pepper",
    ]
    assert amounts(recipe) == ["2 cups", "1/2 cup", "1 pack", "2 tsp", "1 tsp", ""]
    assert recipe.lines[0].prep == "chilled"
    assert recipe.steps == ("Mix everything. Chill 2 hours.",)


def test_marked_up_text_with_boxes_is_read() -> None:
    recipe = read_text(
        "# Feta Dip\n*Serves 6*\n## Ingredients for the dip\n- [ ] 200g feta\n- [x] 1 tbsp oil\n"
        "## Method\nCrumble the feta.\n\nMix.\n"
    )
    assert recipe.title == "Feta Dip"
    assert recipe.servings is not None
    assert recipe.servings.number == 6.0
    assert amounts(recipe) == ["", "200 g", "1 tbsp"]
    assert recipe.lines[0].heading
    assert recipe.steps == ("Crumble the feta.", "Mix.")


def test_groups_and_numbered_steps_are_told_from_ingredients() -> None:
    recipe = read_text(
        "HOT CRAB DIP\nMakes about 3 cups\n\nDIP\n8 oz cream cheese\n1 lb crabmeat\n\n"
        "TOPPING\n1 cup breadcrumbs\n2 T butter, melted\n\n"
        "Step 1: Preheat oven to 350 F.\nStep 2: Mix 1 cup cheese in; spread in a dish.\n"
    )
    assert recipe.title == "HOT CRAB DIP"
    assert recipe.servings is not None
    assert (recipe.servings.number, recipe.servings.makes) == (None, "3 cups")
    headings = [line.comment for line in recipe.lines if line.heading]
    assert headings == ["DIP", "TOPPING"]
    assert amounts(recipe) == ["", "8 oz", "1 lb", "", "1 cup", "2 tbsp"]
    assert recipe.steps == ("Preheat oven to 350 F.", "Mix 1 cup cheese in; spread in a dish.")


def test_amounts_after_the_food_are_read() -> None:
    recipe = read_text(
        "Smoked fish pate — serves 4 to 6\nSmoked trout: 200 g\nCream cheese: 100 g\n"
        "Lemon juice, to taste\n\nFlake the fish. Blend with the rest and chill.\n"
    )
    assert recipe.title == "Smoked fish pate"
    assert recipe.servings is not None
    assert recipe.servings.range == (4.0, 6.0)
    assert amounts(recipe) == ["200 g", "100 g", ""]
    assert recipe.steps == ("Flake the fish. Blend with the rest and chill.",)


def test_steps_numbered_in_one_paragraph_are_parted() -> None:
    recipe = read_text("Dip\n1 cup yogurt\n1. Stir the yogurt. 2. Chill it for 2 hours. 3. Serve.")
    assert recipe.steps == ("Stir the yogurt.", "Chill it for 2 hours.", "Serve.")


def test_steps_below_ingredients_need_no_heading() -> None:
    recipe = read_text("Dip\nIngredients\n1 cup yogurt\nchives\nStir the chives into the yogurt.\n")
    assert foods(recipe) == ["yogurt", "chives"]
    assert recipe.steps == ("Stir the chives into the yogurt.",)


def test_what_is_not_found_is_said() -> None:
    recipe = read_text("Stir the chives into the yogurt until smooth.")
    assert (recipe.title, recipe.lines) == ("", ())
    assert recipe.steps == ("Stir the chives into the yogurt until smooth.",)
    assert [note.what for note in recipe.notes] == ["No title found.", "No ingredients found."]


def test_two_statements_of_servings_are_noticed() -> None:
    recipe = read_text("Dip\nServes 4\n1 cup yogurt\nServes 6")
    assert recipe.servings is not None
    assert recipe.servings.number == 4.0
    assert left_out(recipe) == [4]


@pytest.mark.parametrize(
    ("text", "number", "ends", "makes"),
    [
        ("Serves 8", 8.0, None, ""),
        ("serves: 6–8 people", 7.0, (6.0, 8.0), ""),
        ("Servings: 12", 12.0, None, ""),
        ("4 to 6 servings", 5.0, (4.0, 6.0), ""),
        ("For 4 people", 4.0, None, ""),
        ("Yield: 12", 12.0, None, ""),
        ("Yields about 3 cups", None, None, "3 cups"),
        ("Makes 2 ½ cups (10 servings)", 10.0, None, "2 ½ cups"),
        ("Serves 8 as an appetizer | Prep 10 min", 8.0, None, ""),
    ],
)
def test_servings_are_read(
    text: str, number: float | None, ends: tuple[float, float] | None, makes: str
) -> None:
    servings = read_servings(text)
    assert servings is not None
    assert (servings.number, servings.range, servings.makes) == (number, ends, makes)


@pytest.mark.parametrize(
    "text", ["Serve with 8 crackers", "Makes a great lunch", "2 cups flour", "For the dip:", ""]
)
def test_other_lines_say_no_servings(text: str) -> None:
    assert read_servings(text) is None


@pytest.mark.parametrize(
    "text",
    [
        "1 cup butter, 2 sticks, softened",
        "15 oz chickpeas, 1 can, drained and rinsed",
        "boneless, skinless chicken breasts",
        "1 onion, finely chopped (about 1 cup, packed)",
        "1,5 kg potatoes",
    ],
)
def test_one_ingredient_with_commas_stays_whole(text: str) -> None:
    assert split_list(text) == (text,)


LINES = st.sampled_from(
    [
        *("1 cup sour cream", "- 2 tbsp dill, chopped", "salt to taste", "chives", "200g feta,"),
        *("Ingredients", "METHOD:", "Notes:", "For the topping:", "Serves 4", "TOPPING", "", "---"),
        *("1. Mix it all.", "Stir in the cream", "and chill.", "> quoted", "Hi Sue,", "# Dip", "("),
        *("Subject: Fwd: Dip", "Prep time: 5 min", "1 cup a, 2 cups b; c", "\0", "\u202edip"),
    ]
)


@given(st.one_of(st.text(max_size=300), st.lists(LINES, max_size=25).map("\n".join)))
def test_no_text_breaks_the_reading(text: str) -> None:
    recipe = read_text(text)
    assert len(recipe.places) == len(recipe.lines)
    assert list(left_out(recipe)) == sorted(left_out(recipe))
    last = len(text.splitlines())
    assert all(1 <= place <= last for place in recipe.places)
    assert all("\0" not in step and "\u202e" not in step for step in recipe.steps)


@given(st.lists(LINES, max_size=25).map("\n".join))
def test_no_line_with_an_amount_is_lost(text: str) -> None:
    recipe = read_text(text)
    kept = "\n".join(
        [recipe.title]
        + [line.text for line in recipe.lines]
        + list(recipe.steps)
        + [note.text for note in recipe.notes]
    )
    assert kept.count("1 cup sour cream") == text.count("1 cup sour cream")


@pytest.mark.parametrize(
    "text",
    [
        "1 cup sour cream, chilled\n" * 1_000_000,
        "a\n" * 1_000_000,
        "mix the flour\n" * 1_000_000,
        "2 cups flour,\n" * 1_000_000,
        "a" * 50_000_000,
        "\0" * 50_000_000,
        "a:" * 1_000_000,
        "salt and 1 c " * 1_000_000,
        "(" * 1_000_000,
    ],
    ids=[
        "ingredients",
        "letters",
        "steps",
        "list",
        "one line",
        "NULs",
        "colons",
        "ands",
        "nesting",
    ],
)
def test_a_huge_text_is_read_in_bounded_time_and_the_cut_is_said(text: str) -> None:
    as_long_as_it_may_be = "1 cup sour cream, chilled\n" * MOST_LINES
    expect_bounded(lambda: read_text(text), 20, lambda: read_text(as_long_as_it_may_be))
    recipe = read_text(text)
    assert len(recipe.lines) <= 10 * MOST_LINES
    assert any("goes on" in note.what for note in recipe.notes)
