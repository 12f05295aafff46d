"""Recipes without a fault give no findings: the demo sets, and more in other cooks' wording."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest

from reformulate import SYSTEMS, Line, Recipe, food_table, read_set, weigh_recipe
from reformulate.recipes.review import Finding, review

SETS = Path(__file__).resolve().parents[2] / "sample_sets"
DEMO = [
    document.recipe
    for folder in sorted(path.parent for path in SETS.glob("*/set.toml"))
    for document in read_set(folder).documents
]
FOODS = food_table()


@dataclass(frozen=True)
class Clean:
    """A recipe of our own, invented: each line the food's key, its amount and its text."""

    title: str
    servings: float
    loss: float
    lines: tuple[tuple[str, str, str], ...]
    steps: tuple[str, ...]
    beside: tuple[str, ...] = ()

    @property
    def recipe(self) -> Recipe:
        return Recipe(
            title=self.title,
            servings=self.servings,
            moisture_loss_percent=self.loss,
            lines=tuple(
                Line(id=food, food=food, amount=amount, text=text)
                for food, amount, text in self.lines
            ),
            steps=self.steps,
            serve_with=self.beside,
        )


CLEAN = (
    Clean(
        title="Harbour tuna dip",
        servings=8,
        loss=0,
        lines=(
            ("tuna-light-water", "2 cans (5 oz)", "2 (5 oz / 142 g) cans light tuna, drained"),
            ("cream-cheese", "1 pack (8 oz)", "1 (8 oz / 225 g) package cream cheese, softened"),
            ("mayonnaise", "1/4 cup", "1/4 cup (55 g) mayonnaise"),
            ("lemon-juice", "1 tbsp", "1 tbsp (15 ml) lemon juice"),
            ("onion-yellow", "1/4 cup", "1/4 cup (40 g) finely chopped onion"),
            ("celery", "1/2 cup", "1/2 cup (50 g) diced celery"),
            ("pepper-black", "1/4 tsp", "1/4 tsp black pepper"),
        ),
        steps=(
            "Cream the cheese with an electric beater until it is as smooth as yogurt.",
            "Mash in the tuna, then mix in the mayo, the lemon and a good grind of pepper.",
            "Fold the onion and celery through. Taste, and chill until the consistency of soft butter.",
            "Serve with crackers, sticks of carrot or toasted baguette.",
        ),
        beside=("crackers",),
    ),
    Clean(
        title="Warm bean and cheese dip",
        servings=12,
        loss=6,
        lines=(
            ("beans-refried", "1 can (16 oz)", "1 can (16 oz/454 g) refried beans"),
            ("sour-cream", "1 cup", "1 cup (230 g) soured cream"),
            ("monterey-cheese", "2 cups", "2 cups (225 g) shredded Monterey cheese, divided"),
            ("salsa", "1/2 cup", "1/2 cup (130 g) salsa"),
            ("jalapeno", "1 piece", "1 jalapeño (about 15 g), seeded and minced"),
            ("cumin", "1 tsp", "1 tsp ground cumin"),
            ("scallion", "1/4 cup", "1/4 cup (25 g) sliced spring onions"),
        ),
        steps=(
            "Preheat the oven to 180 °C and lightly oil a small baking dish.",
            "In a bowl combine the beans, soured cream, half the cheese, the jalapeño and the cumin.",
            "Spread in the dish, spoon the salsa over and top with the remaining cheese.",
            "Bake, uncovered, for 20 to 25 minutes, until the cheese bubbles. Scatter the green "
            "onions over.",
            "Serve hot with tortilla chips. Refrigerate leftovers within two hours, as your local "
            "food-safety advice says.",
        ),
    ),
    Clean(
        title="Everyday hummus",
        servings=10,
        loss=0,
        lines=(
            ("chickpeas-canned", "2 cans (15 oz)", "2 cans (15 oz/425 g each) chickpeas, drained"),
            ("tahini", "1/3 cup", "1/3 cup (80 g) tahini"),
            ("lemon-juice", "1/4 cup", "60 ml (1/4 cup) lemon juice"),
            ("garlic", "2 cloves", "2 cloves garlic (6 g), crushed"),
            ("oil-olive", "2 tbsp", "2 tbsp (30 ml) olive oil"),
            ("water", "1/4 cup", "1/4 cup (60 ml) cold water"),
            ("salt-table", "3/4 tsp", "3/4 tsp fine salt"),
            ("paprika", "1/4 tsp", "1/4 tsp paprika"),
        ),
        steps=(
            "Put all the ingredients except the paprika in a food processor.",
            "Blend for 3 minutes, scraping down the bowl, until very smooth.",
            "Spoon the hummus into a bowl, make a well with the back of a spoon and dust with paprika.",
        ),
    ),
    Clean(
        title="Smoky aubergine spread",
        servings=6,
        loss=0,
        lines=(
            ("eggplant-cooked", "2 cups", "2 cups (200 g) roasted aubergine flesh"),
            ("yogurt-strained-whole", "1/2 cup", "1/2 cup (120 g) Greek yoghurt"),
            ("tahini", "2 tbsp", "2 tbsp (30 g) tahini"),
            ("garlic", "1 clove", "1 garlic clove"),
            ("lemon-juice", "2 tbsp", "Juice of 1 lemon (2 tbsp)"),
            ("salt-table", "1/2 tsp", "1/2 tsp salt"),
            ("parsley", "2 tbsp", "2 tbsp chopped parsley"),
            ("oil-olive", "1 tbsp", "1 tbsp extra-virgin olive oil"),
        ),
        steps=(
            "Chop the eggplant and leave it in a sieve for ten minutes.",
            "Put the garlic through a garlic press; pound it with the salt to a paste.",
            "Beat in the tahini, the lemon juice and the yogurt, then the aubergine.",
            "Adjust the seasoning. Drizzle with the oil and finish with parsley.",
        ),
    ),
    Clean(
        title="Guacamole for a crowd",
        servings=10,
        loss=0,
        lines=(
            ("avocado", "3 cups", "3 cups (690 g) mashed avocado"),
            ("lime-juice", "3 tbsp", "3 tbsp (45 ml) lime juice"),
            ("onion-yellow", "1/2 cup", "1/2 cup (80 g) minced white onion"),
            ("tomato", "1 cup", "1 cup (180 g) diced tomato"),
            ("cilantro", "1/4 cup", "1/4 cup chopped cilantro"),
            ("pepper-serrano", "2 piece", "2 serrano peppers, seeded and minced"),
            ("salt-table", "1 tsp", "1 tsp salt"),
        ),
        steps=(
            "Mash the avocado with the lime juice and salt.",
            "Stir in the onion, tomato, coriander leaves and chillies.",
            "Press a sheet of film onto the guacamole and keep it cool; it browns like cut apples.",
            "Serve with tortilla chips or strips of pepper.",
        ),
    ),
    Clean(
        title="Feta and herb whip",
        servings=8,
        loss=0,
        lines=(
            ("feta", "1 1/2 cups", "1 1/2 cups (225 g) crumbled feta"),
            ("yogurt-strained-whole", "3/4 cup", "3/4 cup (180 g) thick Greek yogurt"),
            ("oil-olive", "2 tbsp", "2 tbsp (27 g) olive oil"),
            ("dill", "2 tbsp", "2 tbsp chopped fresh dill"),
            ("mint", "1 tbsp", "1 tbsp chopped mint"),
            ("chives", "1 tbsp", "1 tbsp snipped chives"),
            ("honey", "1 tsp", "1 tsp (7 g) honey"),
        ),
        steps=(
            "Whizz the cheese with the yogurt until light.",
            "With the motor running, trickle in the oil.",
            "Fold in the herbs. Spoon into a dish and drizzle with honey.",
            "Good with warm flatbread, radishes and slices of cucumber.",
        ),
    ),
    Clean(
        title="Baked goat cheese and tomato dip",
        servings=8,
        loss=10,
        lines=(
            ("goat-cheese-soft", "10 oz", "10 oz (285 g) soft goat cheese"),
            ("marinara", "1 1/2 cups", "1 1/2 cups (385 g) tomato pasta sauce"),
            ("garlic", "1 clove", "1 clove garlic, sliced"),
            ("basil", "2 tbsp", "2 tbsp torn basil leaves"),
            ("oil-olive", "1 tbsp", "1 tbsp olive oil"),
            ("chile-dried", "1/4 tsp", "1/4 tsp chilli flakes"),
        ),
        steps=(
            "Heat the oven to 190 °C (375 °F, gas 5).",
            "Warm the oil in a small pan, soften the garlic with the chilli flakes and pour in the "
            "sauce.",
            "Crumble the goat's cheese into a shallow dish, pour over the tomato sauce and bake 25 "
            "minutes.",
            "Tear over the basil and serve at once with bread.",
        ),
    ),
    Clean(
        title="Egg and mustard spread",
        servings=6,
        loss=0,
        lines=(
            ("egg-hard-boiled", "6 large", "6 large eggs, hard-boiled"),
            ("mayonnaise", "1/3 cup", "1/3 cup (75 g) mayonnaise"),
            ("mustard-dijon", "2 tsp", "2 tsp Dijon mustard"),
            ("vinegar-cider", "1 tsp", "1 tsp cider vinegar"),
            ("chives", "2 tbsp", "2 tbsp chives"),
            ("salt-table", "1/4 tsp", "1/4 tsp salt"),
            ("pepper-white", "1/8 tsp", "1/8 tsp white pepper"),
        ),
        steps=(
            "Boil the eggs for 10 minutes, cool them in an ice bath and peel them.",
            "Push the yolks through a sieve. Chop the whites.",
            "Beat the yolks with the mayonnaise, mustard and vinegar; season with salt and pepper.",
            "Fold in the whites and the chives.",
        ),
    ),
    Clean(
        title="Salted caramel apple dip",
        servings=10,
        loss=0,
        lines=(
            ("cream-cheese", "8 oz", "8 oz (225 g) full-fat soft cheese"),
            ("sugar-brown", "3/4 cup", "3/4 cup (165 g) packed light brown sugar"),
            ("yogurt-strained-low-fat", "1/2 cup", "1/2 cup (120 g) low-fat Greek yogurt"),
            ("vanilla-extract", "1 tsp", "1 tsp (5 ml) vanilla"),
            ("salt-kosher", "1/4 tsp", "1/4 tsp kosher salt"),
            ("peanuts-roasted", "1/4 cup", "1/4 cup (37 g) roasted peanuts, chopped"),
        ),
        steps=(
            "Beat everything but the nuts together until the sugar has dissolved.",
            "Scatter the peanuts over and serve with apple wedges. Tell your guests about the nuts.",
        ),
        beside=("apple wedges",),
    ),
    Clean(
        title="Mushroom and walnut pâté",
        servings=10,
        loss=15,
        lines=(
            ("mushroom", "5 cups", "5 cups (350 g) sliced mushrooms"),
            ("walnuts", "1 cup", "1 cup (115 g) walnuts, toasted and chopped"),
            ("shallot", "1/4 cup", "1/4 cup (40 g) chopped shallots"),
            ("butter-unsalted", "3 tbsp", "3 tbsp (45 g) unsalted butter"),
            ("thyme-dried", "1/2 tsp", "1/2 tsp dried thyme"),
            ("wine-dessert-dry", "1 tbsp", "1 tbsp (15 ml) dry sherry"),
            ("cream-cheese", "4 oz", "4 oz (115 g) cream cheese"),
            ("soy-sauce", "1 tsp", "1 tsp soy sauce"),
            ("pepper-black", "1/4 tsp", "1/4 tsp pepper"),
        ),
        steps=(
            "Melt the butter in a frying pan and soften the shallots.",
            "Add the mushrooms and thyme and fry until dry and brown, about 12 minutes. Splash in "
            "the sherry.",
            "Tip into a blender with the remaining ingredients and pulse to a coarse paste.",
        ),
    ),
    Clean(
        title="Blue cheese dressing dip",
        servings=8,
        loss=0,
        lines=(
            ("blue-cheese", "1 cup", "1 cup (135 g) crumbled blue cheese"),
            ("buttermilk", "1/3 cup", "1/3 cup (80 ml) buttermilk"),
            ("sour-cream", "1 cup", "1 cup (240 g) sour cream"),
            ("mayonnaise", "1/2 cup", "1/2 cup (110 g) mayonnaise"),
            ("vinegar-distilled", "2 tsp", "2 tsp (10 ml) white vinegar"),
            ("worcestershire-sauce", "1/2 tsp", "1/2 tsp Worcestershire-type sauce"),
            ("garlic-powder", "1/4 tsp", "1/4 tsp garlic powder"),
            ("pepper-black", "1/4 tsp", "1/4 tsp freshly ground black pepper"),
        ),
        steps=(
            "Mash half of the blue cheese with the buttermilk.",
            "Whisk in the cream, mayonnaise, vinegar, Worcestershire and garlic powder.",
            "Stir through the rest of the cheese and several turns of the pepper mill.",
            "Offer with buffalo wings, celery sticks or a wedge of iceberg lettuce.",
        ),
    ),
    Clean(
        title="Curried lentil spread",
        servings=8,
        loss=12,
        lines=(
            ("lentils-cooked", "3 cups", "3 cups (600 g) cooked lentils"),
            ("onion-yellow", "1 cup", "1 cup (150 g) diced onion"),
            ("oil-canola", "2 tbsp", "2 tbsp (30 ml) neutral oil"),
            ("ginger", "1 tbsp", "1 tbsp (6 g) grated fresh ginger"),
            ("curry-powder", "1 tbsp", "1 tbsp curry powder"),
            ("turmeric-ground", "1/2 tsp", "1/2 tsp turmeric"),
            ("coconut-milk", "1/2 cup", "1/2 cup (120 ml) coconut milk"),
            ("lime-juice", "1 tbsp", "1 tbsp lime juice"),
            ("salt-table", "1 tsp", "1 tsp salt"),
        ),
        steps=(
            "Fry the onions gently in the oil for 15 minutes, until golden.",
            "Add the ginger and the spices; stir for one minute.",
            "Add the lentils and coconut milk, simmer until thick, then mash with a potato masher.",
            "Season with salt, squeeze over the lime, and serve warm or cold with naan.",
        ),
    ),
)


def findings(recipe: Recipe, system: str = "us", **more: object) -> tuple[Finding, ...]:
    batch = weigh_recipe(recipe, FOODS, SYSTEMS[system])
    return review(batch, FOODS, SYSTEMS[system], **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("recipe", DEMO, ids=lambda recipe: recipe.title)
def test_a_demo_recipe_gives_no_findings(recipe: Recipe) -> None:
    assert [str(finding) for finding in findings(recipe)] == []


@pytest.mark.parametrize("clean", CLEAN, ids=lambda clean: clean.title)
def test_a_clean_recipe_in_other_words_gives_no_findings(clean: Clean) -> None:
    assert [str(finding) for finding in findings(clean.recipe)] == []
