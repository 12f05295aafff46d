"""Which food a line means: never silently a wrong one."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.foods import INDEX, FoodTable, food_table, read_release
from reformulate.measures import SYSTEMS
from reformulate.recipes.matching import (
    Candidate,
    Consequence,
    Match,
    asking_order,
    consequence,
    grams_asks,
    grams_of,
    match_food,
    name_to_remember,
)
from reformulate.recipes.matching.aliases import aliases
from reformulate.recipes.reading import About, read_line
from tests.recipes.matching_figures import (
    CORPUS,
    corpus_lines,
    measure,
    milliseconds_a_line,
    names,
)

FOODS = food_table()
RELEASE = Path(__file__).parents[3] / "shared" / "data" / "sr28" / "abbrev.csv"
KITCHEN_WORDS = """
    1 1/2 ½ 2% cup cups can tin g chopped dried fresh low-fat fat-free unsalted canned ground smoked
    ( ) , ; - / % with in or and of red cheese bean butter milk oil pepper tomato chile cream egg
    tofu fat part skim whole light salt 0 é ﷺ"""
KITCHEN = st.sampled_from([*KITCHEN_WORDS.split(), "\u202e\u05d0", "\x00", "\ufeff"])


@pytest.fixture(scope="module")
def everything() -> FoodTable:
    if not RELEASE.exists():
        pytest.skip("the public release is not at hand")
    return FOODS.merged(read_release(RELEASE))


# --- figures on names as cooks write them


@pytest.mark.parametrize("batch", ["before", "after"])
def test_common_names_find_their_food_and_are_hardly_ever_wrong_in_silence(batch: str) -> None:
    rows = [row for row in names() if row.batch == batch]
    found = measure(rows, FOODS)
    assert found.names == 150
    assert found.first >= 0.92 * found.with_food
    assert found.among_three >= 0.98 * found.with_food
    assert len(found.wrong) <= 0.01 * found.names, found.wrong


def test_few_common_names_have_to_be_asked_about() -> None:
    found = measure(names(), FOODS)
    assert found.asked <= 0.15 * found.names


def test_the_right_foods_of_common_names_are_in_the_table() -> None:
    assert not [key for row in names() for key in row.right if key not in FOODS]


def test_names_still_hold_among_all_foods_of_a_release(everything: FoodTable) -> None:
    own = [row for row in names() if row.right]
    found = measure(own, everything)
    assert found.first >= 0.92 * found.with_food
    assert not found.wrong


# --- laws


@given(food=st.sampled_from(FOODS.foods), shout=st.booleans())
def test_a_foods_own_name_finds_it_first_and_surely(food, shout) -> None:
    match = match_food(f"  {food.name.upper() if shout else food.name} ", FOODS)
    assert match.food == food.key
    assert match.sure
    assert match.ranked[0].confidence == 1.0


@given(text=st.text(max_size=200) | st.lists(KITCHEN, max_size=25).map(" ".join))
def test_any_text_is_matched_or_asked_about_without_an_error(text: str) -> None:
    match = match_food(text, FOODS)
    assert len(match.ranked) <= 5
    assert match.why
    confidences = [one.confidence for one in match.ranked]
    assert all(0.0 <= one <= 1.0 for one in confidences)
    assert sum(confidences) <= 1.0 + 1e-9
    assert not match.sure or match.ranked
    assert name_to_remember(text) == name_to_remember(text)


@given(row=st.sampled_from([row for row in names() if row.right]))
def test_an_unknown_word_before_a_food_always_leads_to_a_question(row) -> None:
    assert not match_food(f"zzqx {row.name}", FOODS).sure


@given(row=st.sampled_from(names()), key=st.sampled_from([food.key for food in FOODS]))
def test_a_remembered_choice_wins(row, key) -> None:
    match = match_food(row.name, FOODS, {name_to_remember(row.name): key})
    assert match.food == key
    assert match.sure
    assert match.ranked[0].confidence == 1.0
    assert len({one.food for one in match.ranked}) == len(match.ranked)


def test_a_remembered_food_that_the_table_has_no_longer_is_passed_over() -> None:
    assert match_food("butter", FOODS, {"butter": "gone"}) == match_food("butter", FOODS)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("2 tbsp butter, melted", "1 cup butter, softened"),
        ("1 tin chickpeas, drained", "2 cans garbanzo beans, drained"),
        ("3 eggs", "2 eggs, beaten"),
    ],
)
def test_a_choice_is_remembered_for_the_food_whatever_its_amount(one: str, other: str) -> None:
    assert name_to_remember(one) == name_to_remember(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("vinegar, balsamic", "vinegar"),
        ("1 pepper, chopped", "1 tsp pepper"),
        ("dried basil", "fresh basil"),
        ("milk", "milk (2%)"),
        ("1/2 lb bacon, fried", "1/2 lb bacon"),
        ("cream cheese with chives", "cream cheese"),
    ],
)
def test_a_choice_is_not_remembered_for_another_food(one: str, other: str) -> None:
    assert name_to_remember(one) != name_to_remember(other)


def test_every_alias_leads_to_its_first_food_and_asks_where_it_should() -> None:
    astray = []
    for alias in aliases():
        match = match_food(alias.written, FOODS)
        must_be_sure = len(alias.foods) == 1 and not alias.ask
        if match.food != alias.foods[0] or match.sure < must_be_sure or (match.sure and alias.ask):
            astray.append(alias.written)
    assert not astray


def test_no_words_are_called_two_things() -> None:
    seen: dict[object, str] = {}
    twice = []
    for alias in aliases():
        words = alias.words
        same = (words.food, frozenset(words.form.items()), words.idle)
        means = f"{alias.foods} {alias.ask}"
        if seen.setdefault(same, means) != means:
            twice.append(alias.written)
    assert not twice


# --- forms


@pytest.mark.parametrize(
    ("line", "food"),
    [
        ("2 cups milk, low-fat", "milk-1"),
        ("1 cup milk (2%)", "milk-2"),
        ("8 oz ricotta, part skim", "ricotta-part-skim"),
        ("1/2 cup mayonnaise, light", "mayonnaise-light"),
        ("1 cup sour cream, nonfat", "sour-cream-fat-free"),
        ("1 cup lowfat soured cream", "sour-cream-light"),
        ("2 tbsp vinegar, balsamic", "vinegar-balsamic"),
        ("1 cup flour, whole wheat", "flour-whole"),
        ("3 slices bread, whole wheat", "bread-whole"),
        ("1/4 tsp pepper, cayenne", "pepper-cayenne"),
        ("1 cup kale, frozen", "kale-frozen"),
        ("10 ounces broccoli florets (frozen, thawed)", "broccoli-frozen"),
        ("4 tbsp butter (unsalted)", "butter-unsalted"),
        ("1 cup grilled eggplant", "eggplant-cooked"),
        ("1 cup sauteed onions", "onion-sauteed"),
        ("2 onions, sauteed", "onion-yellow"),
        ("1 can black beans, rinsed", "beans-black-canned"),
        ("1 can chickpeas, drained and rinsed", "chickpeas-canned-rinsed"),
        ("3 sprigs thyme", "thyme"),
        ("1 bunch coriander", "cilantro"),
        ("1 cup powdered sugar", "sugar-powdered"),
        ("juice of 2 lemons", "lemon-juice"),
        ("1 tsp grated lemon rind", "lemon-zest"),
        ("70 g milk (condensed)", "milk-condensed-sweetened"),
        ("1 tomato (diced)", "tomato"),
        ("1 cup long-grain cooked white rice", "rice-cooked"),
        ("6 slices bacon, cooked and crumbled", "bacon-cooked"),
    ],
)
def test_the_form_a_line_says_picks_the_food(line: str, food: str) -> None:
    match = match_food(read_line(line), FOODS)
    assert match.food == food
    assert match.sure, match.why


@pytest.mark.parametrize(
    ("line", "first"),
    [
        ("1 cup chickpeas", "chickpeas-canned"),
        ("1/2 lb bacon, cooked and crumbled", "bacon-cooked"),
        ("2 tbsp butter", "butter-salted"),
        ("1 cup sugar-free maple syrup", "maple-syrup"),
        ("1/4 cup soy sauce (I use low sodium)", "soy-sauce"),
        ("1 cup spinach, boiled", None),
        ("8 oz cream cheese with chives", "cream-cheese"),
        ("1 cup salted cashews", "cashews"),
        ("1 cup reduced-fat feta", "feta"),
        ("1 tsp fresh oregano", "oregano-dried"),
        ("1/2 cup pepper, sliced", None),
        ("1 tbsp coriander", None),
    ],
)
def test_what_changes_the_figures_and_is_not_said_is_asked(line: str, first: str | None) -> None:
    match = match_food(read_line(line), FOODS)
    assert not match.sure
    assert first is None or match.food == first


@pytest.mark.parametrize(
    "line",
    """butter lettuce;coconut sugar;almond extract;corn nuts;rice noodles;peanut brittle;onion rings
    potato salad;garlic bread;lemon curd;mustard greens;tomato soup;cheese crackers;ginger ale;root beer
    seasoned salt;celery salt;lemon pepper;pickled onions;tomato powder;canned peaches;baby corn
    honey roasted peanuts;glazed walnuts;whipped cream cheese;goat milk;oat milk;cream of chicken soup
    chili oil;olive tapenade;pickle juice;fish stock;shrimp paste;duck fat;wasabi peas;mango chutney
    cake mix;nutritional yeast;liquid smoke;popcorn kernels;smoked almonds;coconut yogurt;cooking spray
    """.replace("\n", ";").split(";"),
)
def test_a_food_the_table_does_not_have_is_asked_about(line: str) -> None:
    assert not match_food(line.strip(), FOODS).sure


@pytest.mark.parametrize(
    ("text", "food"),
    [
        ("mayonaise", "mayonnaise"),
        ("worchestershire sauce", "worcestershire-sauce"),
        ("parmesean cheese", "parmesan"),
        ("jalepeno", "jalapeno"),
        ("cinammon", "cinnamon-ground"),
        ("fresh cilanto", "cilantro"),
        ("brocolli", "broccoli"),
    ],
)
def test_a_slip_in_the_spelling_is_seen_through(text: str, food: str) -> None:
    assert match_food(text, FOODS).food == food


def test_a_short_word_that_is_nearly_another_is_not_taken_for_it() -> None:
    match = match_food("1 cup batter", FOODS)
    assert not match.sure
    assert "batter" in match.why


def test_a_question_says_what_it_is_about() -> None:
    assert "reduced-fat" in match_food("reduced-fat feta", FOODS).why
    assert "figures differ" in match_food("butter", FOODS).why
    assert "“nutritional”" in match_food("nutritional yeast", FOODS).why
    assert match_food("", FOODS).why == "The line names no food."


# --- size and time


@pytest.mark.parametrize(
    "text",
    ["butter " * 400_000, "(" * 200_000, "low fat, " * 100_000, "ﷺ" * 100_000, "1/" * 300_000],
)
def test_a_hostile_text_is_cut_short(text: str) -> None:
    match = match_food(text, FOODS)
    assert len(match.ranked) <= 5
    assert len(match.why) < 5_000


def test_a_long_text_that_begins_like_a_food_is_not_that_food() -> None:
    assert not match_food("Butter, salted" + " " * 1_000 + "with nails", FOODS).sure


@pytest.mark.skipif(not CORPUS.exists(), reason="the corpus of lines is not at hand")
def test_matching_takes_no_time_to_speak_of(everything: FoodTable) -> None:
    lines = corpus_lines()[:300]
    assert milliseconds_a_line(lines, FOODS)[285] <= 3.0 * 3  # three times over, for a busy machine
    assert milliseconds_a_line(lines, everything)[285] <= 30.0


# --- grams


def test_a_line_weighs_what_its_foods_measure_says() -> None:
    line = read_line("juice of 2 lemons")
    weighed = grams_of(line, FOODS.food("lemon-juice"), SYSTEMS["us"])
    assert weighed is not None
    assert weighed.grams == pytest.approx(96.0)
    assert not grams_asks(line, FOODS.food("lemon-juice"), SYSTEMS["us"])


def test_where_no_measure_fits_the_weight_beside_it_counts() -> None:
    weighed = grams_of(read_line("1 jar (200 g) capers"), FOODS.food("capers"), SYSTEMS["metric"])
    assert weighed is not None
    assert weighed.grams == pytest.approx(200.0)


def test_where_nothing_fits_grams_are_asked_for_with_what_the_food_has() -> None:
    line = read_line("1 handful basil leaves")
    basil = FOODS.food("basil")
    assert grams_of(line, basil, SYSTEMS["us"]) is None
    (ask,) = grams_asks(line, basil, SYSTEMS["us"])
    assert ask.about is About.AMOUNT
    assert "How many grams is 1 handful of Basil, fresh?" in ask.question
    assert "1 bunch" in ask.question


def test_a_line_without_an_amount_is_not_asked_for_grams_twice() -> None:
    line = read_line("salt to taste")
    assert grams_of(line, FOODS.food("salt-table"), SYSTEMS["us"]) is None
    assert grams_asks(line, FOODS.food("salt-table"), SYSTEMS["us"]) == ()
    assert line.asks


# --- what to ask first


def _stake(name: str, grams: float | None) -> Consequence:
    match = match_food(name, FOODS)
    return consequence(match, [grams] * len(match.ranked), FOODS)


def test_a_sure_line_has_no_consequence() -> None:
    assert _stake("olive oil", 500.0) == Consequence()


def test_butter_is_asked_for_its_sodium() -> None:
    salted = _stake("butter", 100.0)
    rows = [FOODS.index("butter-salted"), FOODS.index("butter-unsalted")]
    sodium = FOODS.values[rows, INDEX["sodium_mg"]]
    assert salted.sodium == pytest.approx(float(np.ptp(sodium)), rel=1e-6)
    assert salted.energy < 20.0


@given(grams=st.floats(0.1, 5_000.0), times=st.floats(1.1, 20.0))
def test_more_of_an_unsure_food_has_more_consequence(grams: float, times: float) -> None:
    little, much = _stake("chickpeas", grams), _stake("chickpeas", grams * times)
    assert much.energy == pytest.approx(little.energy * times)
    assert much.sodium == pytest.approx(little.sodium * times)


def test_weights_that_differ_between_the_foods_count_as_mass() -> None:
    ranked = tuple(
        Candidate(food=key, score=90.0, confidence=0.5) for key in ("chickpeas-dry", "water")
    )
    stake = consequence(Match(ranked=ranked), [200.0, 240.0], FOODS)
    assert stake.mass == pytest.approx(40.0)


def test_what_has_most_consequence_is_asked_first_and_what_is_sure_never() -> None:
    whole = Consequence(energy=2000.0, sodium=3000.0, mass=1000.0)
    lines = [("olive oil", 200.0), ("thyme", 1.0), ("chickpeas", 400.0), ("butter", 50.0)]
    order = asking_order([_stake(name, grams) for name, grams in lines], whole)
    assert order == (2, 3, 1)


def test_a_share_of_nothing_is_nothing() -> None:
    assert Consequence(energy=10.0).share_of(Consequence()) == 0.0


def test_a_match_is_a_value_that_nobody_changes() -> None:
    match = match_food("salt", FOODS)
    with pytest.raises(dataclasses.FrozenInstanceError):
        match.sure = False  # type: ignore[misc]
