"""Finding imported foods as a name is typed."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.foods import food_table, search_foods
from reformulate.foods.store import FoodStore, all_foods, search_everywhere
from reformulate.foods.store.words import words_of
from tests.foods.store.releases import amount, csv_folder, food, imported, shared_file

GENERIC = [
    "Butter, salted",
    "Butter oil, anhydrous",
    "Peanut butter, smooth style, without salt",
    "Buttermilk, fluid, lowfat",
    "Cheese, cream",
    "Cheese, cream, fat free",
    "Cheese, cheddar",
    "Cheese spread, cream cheese base",
    "Crème fraîche",
    "Goat's milk",
    "Onions, raw",
    "Oil, olive",
]
BRANDED = ["BUTTER", "BUTTER COOKIES", "CREAM CHEESE", "ONION DIP"]


@pytest.fixture(scope="module")
def store(tmp_path_factory: pytest.TempPathFactory) -> Iterator[FoodStore]:
    folder = tmp_path_factory.mktemp("search")
    foods = [food(i, name) for i, name in enumerate(GENERIC, 1)]
    foods += [food(i, name, "branded_food") for i, name in enumerate(BRANDED, 101)]
    amounts = [amount(each["fdc_id"], 1008, 1) for each in foods]
    imported(csv_folder(folder / "csv_2024-10-31", foods, amounts), folder / "foods.sqlite")
    with FoodStore.open(folder / "foods.sqlite") as opened:
        yield opened


@pytest.fixture(scope="module")
def release_28(tmp_path_factory: pytest.TempPathFactory) -> Iterator[FoodStore]:
    path = tmp_path_factory.mktemp("sr28") / "foods.sqlite"
    imported(shared_file("sr28/abbrev.csv").parent, path)
    with FoodStore.open(path) as opened:
        yield opened


def found(store: FoodStore, text: str, limit: int = 20) -> list[str]:
    return [hit.name for hit in store.search(text, limit)]


def test_plain_names_that_start_with_the_text_come_first_and_packages_last(
    store: FoodStore,
) -> None:
    assert found(store, "butter") == [
        "Butter, salted",
        "Butter",
        "Butter oil, anhydrous",
        "Butter cookies",
        "Buttermilk, fluid, lowfat",
        "Peanut butter, smooth style, without salt",
    ]


def test_a_hit_says_what_it_is_and_where_it_comes_from(store: FoodStore) -> None:
    (hit,) = store.search("olive")
    assert (hit.key, hit.name, hit.group, hit.source) == (
        "fdc:12",
        "Oil, olive",
        "SR Legacy",
        "SR Legacy, 2024-10-31",
    )


@pytest.mark.parametrize("text", ["cheese cream", "CREAM  chee", "chee, crea", "cre che"])
def test_every_typed_word_must_begin_a_word_in_any_order(store: FoodStore, text: str) -> None:
    assert {"Cheese, cream", "Cheese, cream, fat free", "Cream cheese"} <= set(found(store, text))
    assert "Cheese, cheddar" not in found(store, text)


@pytest.mark.parametrize("text", ["creme fraiche", "Crème", "CRÈME FRAÎ", "goats milk", "goat’s"])
def test_accents_case_and_apostrophes_do_not_matter(store: FoodStore, text: str) -> None:
    assert found(store, text) in (["Crème fraîche"], ["Goat's milk"])


@pytest.mark.parametrize("text", ["oniom", "onoins raw", "chedder"])
def test_a_mistyped_word_takes_the_nearest_spelling(store: FoodStore, text: str) -> None:
    assert found(store, text, 1) in (["Onions, raw"], ["Cheese, cheddar"])


def test_what_is_like_nothing_finds_nothing(store: FoodStore) -> None:
    assert found(store, "qqqqq") == []
    assert found(store, "butter qqqqq") == []


def test_nothing_typed_gives_the_plainest_names(store: FoodStore) -> None:
    assert found(store, "", 2) == found(store, " ,- ", 2) == ["Oil, olive", "Goat's milk"]


@pytest.mark.parametrize("text", ["fdc:12", "12", "FDC:12"])
def test_a_food_is_found_by_its_number(store: FoodStore, text: str) -> None:
    assert [hit.key for hit in store.search(text)] == ["fdc:12"]


def test_no_more_are_given_than_asked_for(store: FoodStore) -> None:
    assert len(found(store, "b", 3)) == 3
    assert found(store, "b", 0) == []
    assert found(store, "b", -1) == []


MARKS = st.sampled_from("\"*^:()-+{}\\'%_;") | st.sampled_from([" AND ", " OR ", " NOT ", "NEAR("])


@given(st.lists(st.text(max_size=8) | MARKS | st.sampled_from(["butter", "cheese"]), max_size=8))
def test_whatever_is_typed_is_words_and_nothing_else(store: FoodStore, parts: list[str]) -> None:
    hits = store.search("".join(parts), 50)
    assert len({hit.key for hit in hits}) == len(hits)


@given(st.sampled_from(GENERIC), st.data())
def test_every_beginning_of_a_name_finds_the_food(
    store: FoodStore, name: str, data: st.DataObject
) -> None:
    text = name[: data.draw(st.integers(1, len(name)))]
    assert name in found(store, text, 50)


@given(st.sampled_from(GENERIC), st.randoms(use_true_random=False))
def test_the_order_of_words_does_not_change_what_is_found(
    store: FoodStore, name: str, random: object
) -> None:
    words = words_of(name)
    shuffled = sorted(words, key=lambda _: random.random())  # type: ignore[attr-defined]
    assert set(found(store, " ".join(shuffled), 50)) == set(found(store, " ".join(words), 50))


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("butter", "Butter, salted"),
        ("cream cheese", "Cheese, cream"),
        ("salt", "Salt, table"),
        ("onion", "Onions, raw"),
        ("hummus", "Hummus, commercial"),
        ("cheddar", "Cheese, cheddar"),
        ("olive oil", "Oil, olive, salad or cooking"),
        ("sour cream", "Cream, sour, cultured"),
        ("kale", "Kale, raw"),
    ],
)
def test_plain_words_find_the_plain_food_among_8790(
    release_28: FoodStore, text: str, first: str
) -> None:
    assert found(release_28, text, 1) == [first]


def test_typing_on_never_takes_longer_than_its_beginning_promises(release_28: FoodStore) -> None:
    # Each keystroke narrows what is found, as long as all of it is shown.
    for end in range(4, len("cheddar") + 1):
        text = "cheddar"[:end]
        assert set(found(release_28, text, 9999)) <= set(found(release_28, text[:-1], 9999))


def everywhere(store: FoodStore, text: str) -> tuple[list[str], list[str]]:
    foods, hits = search_everywhere(food_table(), store, text)
    return [food.key for food in foods], [hit.name for hit in hits]


def test_a_match_among_the_imported_foods_leaves_no_room_for_guesses(store: FoodStore) -> None:
    assert [food.key for food in search_foods(food_table(), "butter cookies")]  # guesses alone
    assert everywhere(store, "butter cookies") == ([], ["Butter cookies"])


def test_a_match_at_hand_leaves_no_room_for_guesses_either(store: FoodStore) -> None:
    foods, hits = everywhere(store, "tahini")
    assert foods[0] == "tahini"
    assert hits == []


def test_a_word_that_matches_nowhere_is_guessed_at(store: FoodStore) -> None:
    foods, hits = everywhere(store, "buttre")
    assert "butter-salted" in foods
    assert "Butter, salted" in hits
    assert everywhere(store, "qqxzzy") == ([], [])


def test_an_imported_food_that_is_at_hand_is_found_once(store: FoodStore) -> None:
    (hit,) = store.search("butter cookies")
    table = food_table().merged(store.table([hit.key]))
    foods, hits = search_everywhere(table, store, "butter cookies")
    assert [food.key for food in foods] == [hit.key]
    assert hits == ()


def test_the_name_in_a_release_leads_to_the_food_at_hand(release_28: FoodStore) -> None:
    """SR28 has NDB 01256 as "Yogurt, Greek, plain, nonfat"; the table says "strained"."""
    assert "yogurt-strained-nonfat" not in [
        food.key for food in search_foods(food_table(), "greek plain", guess=False)
    ]
    foods, _ = everywhere(release_28, "greek plain")
    assert foods[0] == "yogurt-strained-nonfat"


def test_all_foods_are_those_at_hand_and_the_imported_ones_but_for_packages(
    store: FoodStore,
) -> None:
    table = food_table()
    everything = all_foods(table, store)
    assert everything.foods[: len(table)] == table.foods
    names = [food.name for food in everything.foods[len(table) :]]
    assert sorted(names) == sorted(GENERIC)
    assert [food.name for food in store.plain(2)] == names[:2]


def test_a_food_of_a_release_that_is_at_hand_is_there_once(release_28: FoodStore) -> None:
    everything = all_foods(food_table(), release_28)
    numbers = [food.ndb for food in everything if food.ndb]
    shared = {food.ndb for food in food_table() if food.ndb}
    assert len(everything) == len(food_table()) + release_28.count() - len(shared)
    assert set(numbers) >= shared
