"""Recipes in the JSON-LD of pages; every page and recipe here is invented."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.recipes.pages import Page, PageRecipe, PageStep, read_page

DIP: dict[str, Any] = {
    "@context": "https://schema.org",
    "@type": "Recipe",
    "name": "Invented Herb Dip",
    "recipeYield": "8 servings",
    "recipeIngredient": ["1 cup sour cream", "2 tbsp chopped dill"],
    "recipeInstructions": ["Stir.", "Chill."],
}


def page(*data: object, body: str = "") -> bytes:
    scripts = "".join(
        '<script type="application/ld+json">' + json.dumps(each).replace("</", "<\\/") + "</script>"
        for each in data
    )
    return f"<!DOCTYPE html><html><head>{scripts}</head><body>{body}</body></html>".encode()


def only(found: Page) -> PageRecipe:
    (recipe,) = found.recipes
    return recipe


def dip(**changes: Any) -> PageRecipe:
    return only(read_page(page(DIP | changes)))


def texts(recipe: PageRecipe) -> list[str]:
    return [step.text for step in recipe.steps]


def test_a_plain_recipe_is_read_whole() -> None:
    found = read_page(page(DIP))
    assert only(found) == PageRecipe(
        title="Invented Herb Dip",
        yield_text="8 servings",
        servings=8.0,
        lines=("1 cup sour cream", "2 tbsp chopped dill"),
        steps=(PageStep(text="Stir."), PageStep(text="Chill.")),
    )
    assert found.text == ""
    assert found.notes == ()


def test_a_json_file_is_read_like_the_script_of_a_page() -> None:
    data = json.dumps(DIP).encode()
    assert read_page(data, "dip.json") == read_page(page(DIP))
    assert read_page(data) == read_page(page(DIP))


def test_a_json_file_may_hold_a_list() -> None:
    assert only(read_page(json.dumps([DIP]).encode(), "dip.json")).title == "Invented Herb Dip"


@pytest.mark.parametrize(
    "wrap",
    [
        lambda dip: {"@context": "https://schema.org", "@graph": [{"@type": "WebSite"}, dip]},
        lambda dip: [{"@type": "Organization", "name": "Nobody"}, [dip]],
        lambda dip: {"@type": "WebPage", "mainEntity": dip},
        lambda dip: {"@type": "ItemList", "itemListElement": [{"@type": "ListItem", "item": dip}]},
        lambda dip: dip | {"@type": ["NewsArticle", "Recipe"]},
        lambda dip: dip | {"@type": "http://schema.org/Recipe"},
        lambda dip: dip | {"@type": ["https://schema.org/Recipe/"]},
        lambda dip: {
            key if key[0] == "@" else f"schema:{key}": value
            for key, value in (dip | {"@type": "schema:Recipe"}).items()
        },
        lambda dip: {
            key if key[0] == "@" else f"http://schema.org/{key}": value
            for key, value in dip.items()
        },
        lambda dip: dip | {"name": {"@value": "Invented Herb Dip", "@language": "en"}},
        lambda dip: dip | {"recipeIngredient": {"@list": dip["recipeIngredient"]}},
    ],
)
def test_a_recipe_is_found_wherever_it_stands(wrap: Any) -> None:
    assert only(read_page(page(wrap(DIP)))) == dip()


def test_references_are_followed_within_a_graph_and_between_scripts() -> None:
    recipe = DIP | {
        "@id": "#recipe",
        "recipeInstructions": [{"@id": "#one"}, {"@id": "#two"}],
        "author": {"@id": "#cook"},
    }
    steps = [
        {"@id": "#one", "@type": "HowToStep", "text": "Stir."},
        {"@id": "#two", "@type": "HowToStep", "text": "Chill."},
    ]
    cook = {"@id": "#cook", "@type": "Person", "name": "An Invented Cook"}
    found = read_page(page({"@graph": [{"@id": "#recipe"}, recipe, *steps]}, cook))
    assert texts(only(found)) == ["Stir.", "Chill."]
    assert only(found).source == "An Invented Cook"


def test_a_recipe_named_twice_by_its_id_is_one() -> None:
    stub = {"@type": "Recipe", "@id": "#dip"}
    full = DIP | {"@id": "#dip"}
    assert len(read_page(page([stub, full, stub])).recipes) == 1


def test_the_older_name_of_ingredients_is_understood() -> None:
    old = {key: value for key, value in DIP.items() if key != "recipeIngredient"}
    old["ingredients"] = ["1 cup sour cream", "2 tbsp chopped dill"]
    assert only(read_page(page(old))) == dip()


def test_the_newer_name_of_ingredients_wins() -> None:
    assert dip(ingredients=["something else"]).lines == dip().lines


@pytest.mark.parametrize(
    "ingredients",
    [
        "1 cup sour cream\n2 tbsp chopped dill",
        "<ul><li>1 cup sour cream</li><li>2 tbsp chopped dill</li></ul>",
        "&lt;p&gt;1 cup sour cream&lt;/p&gt;&lt;p&gt;2 tbsp chopped dill&lt;/p&gt;",
        "1 cup <b>sour cream</b><br/>2 tbsp <a href='x'>chopped dill</a>",
        ["▢ 1 cup sour cream", "• 2 tbsp chopped dill", " - "],
        [["1 cup sour cream"], ["2 tbsp chopped dill"]],
        [
            {"@type": "HowToSupply", "name": "sour cream", "requiredQuantity": "1 cup"},
            {"name": "chopped dill", "amount": {"value": 2, "unitText": "tbsp"}},
        ],
    ],
)
def test_ingredients_in_any_form_become_lines(ingredients: object) -> None:
    assert dip(recipeIngredient=ingredients).lines == ("1 cup sour cream", "2 tbsp chopped dill")


def test_groups_of_ingredients_keep_their_heading() -> None:
    groups = [
        {"@type": "ItemList", "name": "Base", "itemListElement": ["1 cup sour cream"]},
        {"@type": "HowToSection", "name": "To finish:", "itemListElement": ["2 tbsp dill"]},
    ]
    lines = dip(recipeIngredient={"@type": "ItemList", "itemListElement": groups}).lines
    assert lines == ("Base:", "1 cup sour cream", "To finish:", "2 tbsp dill")


@pytest.mark.parametrize(
    "instructions",
    [
        "Stir.\nChill.",
        "1. Stir.\n2. Chill.",
        "Step 1: Stir.\nStep 2: Chill.",
        "Step 1\nStir.\nStep 2\nChill.",
        "<p>Stir.</p><p>Chill.</p>",
        "<ol>\n<li>Stir.</li>\n<li>Chill.</li>\n</ol><script>alert('x')</script>",
        "&lt;p&gt;Stir.&lt;/p&gt;&lt;p&gt;Chill.&lt;/p&gt;",
        ["<p>Stir.</p>", "Chill.&nbsp;"],
        [{"@type": "HowToStep", "text": "Stir."}, {"@type": "HowToStep", "text": "Chill."}],
        [{"@type": "HowToStep", "name": "Stir."}, {"@type": "HowToStep", "name": "Chill."}],
        [{"@type": "HowToStep", "text": "Stir.\nChill."}],
        {
            "@type": "ItemList",
            "name": "Method",
            "itemListElement": [
                {"@type": "ListItem", "position": 2, "item": {"text": "Chill."}},
                {"@type": "ListItem", "position": 1, "item": {"text": "Stir."}},
            ],
        },
        [
            {
                "@type": "HowToStep",
                "itemListElement": {"@type": "HowToDirection", "text": "Stir."},
            },
            {"@type": "CreativeWork", "text": "Chill."},
        ],
    ],
)
def test_instructions_in_any_form_become_steps(instructions: object) -> None:
    assert dip(recipeInstructions=instructions).steps == dip().steps


def test_sections_give_steps_their_heading() -> None:
    sections = [
        {
            "@type": "HowToSection",
            "name": "The base",
            "itemListElement": [
                {"@type": "HowToStep", "text": "Stir."},
                {
                    "@type": "HowToSection",
                    "name": "Dill",
                    "itemListElement": [{"@type": "HowToStep", "text": "Chop."}],
                },
            ],
        },
        {"@type": "HowToStep", "text": "Serve."},
    ]
    assert dip(recipeInstructions=sections).steps == (
        PageStep(section="The base", text="Stir."),
        PageStep(section="The base: Dill", text="Chop."),
        PageStep(section="", text="Serve."),
    )


def test_a_step_of_directions_and_a_tip_is_one_step() -> None:
    parts = [
        {"@type": "HowToDirection", "text": "Stir."},
        {"@type": "HowToTip", "text": "Use a fork."},
    ]
    steps = [{"@type": "HowToStep", "itemListElement": parts}, "Chill."]
    assert texts(dip(recipeInstructions=steps)) == ["Stir. Tip: Use a fork.", "Chill."]


def test_amounts_before_steps_are_not_taken_for_their_numbers() -> None:
    steps = ["1 cup of cream goes in first.", "2-3 minutes of stirring follow."]
    assert texts(dip(recipeInstructions=steps)) == steps


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("1&frac12; cups", "1½ cups"),
        ("1&amp;frac12; cups", "1½ cups"),
        ("1&amp;amp;frac12; cups", "1½ cups"),
        ("Jo&#39;s &amp; Al&#x27;s", "Jo's & Al's"),
        ("1<sup>1</sup>&frasl;<sub>2</sub> cups", "1 1⁄2 cups"),
        ("350<sup>o</sup>F", "350oF"),
        ("salt &lt; 5 g", "salt < 5 g"),
        ("less < more", "less < more"),
        ("a\u00a0b\u200b\u202ec\tcr\u00e8me", "a bc crème"),
        ("&lt;script&gt;alert(1)&lt;/script&gt; dill", "<script>alert(1)</script> dill"),
        ("<script>alert(1)</script> dill", "dill"),
        ("half \ud83d a pair", "half \ufffd a pair"),
        ("&#99999999999999999999;x", "\ufffdx"),
        ("&#" + "9" * 5000 + ";x", "\ufffdx"),
        ("טחינה ולימון", "טחינה ולימון"),
    ],
)
def test_entities_and_markup_become_what_they_mean(written: str, read: str) -> None:
    assert dip(name=written, recipeIngredient=[written]).lines == (read,)
    assert dip(name=written).title == read


def test_several_recipes_are_all_given_and_their_notes_name_them() -> None:
    second = DIP | {"name": "Invented Bean Dip", "recipeYield": "6 to 8"}
    found = read_page(page(DIP, {"@graph": [second]}))
    assert [recipe.title for recipe in found.recipes] == ["Invented Herb Dip", "Invented Bean Dip"]
    assert found.notes == (
        "'Invented Bean Dip': The yield '6 to 8' was read as 7 servings, the middle.",
    )


def test_the_same_recipe_twice_is_one() -> None:
    assert len(read_page(page(DIP, DIP)).recipes) == 1


def test_a_recipe_that_a_review_or_a_list_points_to_is_not_one_of_the_page() -> None:
    other = {"@type": "Recipe", "name": "Another", "recipeIngredient": ["1 egg"]}
    assert dip(isBasedOn=other) == dip()
    found = read_page(page(DIP, {"@type": "ItemList", "itemListElement": [{"@type": "Recipe"}]}))
    assert len(found.recipes) == 1


def test_a_part_of_a_recipe_that_is_a_recipe_is_given_too() -> None:
    part = {"@type": "Recipe", "name": "Chips", "recipeIngredient": ["2 pitas"]}
    found = read_page(page(DIP | {"hasPart": part}))
    assert [recipe.title for recipe in found.recipes] == ["Invented Herb Dip", "Chips"]


def test_a_recipe_without_ingredients_gives_the_text_of_the_page_and_says_so() -> None:
    bare = {"@type": "Recipe", "name": "Bare", "recipeInstructions": "Stir."}
    found = read_page(page(bare, body="<h1>Bare</h1><p>1 cup cream</p>"))
    assert found.recipes == ()
    assert found.text == "Bare\n\n1 cup cream"
    assert "'Bare' lists no ingredients and was left out." in found.notes


def test_a_recipe_without_steps_says_so() -> None:
    found = read_page(page(DIP | {"recipeInstructions": None}))
    assert only(found).steps == ()
    assert found.notes == ("The page gives no steps.",)


def test_ingredients_that_do_not_say_what_they_are_count_with_a_note() -> None:
    bare = {"name": "Export", "recipeIngredient": ["1 egg"]}
    found = read_page(json.dumps(bare).encode(), "x.json")
    assert only(found).lines == ("1 egg",)
    assert any("does not say that it is a recipe" in note for note in found.notes)


def test_a_recipe_without_a_title_takes_the_title_of_the_page_and_says_so() -> None:
    nameless = {key: value for key, value in DIP.items() if key != "name"}
    data = page(nameless).replace(b"<head>", b"<head><title>A Dip &amp; More</title>")
    found = read_page(data)
    assert only(found).title == "A Dip & More"
    assert any("title" in note for note in found.notes)
    assert "The recipe has no title." in read_page(page(nameless)).notes


def test_author_and_address_are_kept_as_text_and_only_addresses_of_the_web() -> None:
    author = {"@type": "Person", "name": "A Cook"}
    recipe = dip(author=author, url="https://example.org/dip")
    assert recipe.source == "A Cook, https://example.org/dip"
    assert dip(author=["A Cook"], url="javascript:alert(1)").source == "A Cook"


@pytest.mark.parametrize("odd", [None, True, 3, 2.5, "x", [], {}, [None, {}], {"@value": None}])
def test_values_of_another_shape_are_no_fault(odd: object) -> None:
    keys = ("name", "recipeYield", "recipeInstructions", "totalTime", "nutrition", "author", "@id")
    for key in keys:
        found = read_page(page(DIP | {key: odd}))
        assert only(found).lines == ("1 cup sour cream", "2 tbsp chopped dill")


KEYS = [
    *("@type", "@id", "@graph", "@value", "@list", "name", "text", "item", "position", "value"),
    *("itemListElement", "unitText", "recipeYield", "recipeIngredient", "recipeInstructions"),
    *("nutrition", "calories", "totalTime"),
]
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(
            st.sampled_from(KEYS),
            inner | st.sampled_from(["Recipe", "HowToStep", "HowToSection", "#a", "#b"]),
            max_size=6,
        )
    ),
    max_leaves=30,
)


@given(JSON)
def test_any_json_is_read_without_a_fault(value: object) -> None:
    assert isinstance(read_page(page(value)), Page)
    assert isinstance(read_page(page(DIP | {"recipeInstructions": value, "x": value})), Page)


@given(
    st.lists(
        st.text(st.characters(codec="ascii", categories=["L", "N"]), min_size=1), min_size=1
    ).map(lambda words: [f"{n} cups {word}" for n, word in enumerate(words, start=1)])
)
def test_plain_lines_come_back_as_they_went_in(lines: list[str]) -> None:
    assert list(dip(recipeIngredient=lines).lines) == lines
