"""Recipes in the microdata of pages; every page and recipe here is invented."""

from __future__ import annotations

from reformulate.recipes.pages import PageStep, read_page

PAGE = """
<html><body><nav>Home</nav>
<article itemscope itemtype="http://schema.org/Recipe">
  <h1 itemprop="name">Invented Yogurt Dip</h1>
  <img itemprop="image" src="dip.jpg">
  by <span itemprop="author" itemscope itemtype="http://schema.org/Person"
    ><span itemprop="name">A Cook</span></span>
  <meta itemprop="prepTime" content="PT10M">
  <time itemprop="totalTime" datetime="PT1H10M">an hour or so</time>
  <span itemprop="recipeYield">Serves 6</span>
  <ul>
    <li itemprop="recipeIngredient">1&frac12; cups <a href="/y">yogurt</a>
    <li itemprop="recipeIngredient">1 tsp
        salt
  </ul>
  <ol itemprop="recipeInstructions">
    <li itemprop="recipeInstructions">Stir <b>well</b>.</li>
    <li itemprop="recipeInstructions">Chill.</li>
  </ol>
  <div itemprop="nutrition" itemscope itemtype="http://schema.org/NutritionInformation">
    <span itemprop="calories">90 calories</span>, <span itemprop="fatContent">4.5 g</span>
    a <span itemprop="servingSize">1/4 cup</span>
  </div>
</article></body></html>
"""


def test_a_recipe_in_microdata_is_read_whole() -> None:
    found = read_page(PAGE.encode())
    (recipe,) = found.recipes
    assert recipe.title == "Invented Yogurt Dip"
    assert recipe.lines == ("1½ cups yogurt", "1 tsp salt")
    assert recipe.steps == (PageStep(text="Stir well."), PageStep(text="Chill."))
    assert (recipe.yield_text, recipe.servings) == ("Serves 6", 6.0)
    assert (recipe.prep_minutes, recipe.cook_minutes, recipe.total_minutes) == (10.0, None, 70.0)
    assert [(claim.key, claim.value, claim.unit) for claim in recipe.nutrition] == [
        ("energy_kcal", 90.0, "kcal"),
        ("fat_g", 4.5, "g"),
    ]
    assert recipe.serving_text == "1/4 cup"
    assert recipe.source == "A Cook"
    assert found.notes == ()


def test_the_older_ingredients_and_one_block_of_instructions_are_read() -> None:
    found = read_page(
        b'<div itemscope itemtype="https://schema.org/Recipe"><span itemprop="ingredients">1 egg'
        b'</span><span itemprop="ingredients">salt</span>'
        b'<div itemprop="recipeInstructions"><p>Boil.</p><p>Peel.</p></div></div>'
    )
    (recipe,) = found.recipes
    assert recipe.lines == ("1 egg", "salt")
    assert recipe.steps == (PageStep(text="Boil."), PageStep(text="Peel."))


def test_sections_and_steps_may_be_items_themselves() -> None:
    found = read_page(b"""
    <div itemscope itemtype="https://schema.org/Recipe">
      <p itemprop="recipeIngredient">1 egg</p>
      <div itemprop="recipeInstructions" itemscope itemtype="https://schema.org/HowToSection">
        <h3 itemprop="name">Eggs</h3>
        <p itemprop="itemListElement" itemscope itemtype="https://schema.org/HowToStep">
          <span itemprop="text">Boil.</span></p>
        <p itemprop="itemListElement" itemscope itemtype="https://schema.org/HowToStep">Peel.</p>
      </div>
    </div>""")
    (recipe,) = found.recipes
    assert recipe.steps == (
        PageStep(section="Eggs", text="Boil."),
        PageStep(section="Eggs", text="Peel."),
    )


def test_properties_of_another_item_are_not_the_recipes() -> None:
    found = read_page(b"""
    <div itemscope itemtype="https://schema.org/Recipe">
      <b itemprop="name">Dip</b><i itemprop="recipeIngredient">1 egg</i>
      <div itemscope itemtype="https://schema.org/Product"><i itemprop="name">A pan</i>
        <i itemprop="recipeIngredient">steel</i></div>
    </div>""")
    (recipe,) = found.recipes
    assert (recipe.title, recipe.lines) == ("Dip", ("1 egg",))


def test_a_recipe_within_another_item_is_found() -> None:
    found = read_page(b"""
    <div itemscope itemtype="https://schema.org/WebPage"><div itemprop="about" itemscope
      itemtype="https://schema.org/Recipe"><i itemprop="recipeIngredient">1 egg</i></div></div>""")
    assert found.recipes[0].lines == ("1 egg",)


def test_parts_of_an_item_elsewhere_on_the_page_are_found_by_reference() -> None:
    found = read_page(b"""
    <div itemscope itemtype="https://schema.org/Recipe" itemref="more none">
      <b itemprop="name">Dip</b></div>
    <ul id="more"><li itemprop="recipeIngredient">1 egg<li itemprop="recipeIngredient">salt</ul>
    """)
    assert found.recipes[0].lines == ("1 egg", "salt")


def test_an_item_that_refers_to_itself_comes_to_an_end() -> None:
    found = read_page(b"""
    <div id="a" itemscope itemtype="https://schema.org/Recipe" itemref="a b">
      <b itemprop="recipeIngredient">1 egg</b></div>
    <div id="b" itemprop="hasPart" itemscope itemtype="https://schema.org/Recipe" itemref="a b">
      <b itemprop="recipeIngredient">salt</b></div>""")
    assert ("1 egg",) in {recipe.lines[:1] for recipe in found.recipes}


def test_references_that_branch_without_end_come_to_an_end() -> None:
    rows = [
        f'<div id="n{n}" itemprop="hasPart" itemscope itemtype="https://schema.org/Recipe" '
        f'itemref="{" ".join(f"n{(n * 7 + k) % 40}" for k in range(20))}">'
        f'<b itemprop="recipeIngredient">{n} eggs</b></div>'
        for n in range(40)
    ]
    start = '<div itemscope itemtype="https://schema.org/Recipe" itemref="n0 n1 n2"></div>'
    assert read_page((start + "".join(rows)).encode()).recipes


def test_a_recipe_marked_both_ways_is_one_recipe() -> None:
    script = (
        '<script type="application/ld+json">{"@type":"Recipe","name":"Invented yogurt dip",'
        '"recipeIngredient":["1.5 cups yogurt"]}</script>'
    )
    (recipe,) = read_page((script + PAGE).encode()).recipes
    assert recipe.lines == ("1.5 cups yogurt",)


def test_microdata_stands_in_where_the_script_cannot_be_read() -> None:
    script = '<script type="application/ld+json">{"@type":"Recipe","name":"Inv</script>'
    found = read_page((script + PAGE).encode())
    assert found.recipes[0].title == "Invented Yogurt Dip"
    assert found.notes == (
        "Block 1 of the page's data could not be read: it ends in the middle of a text.",
    )
