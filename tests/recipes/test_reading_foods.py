"""The food of a line, what describes it, and further foods beside it."""

from __future__ import annotations

import pytest

from reformulate.recipes.reading import About, read_line


@pytest.mark.parametrize(
    ("text", "amount", "fruit", "match"),
    [
        ("juice of 1 lemon", "1", "lemon", "lemon juice"),
        ("Juice of half a lemon", "1/2", "lemon", "lemon juice"),
        ("1 lemon, juiced", "1", "lemon", "lemon juice"),
        ("1 lemon, juice of", "1", "lemon", "lemon juice"),
    ],
)
def test_the_juice_of_a_fruit_is_no_whole_fruit(
    text: str, amount: str, fruit: str, match: str
) -> None:
    line = read_line(text)
    assert (line.amount, line.juice_of, line.match_text) == (amount, fruit, match)


def test_lemon_juice_is_no_fruit() -> None:
    assert not read_line("2 tbsp lemon juice, strained").juice_of


@pytest.mark.parametrize(
    ("text", "food", "match", "prep"),
    [
        ("1 cup finely grated mild cheddar", "cheddar", "mild cheddar", "finely grated"),
        ("2 cups shredded low-fat mozzarella", "mozzarella", "low-fat mozzarella", "shredded"),
        ("1 tsp dried dill", "dill", "dried dill", ""),
        ("10 oz frozen spinach, squeezed dry", "spinach", "frozen spinach", "squeezed dry"),
        ("1 large sweet potato, peeled", "potato", "sweet potato", "peeled"),
        ("boneless, skinless chicken", "chicken", "skinless chicken boneless", "boneless"),
        ("1 can (5 oz) tuna in water, drained", "tuna", "tuna in water canned", "in water, drained"),
        ("1/2 cup sour cream (reduced fat)", "sour cream", "sour cream reduced fat", "reduced fat"),
        ("1 onion, chopped small", "onion", "onion", "chopped small"),
        ("1 cup plain strained yogurt", "plain strained yogurt", "plain strained yogurt", ""),
        ("1 cup 2% milk", "milk", "2% milk", ""),
        ("1 tbsp heavy cream", "heavy cream", "heavy cream", ""),
        ("1 cup flaxseed", "flaxseed", "flaxseed", ""),
        ("½ cup low sodium broth", "broth", "low sodium broth", ""),
    ],
)  # fmt: skip
def test_preparation_is_split_off_and_form_kept_for_matching(
    text: str, food: str, match: str, prep: str
) -> None:
    line = read_line(text)
    assert (line.food_text, line.match_text) == (food, match)
    assert line.prep == prep


def test_remarks_of_the_writer_are_a_comment() -> None:
    line = read_line("1 cup crumbled feta (I like a lot, my mother less)")
    assert (line.food_text, line.prep) == ("feta", "crumbled")
    assert line.comment == "I like a lot, my mother less"


@pytest.mark.parametrize(
    ("text", "food", "others"),
    [
        ("1 cup butter or margarine", "butter", [("1 cup", "margarine")]),
        ("1 cup tahini or 1/2 cup peanut butter", "tahini", [("1/2 cup", "peanut butter")]),
        ("1 lb beef (or turkey)", "beef", [("1 lb", "turkey")]),
        ("1 tbsp honey, or agave or molasses", "honey", [("1 tbsp", "agave"), ("1 tbsp", "molasses")]),
        ("2 tbsp vegetable or canola oil", "vegetable oil", [("2 tbsp", "canola oil")]),
        ("2 tbsp basil, chopped or 2 tsp dried basil", "basil", [("2 tsp", "basil")]),
        ("1 tbsp fresh or 1 tsp dried dill", "dill", [("1 tsp", "dill")]),
        ("fresh or frozen berries", "berries", []),
        ("1 cup tahini (or a little less)", "tahini", []),
        ("1 onion, chopped or sliced", "onion", []),
    ],
)  # fmt: skip
def test_or_gives_alternatives_with_their_own_amounts(
    text: str, food: str, others: list[tuple[str, str]]
) -> None:
    line = read_line(text)
    assert line.food_text == food
    assert [(other.amount, other.food_text) for other in line.alternatives] == others


def test_of_two_forms_the_first_is_matched_and_the_choice_said() -> None:
    line = read_line("1 cup low-fat or fat-free sour cream")
    assert line.match_text == "low-fat sour cream"
    assert any("fat-free" in remark for remark in line.remarks)


@pytest.mark.parametrize(
    ("text", "foods"),
    [
        ("salt and pepper", [("salt", ""), ("pepper", "")]),
        ("Kosher salt & black pepper to taste", [("Kosher salt", ""), ("pepper", "")]),
        ("1 tsp salt and 1/2 tsp pepper", [("salt", "1 tsp"), ("pepper", "1/2 tsp")]),
        ("1 tsp each salt and pepper", [("salt", "1 tsp"), ("pepper", "1 tsp")]),
        ("1 tsp each: cumin, paprika", [("cumin", "1 tsp"), ("paprika", "1 tsp")]),
        ("1 tsp salt and pepper", [("salt", "1 tsp"), ("pepper", "")]),
        ("macaroni and cheese", [("macaroni and cheese", "")]),
    ],
)
def test_foods_that_share_a_line_are_told_apart(text: str, foods: list[tuple[str, str]]) -> None:
    line = read_line(text)
    assert [(one.food_text, one.amount) for one in (line, *line.also)] == foods
    assert len([ask for ask in line.asks if ask.about is About.AMOUNT]) == sum(
        not amount for _, amount in foods
    )


def test_a_food_near_a_unit_in_spelling_stays_a_food() -> None:
    assert read_line("2 clover sprouts").food_text == "clover sprouts"
    assert read_line("2 rounds brie").food_text == "brie"


@pytest.mark.parametrize(
    ("text", "amount", "fruit", "matches"),
    [
        ("zest and juice of 1 lemon", "1", "lemon", ["lemon zest", "lemon juice"]),
        ("juice and zest of 2 limes", "2", "limes", ["limes juice", "limes zest"]),
        ("grated zest and juice of 2 limes", "2", "limes", ["limes zest", "limes juice"]),
        ("grated zest of 1/2 lemon", "1/2", "lemon", ["lemon zest"]),
        ("finely grated rind of 1 orange", "1", "orange", ["orange rind"]),
        (
            "Finely grated zest and juice of ½ an orange",
            "1/2",
            "orange",
            ["orange zest", "orange juice"],
        ),
        ("the juice of a lemon", "1", "lemon", ["lemon juice"]),
        ("1 orange, grated rind", "1", "orange", ["orange rind"]),
    ],
)
def test_what_is_used_of_a_fruit_is_read_in_any_order(
    text: str, amount: str, fruit: str, matches: list[str]
) -> None:
    line = read_line(text)
    lines = (line, *line.also)
    assert [one.match_text for one in lines] == matches
    assert all((one.amount, one.juice_of) == (amount, fruit) for one in lines)
    assert line.foods == (fruit,)


@pytest.mark.parametrize(
    ("text", "food", "match"),
    [
        ("1 cup half-and-half", "half-and-half", "half-and-half"),
        ("1 cup half & half", "half & half", "half & half"),
        ("1 cup half and half", "half and half", "half and half"),
        ("300ml soured cream", "soured cream", "soured cream"),
        ("1 brick light cream cheese", "cream cheese", "light cream cheese"),
        ("2 free range eggs", "eggs", "free range eggs"),
        ("6 hard boiled eggs", "eggs", "hard boiled eggs"),
        ("1 cup long grain rice", "rice", "long grain rice"),
        ("1 bone in ham", "ham", "bone in ham"),
        ("8 sun dried tomatoes", "sun dried tomatoes", "sun dried tomatoes"),
        ("1 tsp 5-spice powder", "5-spice powder", "5-spice powder"),
        ("1 tub Greek-style yogurt", "Greek-style yogurt", "Greek-style yogurt"),
        ("1 lb 16/20 count shrimp", "shrimp", "shrimp"),
        ("1 cup mixed seeds (sunflower, pumpkin)", "mixed seeds", "mixed seeds"),
    ],
)
def test_names_of_several_words_are_one_food(text: str, food: str, match: str) -> None:
    line = read_line(text)
    assert line.foods == (food,)
    assert line.match_text == match
    assert not line.also


@pytest.mark.parametrize(
    ("text", "foods"),
    [
        ("1/2 tsp each garlic powder and onion powder", ["garlic powder", "onion powder"]),
        ("1 tbsp each chopped parsley, mint and dill", ["parsley", "mint", "dill"]),
        ("1 tsp of each: cumin, paprika", ["cumin", "paprika"]),
        ("olive oil and lemon juice", ["olive oil", "lemon juice"]),
        ("salt, pepper and paprika", ["salt", "pepper", "paprika"]),
        ("sour cream and onion dip", ["sour cream and onion dip"]),
        ("1 bag salt and vinegar crisps", ["salt and vinegar crisps"]),
        ("2 tbsp lemon juice and zest", ["lemon juice and zest"]),
        ("parsley, leaves picked", ["parsley"]),
        ("1 egg plus 1 egg yolk", ["egg", "egg"]),
        ("1 onion plus 1 shallot", ["onion", "shallot"]),
    ],
)
def test_foods_joined_by_and_are_told_from_one_name(text: str, foods: list[str]) -> None:
    assert list(read_line(text).foods) == foods


def test_an_egg_yolk_that_is_added_is_a_food_of_its_own() -> None:
    line = read_line("2 eggs plus 1 egg yolk")
    assert line.amount == "2"
    assert [(one.amount, one.match_text) for one in line.also] == [("1", "egg yolk")]


def test_what_another_choice_is_dissolved_in_says_nothing_of_the_first() -> None:
    line = read_line("1 cup stock (or 1 stock cube dissolved in 1 cup water)")
    assert line.match_text == "stock"


@pytest.mark.parametrize(
    ("text", "other"),
    [
        ("1/4 cup fresh mint, chopped, or 1 tablespoon dried", ("1 tbsp", "dried mint")),
        ("2 tsp fresh thyme (or 1 tsp dried)", ("1 tsp", "dried thyme")),
    ],
)
def test_another_amount_of_the_same_food_in_another_form_is_a_choice(
    text: str, other: tuple[str, str]
) -> None:
    line = read_line(text)
    assert [(one.amount, one.match_text) for one in line.alternatives] == [other]
    assert len(line.foods) == 1
    assert len(line.quantities) == 2
