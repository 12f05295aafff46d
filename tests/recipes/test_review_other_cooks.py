"""More clean recipes, in wording that the review was not made with; none gives a finding.

Invented, as all of them are.
"""

from __future__ import annotations

import pytest

from tests.recipes.test_review_clean import Clean, findings

OTHERS = (
    Clean(
        title="Seven-layer party dip",
        servings=16,
        loss=0,
        lines=(
            ("beans-refried", "1 can (16 oz)", "1 can (16 oz) refried beans"),
            ("avocado", "1 1/2 cups", "1 1/2 cups mashed avocado (about 345 g)"),
            ("lime-juice", "1 tbsp", "1 tablespoon fresh lime juice"),
            ("sour-cream", "1 cup", "8 oz (1 cup) sour cream"),
            ("taco-seasoning", "1 tbsp", "1 tablespoon taco seasoning"),
            ("salsa", "1 cup", "1 cup chunky salsa"),
            ("mexican-cheese-blend", "1 cup", "1 cup (110 g) shredded Mexican blend cheese"),
            ("tomato", "1 cup", "1 cup diced tomatoes"),
            ("olives-ripe", "1/2 cup", "1/2 cup sliced black olives, drained"),
            ("scallion", "3 tbsp", "3 tablespoons sliced green onion"),
        ),
        steps=(
            "Stir the taco seasoning into the sour cream.",
            "Spread the beans over the bottom of a 9-inch glass dish.",
            "Mix the avocado with lime juice; spread over beans. Top with the seasoned sour cream, "
            "then the salsa.",
            "Sprinkle with cheese, tomatoes, olives and onions. Cover and chill at least 1 hour.",
            "Serve cold with tortilla chips.",
        ),
    ),
    Clean(
        title="Buffalo chicken dip",
        servings=10,
        loss=5,
        lines=(
            ("chicken-rotisserie", "2 cups", "2 cups (280 g) shredded cooked chicken"),
            ("cream-cheese", "8 oz", "8 oz cream cheese, at room temperature"),
            ("dressing-ranch", "1/2 cup", "1/2 cup (120 ml) ranch dressing"),
            ("hot-sauce", "1/2 cup", "1/2 cup (120 ml) hot sauce"),
            ("cheddar", "1 cup", "1 cup (4 oz) grated cheddar"),
            ("scallion", "2 tbsp", "2 tbsp chopped scallions, to garnish"),
        ),
        steps=(
            "Preheat oven to 350F.",
            "Combine the chicken, cream cheese, dressing, hot sauce and half the cheddar in a large "
            "bowl.",
            "Transfer to a buttered baking dish, sprinkle with remaining cheese.",
            "Bake about 20 minutes, till bubbling at the edges. Garnish with scallions.",
            "Serve warm with celery, carrot sticks and crackers. Keep leftovers in the fridge.",
        ),
    ),
    Clean(
        title="Tzatziki",
        servings=6,
        loss=0,
        lines=(
            ("cucumber-peeled", "1 cup", "1 cup grated cucumber, squeezed dry"),
            ("yogurt-strained-nonfat", "2 cups", "2 cups (490 g) plain Greek yogurt"),
            ("garlic", "2 cloves", "2 cloves of garlic, finely grated"),
            ("oil-olive", "1 tbsp", "1 tbsp olive oil"),
            ("vinegar-red-wine", "1 tsp", "1 teaspoon red wine vinegar"),
            ("dill", "1 tbsp", "1 tbsp chopped dill"),
            ("salt-table", "1/2 tsp", "½ teaspoon salt"),
        ),
        steps=(
            "Squeeze out as much water from the cucumber as you can, using a clean tea towel.",
            "Whisk everything else together in a medium bowl. Stir in the cucumber.",
            "Let stand in the refrigerator for at least two hours so the flavors marry.",
            "Season to taste before serving.",
        ),
    ),
    Clean(
        title="Sun-dried tomato pesto spread",
        servings=8,
        loss=0,
        lines=(
            (
                "tomatoes-sun-dried-oil",
                "1 cup",
                "1 cup (110 g) oil-packed sun-dried tomatoes, drained",
            ),
            ("basil", "1/2 cup", "1/2 cup fresh basil leaves"),
            ("pine-nuts", "1/4 cup", "1/4 cup (35 g) pine nuts, toasted"),
            ("parmesan", "1/4 cup", "1/4 cup (25 g) grated Parmesan"),
            ("garlic", "1 clove", "1 small clove garlic"),
            ("ricotta-part-skim", "1 cup", "1 cup (250 g) part-skim ricotta"),
            ("pepper-black", "1/4 tsp", "1/4 teaspoon ground black pepper"),
        ),
        steps=(
            "Pulse the tomatoes, basil, pine nuts and garlic in a food processor until finely chopped.",
            "Add the Parmesan, ricotta and pepper, and process until blended.",
            "Spread on toasted bread or stir into hot pasta.",
        ),
    ),
    Clean(
        title="Clam dip",
        servings=8,
        loss=0,
        lines=(
            (
                "clams-canned",
                "1 can (6.5 oz)",
                "1 (6.5-oz) can minced clams, drained, 1 tbsp of the juice reserved",
            ),
            ("cream-cheese", "8 oz", "8 oz (227 g) cream cheese"),
            ("sour-cream", "1/4 cup", "1/4 cup sour cream"),
            ("clam-juice", "1 tbsp", "1 tbsp clam juice"),
            ("lemon-juice", "2 tsp", "2 teaspoons lemon juice"),
            ("worcestershire-sauce", "1 tsp", "1 teaspoon Worcestershire sauce"),
            ("garlic-powder", "1/4 tsp", "1/4 teaspoon garlic powder"),
            ("chives", "1 tbsp", "1 tablespoon minced chives"),
            ("pepper-cayenne", "1/8 tsp", "1/8 teaspoon cayenne"),
        ),
        steps=(
            "With a hand mixer beat the cream cheese, sour cream and clam juice until fluffy.",
            "Beat in the lemon juice, Worcestershire, garlic powder and a pinch of the cayenne.",
            "Stir in the clams and most of the chives. Chill.",
            "Dust with the rest of the cayenne and scatter with chives. Nice with ruffled potato "
            "chips.",
        ),
    ),
    Clean(
        title="Peanut butter yogurt dip",
        servings=6,
        loss=0,
        lines=(
            ("yogurt-vanilla-low-fat", "1 cup", "1 cup (245 g) vanilla yogurt"),
            ("peanut-butter", "1/2 cup", "1/2 cup (130 g) creamy peanut butter"),
            ("honey", "1 tbsp", "1 tablespoon (21 g) honey"),
            ("cinnamon-ground", "1/4 tsp", "1/4 teaspoon cinnamon"),
        ),
        steps=(
            "Warm the peanut butter for 15 seconds in the microwave so that it loosens.",
            "Whisk in the yogurt, honey and cinnamon until no streaks remain.",
            "Serve with apples, bananas, or graham crackers.",
        ),
    ),
    Clean(
        title="Artichoke and lemon spread",
        servings=10,
        loss=0,
        lines=(
            (
                "artichoke-hearts-canned",
                "2 cans (14 oz)",
                "2 (14 oz) cans artichoke hearts, drained and patted dry",
            ),
            ("mayonnaise-light", "1/3 cup", "1/3 cup (80 g) light mayonnaise"),
            ("feta", "1/2 cup", "1/2 cup (75 g) crumbled feta"),
            ("lemon-zest", "1 tsp", "1 tsp grated lemon zest"),
            ("lemon-juice", "1 tbsp", "1 tbsp lemon juice"),
            ("parsley", "2 tbsp", "2 tbsp chopped flat-leaf parsley"),
            ("pepper-black", "1/4 tsp", "freshly ground black pepper, 1/4 tsp"),
        ),
        steps=(
            "Squeeze the artichokes gently, then chop.",
            "Zest the lemon; halve it and juice it.",
            "Mix the artichokes with the mayo, feta, zest and juice. Add pepper.",
            "Stir through the parsley just before serving on crostini.",
        ),
    ),
    Clean(
        title="Chocolate hazelnut fruit dip",
        servings=10,
        loss=0,
        lines=(
            ("mascarpone", "1 cup", "1 cup (240 g) mascarpone"),
            ("cream-heavy", "1/2 cup", "120 ml heavy cream"),
            ("cocoa-powder", "1/4 cup", "1/4 cup (21 g) unsweetened cocoa powder"),
            ("sugar-powdered", "1/2 cup", "1/2 cup (60 g) icing sugar, sifted"),
            ("hazelnuts", "1/4 cup", "1/4 cup (30 g) hazelnuts, toasted and chopped"),
            ("salt-table", "1/8 tsp", "pinch of salt (1/8 tsp)"),
        ),
        steps=(
            "Whip the cream to soft peaks.",
            "Sift the cocoa and sugar over the mascarpone, add the salt and beat until smooth; fold "
            "in the whipped cream.",
            "Finish with the nuts. Serve with strawberries or orange segments.",
        ),
    ),
    Clean(
        title="Liver pâté with sherry",
        servings=12,
        loss=4,
        lines=(
            ("liver-chicken", "2 cups", "2 cups (280 g) cooked chicken livers"),
            ("butter-salted", "1/2 cup", "1 stick (1/2 cup/113 g) butter"),
            ("onion-yellow", "1/2 cup", "1/2 cup (80 g) chopped onion"),
            ("thyme-dried", "1/2 tsp", "1/2 tsp thyme"),
            ("wine-dessert-dry", "2 tbsp", "2 tbsp (30 ml) sherry"),
            ("allspice-ground", "1/8 tsp", "1/8 tsp allspice"),
            ("pepper-black", "1/4 tsp", "1/4 tsp pepper"),
        ),
        steps=(
            "Melt the butter in a skillet, and sweat the onion with the thyme for 8 minutes.",
            "Pour in the sherry and let it bubble. Add the livers to warm through.",
            "Blend with the spices until silky. Pass through a sieve into ramekins and chill until "
            "firm.",
        ),
    ),
    Clean(
        title="Cowboy corn and bean salsa",
        servings=12,
        loss=0,
        lines=(
            (
                "beans-black-canned",
                "1 can (15 oz)",
                "1 (15-ounce) can black beans, rinsed and drained",
            ),
            ("corn-canned", "1 can (15 oz)", "1 (15-ounce) can sweetcorn, drained"),
            ("pepper-red", "1 cup", "1 cup (150 g) diced red bell pepper"),
            ("onion-yellow", "1/2 cup", "1/2 cup finely diced red onion"),
            ("cilantro", "1/4 cup", "1/4 cup chopped cilantro"),
            ("oil-olive", "1/4 cup", "1/4 cup (60 ml) olive oil"),
            ("vinegar-cider", "2 tbsp", "2 tbsp cider vinegar"),
            ("sugar", "1 tsp", "1 tsp sugar"),
            ("salt-table", "1/2 tsp", "1/2 tsp salt"),
            ("cumin", "1/2 tsp", "1/2 tsp cumin"),
        ),
        steps=(
            "In a jar, shake the oil, vinegar, sugar, salt and cumin until the dressing emulsifies.",
            "Toss the beans, corn, pepper, onion and coriander with the dressing.",
            "Marinate in the fridge overnight, tossing once or twice. Drain slightly before you "
            "serve it.",
        ),
    ),
    Clean(
        title="Smoked salmon mousse",
        servings=8,
        loss=0,
        lines=(
            ("salmon-smoked", "7 oz", "200 g (7 oz) smoked salmon"),
            ("cream-cheese-low-fat", "3/4 cup", "3/4 cup (180 g) light cream cheese"),
            ("creme-fraiche", "1/4 cup", "4 tbsp crème fraîche"),
            ("horseradish", "1 tsp", "1 tsp horseradish from a jar"),
            ("lemon-juice", "1 tbsp", "a good squeeze (1 tbsp) of lemon juice"),
            ("dill", "1 tbsp", "1 tbsp chopped dill"),
            ("pepper-white", "1/8 tsp", "1/8 tsp white pepper"),
        ),
        steps=(
            "Roughly chop the salmon, keeping back a few ribbons for the top.",
            "Blitz with the soft cheese, crème fraîche and horseradish.",
            "Sharpen with lemon and white pepper.",
            "Pile into a bowl, drape the reserved fish over and strew with dill. Eat with blinis or "
            "thin brown toast and butter.",
        ),
    ),
    Clean(
        title="Roast carrot and harissa-style dip",
        servings=8,
        loss=20,
        lines=(
            ("carrot", "4 cups", "4 cups (500 g) chopped carrots"),
            ("oil-olive", "3 tbsp", "3 tbsp (40 g) olive oil"),
            ("garlic", "4 cloves", "4 garlic cloves, unpeeled"),
            ("cumin", "1 tsp", "1 tsp cumin seeds"),
            ("paprika", "1 tsp", "1 tsp smoked paprika"),
            ("sriracha", "2 tsp", "2 tsp hot chilli garlic sauce"),
            ("yogurt-whole", "1/2 cup", "1/2 cup (125 g) natural yoghurt"),
            ("lemon-juice", "2 tbsp", "2 tbsp lemon juice"),
            ("salt-kosher", "1 tsp", "1 tsp kosher salt"),
        ),
        steps=(
            "Heat the oven to 200C/180C fan.",
            "Toss the carrots and garlic with 2 tbsp of the oil, the cumin, paprika and salt on a "
            "baking tray. Roast 35 minutes.",
            "Slip the garlic from its skins into a processor, add the carrots, the chilli sauce, "
            "lemon juice and yoghurt, and whizz.",
            "Drizzle over the remaining oil. Serve at room temperature with warm pitta.",
        ),
    ),
)


@pytest.mark.parametrize("clean", OTHERS, ids=lambda clean: clean.title)
def test_a_clean_recipe_of_another_cook_gives_no_findings(clean: Clean) -> None:
    assert [str(finding) for finding in findings(clean.recipe)] == []
