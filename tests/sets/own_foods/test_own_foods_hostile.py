"""Files of own foods that are hostile or damaged: each is read or refused in words."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from reformulate.errors import BadInput
from reformulate.foods.own import STATABLE
from reformulate.sets.own_foods import OWN_FOODS_FILE, own_foods_from, read_own_foods
from tests.sets.own_foods.food_files import TEXT


def outcome(read_it):
    try:
        return read_it(), ()
    except BadInput as error:
        return None, error.problems


@pytest.fixture(scope="module")
def scratch(tmp_path_factory):
    return tmp_path_factory.mktemp("fuzz")


def read_any(folder, data):
    (folder / OWN_FOODS_FILE).write_bytes(data)
    found, problems = outcome(lambda: read_own_foods(folder))
    assert (found is None) is bool(problems)
    assert all(OWN_FOODS_FILE in p.where and p.what and p.fix for p in problems)


FOOD_A = b"format = 1\n[[food]]\nkey = 'own:a'\nname = 'a'\n"


@given(st.binary(max_size=300))
@example(b"\x00")
@example(b"\xff\xfe")
@example(b"format = 1\nfood = " + b"[" * 2000)
@example(FOOD_A + b"stated.fat_g = " + b"9" * 4000)
@example(FOOD_A + b"serving_grams = 1e-300\nper = 'serving'\nstated = {fat_g = 1e-300}")
@example(FOOD_A + b"serving = '1000000 cups'\nserving_grams = inf\nstated = {fat_g = inf}")
def test_any_bytes_are_read_or_refused_in_words(scratch, data):
    read_any(scratch, data)


SHARDS = [
    "[",
    "]",
    "{",
    "}",
    '"',
    "=",
    ".",
    "\n",
    "[[food]]",
    "nan",
    "-",
    "[food.stated]",
    "'",
    "0x",
    "%",
    "<",
]


@given(st.data())
def test_a_file_changed_anywhere_is_read_or_refused_in_words(scratch, data):
    whole = TEXT
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(whole)))
        end = data.draw(st.integers(at, min(len(whole), at + 12)))
        shard = data.draw(st.sampled_from(SHARDS) | st.text(max_size=3))
        whole = whole[:at] + shard + whole[end:]
    read_any(scratch, whole.encode("utf-8", "surrogatepass"))


VALUES = st.recursive(
    st.booleans() | st.integers() | st.floats() | st.text(max_size=4),
    lambda inner: (
        st.lists(inner, max_size=2)
        | st.dictionaries(st.sampled_from(["key", "grams", "unit", "fat_g", "x"]), inner)
    ),
    max_leaves=5,
)


@given(st.data())
def test_data_of_any_shape_under_our_keys_is_read_or_refused_in_words(data):
    food = {"key": "own:a", "name": "A", "stated": {"fat_g": 1.0}}
    keys = st.sampled_from(
        [*food, "measure", "per", "rounding", "serving", "serving_grams", "words"]
    )
    food |= data.draw(st.dictionaries(keys, VALUES))
    if isinstance(food["stated"], dict):
        food["stated"] |= data.draw(st.dictionaries(st.sampled_from(sorted(STATABLE)), VALUES))
    found, problems = outcome(lambda: own_foods_from({"format": 1, "food": [food]}))
    assert (found is None) is bool(problems)
