from __future__ import annotations

import time
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.measures import Amount, Term, parse_amount
from reformulate.measures.words import UNITS, Kind
from reformulate.recipes.reading import About, ReadLine, corpus_fields, read_line
from tests.recipes.corpus import DEFAULT, figures, read_marked

LONG = 50_000_000


def abouts(line: ReadLine) -> set[About]:
    return {ask.about for ask in line.asks}


@pytest.mark.parametrize(
    ("text", "quantity", "unit", "food", "amount"),
    [
        # numbers
        ("2 cups sour cream", 2.0, "cup", "sour cream", "2 cups"),
        ("1 1/2 cups tahini", 1.5, "cup", "tahini", "1 1/2 cups"),
        ("1-1/2 cups tahini", 1.5, "cup", "tahini", "1 1/2 cups"),
        ("1 and 1/2 cups tahini", 1.5, "cup", "tahini", "1 1/2 cups"),
        ("1½ cups tahini", 1.5, "cup", "tahini", "1 1/2 cups"),
        ("1 ½ cups tahini", 1.5, "cup", "tahini", "1 1/2 cups"),
        ("1⁄3 cup tahini", 1 / 3, "cup", "tahini", "1/3 cup"),
        ("1 1⁄3 cup tahini", 4 / 3, "cup", "tahini", "1 1/3 cups"),
        (".5 l stock", 0.5, "l", "stock", "0.5 l"),
        ("1,5 kg potatoes", 1.5, "kg", "potatoes", "1.5 kg"),
        ("0,250 kg feta", 0.25, "kg", "feta", "0.25 kg"),
        ("1,000 g flour", 1000.0, "g", "flour", "1000 g"),
        ("٣ cups yogurt", 3.0, "cup", "yogurt", "3 cups"),
        # number words
        ("one cup walnuts", 1.0, "cup", "walnuts", "1 cup"),
        ("half a cup of walnuts", 0.5, "cup", "walnuts", "1/2 cup"),
        ("two thirds cup walnuts", 2 / 3, "cup", "walnuts", "2/3 cup"),
        ("one and a half cups walnuts", 1.5, "cup", "walnuts", "1 1/2 cups"),
        ("a dozen eggs", 1.0, "", "eggs", "12"),
        ("2 dozen olives", 2.0, "", "olives", "24"),
        ("a couple of scallions", 2.0, "piece", "scallions", "2"),
        ("an onion", 1.0, "piece", "onion", "1"),
        # units
        ("2 T. butter", 2.0, "tbsp", "butter", "2 tbsp"),
        ("2 t butter", 2.0, "tsp", "butter", "2 tsp"),
        ("2 Tbs butter", 2.0, "tbsp", "butter", "2 tbsp"),
        ("2 c. milk", 2.0, "cup", "milk", "2 cups"),
        ("4 fl. oz. cream", 4.0, "fl oz", "cream", "4 fl oz"),
        ("200g feta", 200.0, "g", "feta", "200 g"),
        ("3 cloves garlic", 3.0, "clove", "garlic", "3 cloves"),
        ("3 garlic cloves", 3.0, "clove", "garlic", "3 cloves"),
        ("2 lime wedges", 2.0, "wedge", "lime", "2 wedges"),
        ("2 sticks butter", 2.0, "stick", "butter", "2 sticks"),
        ("4 sprigs thyme", 4.0, "sprig", "thyme", "4 sprigs"),
        ("1 bunch chives", 1.0, "bunch", "chives", "1 bunch"),
        ("1 head cauliflower", 1.0, "head", "cauliflower", "1 head"),
        ("2 mangoes (cartons of)", 2.0, "carton", "mangoes", "2 cartons"),
        ("1 tabelspoon tahini", 1.0, "tbsp", "tahini", "1 tbsp"),
        # where the amount stands
        ("Flour - 2 cups", 2.0, "cup", "Flour", "2 cups"),
        ("Flour: 2 cups", 2.0, "cup", "Flour", "2 cups"),
        ("Flour\t2 cups", 2.0, "cup", "Flour", "2 cups"),
        ("Flour ..... 2 cups", 2.0, "cup", "Flour", "2 cups"),
        ("salt (1 tsp)", 1.0, "tsp", "salt", "1 tsp"),
        ("Sour cream, 16 oz", 16.0, "oz", "Sour cream", "16 oz"),
        ("cream cheese 200 g, softened", 200.0, "g", "cream cheese", "200 g"),
        ("eggs 4", 4.0, "piece", "eggs", "4"),
        # marks before the line
        ("- 1 cup sour cream", 1.0, "cup", "sour cream", "1 cup"),
        ("• 1 cup sour cream", 1.0, "cup", "sour cream", "1 cup"),
        ("- [ ] 1 cup sour cream", 1.0, "cup", "sour cream", "1 cup"),
        ("3. 1 cup sour cream", 1.0, "cup", "sour cream", "1 cup"),
        ("> * 1 cup sour cream", 1.0, "cup", "sour cream", "1 cup"),
        # what is no amount
        ("1 cup 2% milk", 1.0, "cup", "milk", "1 cup"),
        ("1 lb 80% lean ground beef", 1.0, "lb", "beef", "1 lb"),
        ("12 rolls, split", 12.0, "piece", "rolls", "12"),
        ("1 tsp five spice powder", 1.0, "tsp", "five spice powder", "1 tsp"),
        ("1 onion, cut into 1-inch pieces", 1.0, "piece", "onion", "1"),
    ],
)
def test_a_line_gives_quantity_unit_food_and_an_amount_that_a_recipe_can_hold(
    text: str, quantity: float, unit: str, food: str, amount: str
) -> None:
    line = read_line(text)
    assert line.quantity == pytest.approx(quantity)
    assert (line.unit, line.food_text, line.amount) == (unit, food, amount)
    assert line.text == text
    assert not line.asks


@pytest.mark.parametrize(
    ("text", "ends", "amount"),
    [
        ("2-3 cups broth", (2.0, 3.0), "2 1/2 cups"),
        ("2 – 3 cups broth", (2.0, 3.0), "2 1/2 cups"),
        ("2 to 3 cups broth", (2.0, 3.0), "2 1/2 cups"),
        ("2 or 3 scallions", (2.0, 3.0), "2 1/2"),
        ("1 -1 1/2 lb mushrooms", (1.0, 1.5), "1 1/4 lb"),
        ("1½–2 tsp cumin", (1.5, 2.0), "1 3/4 tsp"),
        ("2 cups to 3 cups broth", (2.0, 3.0), "2 1/2 cups"),
    ],
)
def test_a_range_is_kept_and_its_middle_used_and_said(
    text: str, ends: tuple[float, float], amount: str
) -> None:
    line = read_line(text)
    assert (line.quantity, line.amount) == (ends, amount)
    assert any("middle" in remark and amount in remark for remark in line.remarks)


def test_a_range_between_two_units_is_asked_about() -> None:
    line = read_line("1 teaspoon to 1 tablespoon honey")
    assert line.food_text == "honey"
    assert [str(ask) for ask in line.asks] == ["How much, from 1 teaspoon to 1 tablespoon?"]


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("2 x 400 g tins chickpeas, drained", "2 tins (400 g)"),
        ("2 x 400g tins chickpeas", "2 tins (400 g)"),
        ("1 (15 oz) can chickpeas", "1 can (15 oz)"),
        ("1 (15.5 oz.) can chickpeas", "1 can (15.5 oz)"),
        ("1 15-oz. can chickpeas", "1 can (15 oz)"),
        ("one 15-ounce can chickpeas", "1 can (15 oz)"),
        ("1 can (15 oz/425 g) chickpeas", "1 can (15 oz)"),
        ("2 cans (15 oz each) chickpeas", "2 cans (15 oz)"),
        ("15-oz can chickpeas", "1 can (15 oz)"),
        ("1 - 8 oz pkg cream cheese", "1 pack (8 oz)"),
        ("2 - 15 oz cans white beans", "2 cans (15 oz)"),
        ("2 1/4-oz packets yeast", "2 packs (1/4 oz)"),
        ("4-6 oz can tuna", "1 can (5 oz)"),
        ("4 chicken breasts (6 oz each)", "24 oz"),
        ("four 6-ounce salmon fillets", "24 oz"),
        ("8 (6 inch) corn tortillas", "8"),
    ],
)
def test_packs_keep_their_size(text: str, amount: str) -> None:
    line = read_line(text)
    assert line.amount == amount
    assert line.pack is not None
    assert not line.asks


def test_packs_without_a_number_are_asked_about() -> None:
    assert [str(ask) for ask in read_line("15 oz cans black beans").asks] == ["How many cans?"]
    assert not read_line("15 oz can black beans").asks


@pytest.mark.parametrize(
    ("text", "amount", "other"),
    [
        ("1/4 cup (60 g) tahini", "1/4 cup", "60 g"),
        ("1/4 cup/60 ml olive oil", "1/4 cup", "60 ml"),
        ("1/4 cup or 60 ml olive oil", "1/4 cup", "60 ml"),
        ("225g/8oz cream cheese", "225 g", "8 oz"),
        ("1/2 cup (1 stick) butter", "1/2 cup", "1 stick"),
        ("1 stick butter (1/2 cup)", "1 stick", "1/2 cup"),
        ("1 cup walnuts (about 4 oz)", "1 cup", "4 oz"),
    ],
)
def test_a_second_measure_of_the_same_amount_stands_beside_it(
    text: str, amount: str, other: str
) -> None:
    line = read_line(text)
    assert line.amount == amount
    assert line.other is not None
    assert line.other.amount == other
    assert line.more is None


@pytest.mark.parametrize(
    "text",
    [
        "1 tbsp plus 1 tsp olive oil",
        "1 tbsp + 1 tsp olive oil",
        "1 tbsp and 1 tsp olive oil",
        "1 tbsp olive oil (plus 1 tsp)",
        "1 tbsp olive oil, plus 1 tsp olive oil",
    ],
)
def test_a_second_amount_is_added(text: str) -> None:
    line = read_line(text)
    assert (line.amount, line.food_text) == ("1 tbsp + 1 tsp", "olive oil")
    assert line.more is not None
    assert line.more.quantity_text == "1"


def test_pounds_and_ounces_add_up() -> None:
    assert read_line("1lb 4oz mushrooms").amount == "1 lb + 4 oz"


@pytest.mark.parametrize(
    ("text", "food"),
    [
        ("salt to taste", "salt"),
        ("Pepper, to taste", "Pepper"),
        ("water as needed", "water"),
        ("salt (as desired)", "salt"),
        ("tahini", "tahini"),
        ("some parsley", "parsley"),
        ("a few sprigs thyme", "thyme"),
        ("plenty of dill", "dill"),
        ("Splash of milk", "milk"),
        ("2-inch piece of ginger", "ginger"),
        ("0 cups sugar", "sugar"),
        ("999999999 cups sugar", "sugar"),
    ],
)
def test_an_unknown_amount_is_asked_for_and_never_taken_for_nothing(text: str, food: str) -> None:
    line = read_line(text)
    assert (line.food_text, line.amount) == (food, "")
    assert About.AMOUNT in abouts(line)


def test_to_taste_beside_an_amount_leaves_the_amount() -> None:
    line = read_line("1 tbsp lemon juice, or to taste")
    assert (line.amount, line.to_taste, line.comment) == ("1 tbsp", False, "to taste")
    assert read_line("salt to taste").to_taste


@pytest.mark.parametrize("text", ["a pinch of salt", "pinch salt", "1 pinch salt", "dash of salt"])
def test_a_pinch_is_an_amount_and_marked(text: str) -> None:
    line = read_line(text)
    assert line.pinch
    assert line.amount in {"1 pinch", "1 dash"}
    assert line.food_text == "salt"


@pytest.mark.parametrize(
    ("text", "amount", "fruit", "match"),
    [
        ("juice of 1 lemon", "1", "lemon", "lemon juice"),
        ("Juice of half a lemon", "1/2", "lemon", "lemon juice"),
        ("grated zest and juice of 2 limes", "2", "limes", "limes zest and juice"),
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


def test_optional_divided_and_extra_are_marked() -> None:
    assert read_line("1 tbsp capers (optional)").optional
    assert read_line("optional: 1 tbsp capers").amount == "1 tbsp"
    assert read_line("3/4 cup parmesan, divided").divided
    assert not read_line("7 cloves garlic (minced and divided in half)").divided
    extra = read_line("1/4 cup olive oil, plus more for drizzling")
    assert extra.and_extra
    assert any("not counted" in remark for remark in extra.remarks)


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


@pytest.mark.parametrize("text", ["For the topping:", "## Topping", "DIP:", "For the topping"])
def test_a_heading_is_no_ingredient(text: str) -> None:
    line = read_line(text)
    assert line.heading
    assert not line.asks


@pytest.mark.parametrize("text", ["", "   ", "\0\0", "1 cup", "***"])
def test_a_line_without_a_food_asks_for_it(text: str) -> None:
    assert About.FOOD in abouts(read_line(text))


def test_a_weight_beside_pieces_is_asked_about_unless_it_says_each() -> None:
    assert About.SIZE in abouts(read_line("3 chicken breasts (about 1 1/2 lb)"))
    assert About.SIZE not in abouts(read_line("3 chicken breasts (8 oz each)"))
    assert About.SIZE not in abouts(read_line("1 chicken breast (8 oz)"))


def test_an_amount_for_each_person_is_asked_about() -> None:
    line = read_line("2 slices bread, per person")
    assert [str(ask) for ask in line.asks] == ["The amount is per person: how much in all?"]


def test_a_mended_unit_is_said() -> None:
    line = read_line("2 teaspon cumin")
    assert line.unit_text == "teaspon"
    assert line.remarks == ("'teaspon' is read as tsp.",)


def test_a_food_near_a_unit_in_spelling_stays_a_food() -> None:
    assert read_line("2 clover sprouts").food_text == "clover sprouts"
    assert read_line("2 rounds brie").food_text == "brie"


def test_the_words_as_written_stay_as_written() -> None:
    line = read_line("1 ½ Tbsp. Dijon mustard")
    assert (line.quantity_text, line.unit_text, line.food_text) == ("1 ½", "Tbsp", "Dijon mustard")


def test_the_fields_of_a_corpus_join_what_stands_several_times() -> None:
    line = read_line("1 (8 ounce) package cream cheese or 2 cups labneh")
    assert corpus_fields(line) == ("1 | 8 | 2", "ounce | package | cups", "cream cheese | labneh")


ANY_TEXT = st.text(max_size=80)
KITCHEN_TEXT = st.lists(
    st.sampled_from(
        (
            *(
                "1",
                "2",
                "1/2",
                "½",
                "1 1/2",
                "0",
                "15",
                "1,5",
                "x",
                "-",
                "–",
                "to",
                "or",
                "and",
                "/",
            ),
            *(
                "cup",
                "cups",
                "tbsp",
                "g",
                "oz",
                "can",
                "cloves",
                "inch",
                "package",
                "pinch",
                "dozen",
            ),
            *("(", ")", ",", ";", ":", ".", "+", "%", "plus", "each", "per", "about", "of", "a"),
            *("salt", "pepper", "cream cheese", "garlic", "lemon", "juice", "fresh", "chopped"),
            *("large", "for", "with", "to taste", "optional", "divided", "ACME", "half", "#", "*"),
        )
    ),
    max_size=25,
).map(" ".join)


@given(st.one_of(ANY_TEXT, KITCHEN_TEXT))
def test_no_text_breaks_the_reading_or_is_changed_by_it(text: str) -> None:
    line = read_line(text)
    assert line.text == text
    assert isinstance(corpus_fields(line), tuple)


@given(KITCHEN_TEXT)
def test_every_amount_read_can_stand_in_a_recipe_or_is_asked_for(text: str) -> None:
    for line in (read_line(text), *read_line(text).alternatives, *read_line(text).also):
        if line.amount:
            assert str(parse_amount(line.amount)) == line.amount
        elif not line.heading:
            assert line.asks


TERMS = st.builds(
    Term,
    quantity=st.fractions(Fraction(1, 8), 100, max_denominator=8),
    unit=st.sampled_from(
        sorted(word for word, unit in UNITS.items() if unit.kind in {Kind.MASS, Kind.VOLUME})
    ),
)


@given(TERMS, st.sampled_from(["tahini", "cream cheese", "chickpeas"]))
def test_an_amount_that_was_written_is_read_back(term: Term, food: str) -> None:
    amount = Amount((term,))
    for text in (f"{amount} {food}", f"{food} - {amount}", f"{food} ({amount})"):
        line = read_line(text)
        assert (line.amount, line.food_text) == (str(amount), food)


@given(st.integers(1, 12), st.integers(1, 900), st.sampled_from(["can", "tin", "jar", "tub"]))
def test_packs_that_were_written_are_read_back(count: int, size: int, pack: str) -> None:
    of_size = Term(quantity=Fraction(size), unit="g")
    amount = Amount((Term(quantity=Fraction(count), unit=pack, size=of_size),))
    assert read_line(f"{amount} chickpeas").amount == str(amount)
    assert read_line(f"{count} x {size}g {pack}s chickpeas").amount == str(amount)


@pytest.mark.parametrize(
    "text",
    [
        "a" * LONG,
        "1 cup " * (LONG // 6),
        "(" * LONG,
        "1/" * (LONG // 2),
        "1 (" * (LONG // 3),
        "\0" * LONG,
        "9" * LONG,
    ],
    ids=["letters", "cups", "brackets", "slashes", "nesting", "NULs", "digits"],
)
def test_a_line_of_fifty_megabytes_is_read_at_once_and_asked_about(text: str) -> None:
    started = time.process_time()
    line = read_line(text)
    assert time.process_time() - started < 1
    assert line.text is text
    assert line.asks


@pytest.mark.parametrize("text", ["\ufeff1 cup milk", "\u202e1 cup\u202c milk", "1\0cup\0milk"])
def test_marks_that_show_nothing_do_not_hide_an_amount(text: str) -> None:
    line = read_line(text)
    assert (line.amount, line.food_text) == ("1 cup", "milk")


needs_corpus = pytest.mark.skipif(
    not DEFAULT.exists(), reason="the marked lines lie beside the repository, not in it"
)


@needs_corpus
def test_marked_lines_are_read_as_others_marked_them() -> None:
    lines = read_marked(DEFAULT)
    for part in (lines, [line for line in lines if line.is_held_out]):
        found = figures(part)
        assert found.main_quantity >= 0.98
        assert found.main_unit >= 0.97
        assert found.quantity >= 0.975
        assert found.unit >= 0.97
        assert found.food >= 0.95
        assert found.main_food >= 0.94


@needs_corpus
def test_five_thousand_lines_are_read_in_a_second() -> None:
    lines = [line.line for line in read_marked(DEFAULT)]
    for line in lines:
        read_line(line)

    def seconds() -> float:
        started = time.process_time()
        for line in lines:
            read_line(line)
        return time.process_time() - started

    assert len(lines) / min(seconds() for _ in range(5)) >= 5_000
