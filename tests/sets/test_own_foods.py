"""The own foods of a set: read and written whole, comments and other keys kept, hostile files."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from reformulate.errors import BadInput, FileProblem
from reformulate.foods.own import (
    DAILY_VALUES,
    STATABLE,
    Basis,
    OwnFood,
    Rounding,
    Stated,
    food_from_label,
    own_food_problems,
)
from reformulate.measures import Measure
from reformulate.sets import digest
from reformulate.sets.loading import parse
from reformulate.sets.own_foods import (
    OWN_FOODS_FILE,
    own_foods_from,
    read_own_foods,
    unread_own_food_keys,
)
from reformulate.sets.own_foods_writing import (
    remove_own_food,
    render_own_foods,
    write_own_food,
    write_own_foods,
)
from tests.foods.own.labels import ONION_DIP

TEXT = """\
# Foods of ours, invented
format = 1
cellar = "left shelf" # mine

# The light one
[[food]]
key = "own:light-dip" # as on the shelf
name = "Light dip"
per = "serving"
rounding = "us label"
serving = "2 tbsp"
serving_grams = 30
shop = "corner"

[food.stated]
energy_kcal = 60 # kcal
cholesterol_mg = "less than 5 mg"
ash_g = 1

[[food.measure]]
unit = "cup"
grams = 240 # weighed
shelf = 2

# Ours
[[food]]
key = "own:base"
name = "Onion base"
recipe = "base.toml"
stated = {fat_g = 3.5}

# The end
"""

LAYOUTS = {
    "commented": TEXT,
    "windows": TEXT.replace("\n", "\r\n"),
    "marked": "\ufeff" + TEXT,
    "within one row": 'format = 1\nfood = [{key = "own:base", name = "B", x = 1, stated = {fat_g = 1}}]\n',
    "dotted": 'format = 1\n[[food]]\nkey = "own:base"\nname = "B"\nstated.fat_g = 1\nmine.a = 2\n',
    "other tables around": '[mine]\na = 1\n[[food]]\nkey = "own:base"\nname = "B"\n[food.stated]\n'
    "fat_g = 1\n[yours]\nb = 2\n",
    "no end of row": 'format=1\n[[food]]\nkey="own:base"\nname="B"\nstated={}',
    "nothing yet": "",
    "no foods": "format = 1\nfood = []\n",
}
LAYOUTS["other tables around"] = "format = 1\n" + LAYOUTS["other tables around"]

texts = st.text(st.characters(exclude_categories=("Cs",)), max_size=20)
KEYS = ("own:base", "own:light-dip", "own:new", "own:crème-2")


@st.composite
def statements(draw, rounding):
    found = []
    for key in draw(st.lists(st.sampled_from(sorted(STATABLE)), unique=True, max_size=6)):
        amount = draw(st.floats(0.001, 30))
        share = rounding is Rounding.US_LABEL and key in DAILY_VALUES
        percent = draw(st.none() | st.integers(0, 120).map(float)) if share else None
        if percent is not None and draw(st.booleans()):
            found.append(Stated(nutrient=key, percent=percent))
        else:
            below = draw(st.booleans())
            found.append(Stated(nutrient=key, amount=amount, below=below, percent=percent))
    return tuple(found)


@st.composite
def own_foods(draw, key=None):
    rounding = draw(st.sampled_from(Rounding))
    measures = st.builds(
        Measure,
        unit=st.sampled_from(["cup", "tbsp", "piece", "pack"]),
        grams=st.floats(0.1, 5000),
        qualifier=texts,
        source=texts,
    )
    return OwnFood(
        key=key or draw(st.sampled_from(KEYS)),
        name=draw(texts.filter(str.strip)),
        group=draw(texts),
        words=tuple(draw(st.lists(texts, max_size=3))),
        per=draw(st.sampled_from(Basis)),
        rounding=rounding,
        serving=draw(st.sampled_from(["", "2 tbsp", "1/4 cup"])),
        serving_grams=draw(st.integers(40, 300).map(float) | st.floats(40, 300)),
        measures=tuple(draw(st.lists(measures, max_size=3))),
        stated=draw(statements(rounding)),
        recipe=draw(texts),
        source=draw(texts),
        note=draw(texts),
    )


collections = st.lists(st.sampled_from(KEYS), unique=True).flatmap(
    lambda keys: st.tuples(*(own_foods(key) for key in keys))
)


def read(text):
    return own_foods_from(parse(text.lstrip("\ufeff"), OWN_FOODS_FILE))


@pytest.fixture
def folder(tmp_path):
    (tmp_path / OWN_FOODS_FILE).write_bytes(TEXT.encode())
    return tmp_path


def content(folder):
    return (folder / OWN_FOODS_FILE).read_text(encoding="utf-8")


def problems_of(text):
    with pytest.raises(BadInput) as caught:
        read(text)
    return [str(problem) for problem in caught.value.problems]


@given(own_foods())
def test_the_foods_that_are_drawn_are_sound(food):
    assert list(own_food_problems(food)) == []


def test_a_file_is_read(folder):
    light, base = read_own_foods(folder)
    assert (light.key, light.serving_grams, light.rounding) == (
        "own:light-dip",
        30,
        Rounding.US_LABEL,
    )
    assert light.stated == (
        Stated(nutrient="energy_kcal", amount=60),
        Stated(nutrient="cholesterol_mg", amount=5, below=True),
    )
    assert light.measures == (Measure(unit="cup", grams=240),)
    assert (base.recipe, base.per) == ("base.toml", Basis.HUNDRED_GRAMS)
    assert base.stated == (Stated(nutrient="fat_g", amount=3.5),)


def test_a_set_without_the_file_has_no_own_foods(tmp_path):
    assert read_own_foods(tmp_path) == ()
    assert read_own_foods(tmp_path / "gone") == ()


def test_a_label_is_saved_and_read_as_it_was(tmp_path):
    dip = food_from_label("Light onion dip", ONION_DIP, serving="2 tbsp (30 g)")
    write_own_food(tmp_path, dip)
    assert read_own_foods(tmp_path) == (dip,)
    assert [(f.value, f.low, f.high) for f in read_own_foods(tmp_path)[0].per_100g] == [
        (f.value, f.low, f.high) for f in dip.per_100g
    ]
    assert (
        content(tmp_path)
        == """\
format = 1

[[food]]
key = "own:light-onion-dip"
name = "Light onion dip"
per = "serving"
rounding = "us label"
serving = "2 tbsp"
serving_grams = 30
source = "package label, per serving of 30 g"

[food.stated]
energy_kcal = 60
protein_g = 2
fat_g = 4.5
saturated_g = 2.5
cholesterol_mg = 15
carbohydrate_g = 4
fibre_g = 0
sugars_g = 2
added_sugars_g = "<1"
sodium_mg = 180
potassium_mg = 90
calcium_mg = "60 (4 %)"
iron_mg = "0 %"
vitamin_d_ug = 0
"""
    )


@given(collections)
def test_foods_written_and_read_are_the_same(foods):
    assert read(render_own_foods(foods).decode()) == foods


@given(collections)
def test_a_second_writing_changes_nothing(foods):
    data = render_own_foods(foods)
    assert render_own_foods(foods, data) == data


@given(collections, collections, st.booleans())
def test_writing_over_other_foods_gives_the_new_ones(old, new, windows):
    before = render_own_foods(old)
    if windows:
        before = before.replace(b"\n", b"\r\n")
    assert read(render_own_foods(new, before).decode()) == new


@pytest.mark.parametrize("layout", LAYOUTS)
@given(foods=collections)
def test_any_layout_takes_foods_and_keeps_what_is_not_ours(layout, foods):
    before = LAYOUTS[layout]
    after = render_own_foods(foods, before.encode()).decode()
    assert read(after) == foods
    was = parse(before.lstrip("\ufeff"), "x") if before else {}
    now = parse(after.lstrip("\ufeff"), "x")
    for key in ("cellar", "mine", "yours"):
        assert now.get(key) == was.get(key)
    kept = {table["key"]: table for table in now.get("food", [])}
    for table in was.get("food", []):
        for key in ("shop", "x", "mine"):
            if table["key"] in kept:
                assert kept[table["key"]].get(key) == table.get(key)
    assert ("# Foods of ours" in after) is ("# Foods of ours" in before)
    assert after.startswith("\ufeff") is before.startswith("\ufeff")
    assert ("\r\n" in after) is ("\r\n" in before)


def test_only_what_has_changed_is_written_anew(folder):
    light, _ = read_own_foods(folder)
    dearer = replace(
        light,
        name="Lighter dip",
        stated=(*light.stated[1:], Stated(nutrient="energy_kcal", amount=50)),
        measures=(Measure(unit="tbsp", grams=14), *light.measures),
    )
    write_own_food(folder, dearer)
    expected = TEXT.replace('name = "Light dip"', 'name = "Lighter dip"').replace(
        "energy_kcal = 60", "energy_kcal = 50"
    )
    expected = expected.replace(
        '[[food.measure]]\nunit = "cup"',
        '[[food.measure]]\nunit = "tbsp"\ngrams = 14\n\n[[food.measure]]\nunit = "cup"',
    )
    assert content(folder) == expected


def test_a_food_that_stays_is_left_as_it_is_written(folder):
    row = 'measure = [{unit = "cup", grams = 230}] # in one row\n'
    text = TEXT.replace("stated = {fat_g = 3.5}", f"{row}stated = {{fat_g = '3.5 g'}}")
    (folder / OWN_FOODS_FILE).write_bytes(text.encode())
    light, _ = read_own_foods(folder)
    write_own_food(folder, replace(light, name="Lighter dip"))
    assert content(folder) == text.replace("Light dip", "Lighter dip")


def test_a_food_that_is_removed_goes_with_its_comment_and_all_else_stays(folder):
    remove_own_food(folder, "own:light-dip")
    first, last = TEXT.index("\n# The light one"), TEXT.index("\n# Ours")
    assert content(folder) == TEXT[:first] + TEXT[last:]
    remove_own_food(folder, "own:base")
    assert read_own_foods(folder) == ()
    assert content(folder).startswith(
        '# Foods of ours, invented\nformat = 1\ncellar = "left shelf" # mine\n'
    )


def test_a_food_that_is_not_there_cannot_be_removed(folder):
    with pytest.raises(
        BadInput, match=r"no food with the key “own:gone”\. It has own:light-dip, own:base\."
    ):
        remove_own_food(folder, "own:gone")
    assert content(folder) == TEXT


def test_many_foods_are_saved_all_or_none(folder):
    good = OwnFood(key="own:good", name="Good")
    with pytest.raises(BadInput, match="own:bad"):
        write_own_foods(folder, [good, OwnFood(key="own:bad", name="")])
    assert content(folder) == TEXT
    write_own_foods(folder, [good, OwnFood(key="own:better", name="Better")])
    assert [food.key for food in read_own_foods(folder)] == [
        "own:light-dip",
        "own:base",
        "own:good",
        "own:better",
    ]


def test_a_change_by_another_program_is_not_written_over(folder):
    before = digest(folder / OWN_FOODS_FILE)
    (folder / OWN_FOODS_FILE).write_bytes(TEXT.replace("60", "70").encode())
    with pytest.raises(FileProblem, match="changed by another program"):
        write_own_food(folder, OwnFood(key="own:a", name="A"), before)
    (folder / OWN_FOODS_FILE).unlink()
    with pytest.raises(FileProblem, match="removed by another program"):
        remove_own_food(folder, "own:base", before)
    write_own_food(folder, OwnFood(key="own:a", name="A"), "")
    assert len(read_own_foods(folder)) == 1


def test_a_broken_file_is_never_written_over(folder):
    broken = TEXT.replace('name = "Onion base"', "name = 3")
    (folder / OWN_FOODS_FILE).write_bytes(broken.encode())
    for change in (
        lambda: write_own_food(folder, OwnFood(key="own:a", name="A")),
        lambda: remove_own_food(folder, "own:base"),
    ):
        with pytest.raises(BadInput, match=r"food 2 \(own:base\), name: found the number 3"):
            change()
        assert content(folder) == broken


def test_a_full_disk_leaves_the_file_as_it_was(folder, monkeypatch):
    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(FileProblem, match="disk is full"):
        write_own_food(folder, OwnFood(key="own:a", name="A"))
    assert content(folder) == TEXT
    assert [entry.name for entry in folder.iterdir()] == [OWN_FOODS_FILE]


def test_more_than_can_be_read_again_is_not_written(folder):
    many = [OwnFood(key=f"own:f{n}", name="F", note="x" * 9000) for n in range(120)]
    with pytest.raises(FileProblem, match="would be larger than 1 MB"):
        write_own_foods(folder, many)
    assert content(folder) == TEXT


def test_every_fault_of_a_file_is_said_at_once():
    text = """\
format = 1
[[food]]
key = "own:a"
nam = "A"
per = "portion"
[food.stated]
fat_g = true
sodum_mg = 3
protein_g = "some"

[[food]]
key = "garlic"
name = "Garlic paste"
serving_grams = 0
stated = {energy_kcal = 3700, calcium_mg = "4 %"}
[[food.measure]]
unit = "Tbs"
grams = "three"

[[food]]
key = "own:b"
name = "B"

[[food]]
key = "own:c"
name = "C"
measure = 3
stated = []

[[food]]
key = "own:d"
name = "D"
stated = {}
[[food]]
key = "own:d"
name = "E"
stated = {}
"""
    assert problems_of(text) == [
        "foods.toml, food 1 (own:a), name: is missing, expected text. Did you mean it by 'nam'?",
        "foods.toml, food 1 (own:a), per: found the text 'portion', expected one of: serving, 100g. "
        'Write per = "serving", for example.',
        "foods.toml, food 1 (own:a), stated, fat_g: found true, expected a number. Write it as in "
        "fat_g = 1.5.",
        "foods.toml, food 1 (own:a), stated, sodum_mg: is not read. Did you mean 'sodium_mg'?",
        "foods.toml, food 1 (own:a), stated, protein_g: found “some”, expected a figure in g. Write "
        "it as printed: 4.5, <5, 4 %, or 60 (4 %).",
        "foods.toml, food 2 (garlic), measure 1, grams: found the text 'three', expected a number. "
        "Write it as in grams = 1.5.",
        "foods.toml, food 2 (garlic), key: found “garlic”, expected own: and small words joined by "
        "hyphens. Write own:garlic, for example.",
        "foods.toml, food 2 (garlic), serving_grams: found 0, expected 0.01 or more, up to 100000. "
        "Write the mass in grams.",
        "foods.toml, food 2 (garlic), energy: found 3700 kcal in 100 g of food, where at most 902 "
        "kcal can be. Check the figure, its unit, and how much it is for.",
        "foods.toml, food 2 (garlic), stated, calcium_mg: found 4 %, a share of the daily value, on "
        "what is no US label. Write the amount alone.",
        "foods.toml, food 3 (own:b), stated: is missing. Write its figures below a row [food.stated].",
        "foods.toml, food 4 (own:c), measure: expected tables. Begin each with a row "
        "[[food.measure]].",
        "foods.toml, food 4 (own:c), stated: expected a table. Begin it with a row [food.stated].",
        "foods.toml, food 6 (own:d): has the key of food 5, “own:d”. Give it another key.",
    ]


def test_values_that_will_not_do_are_said_with_food_and_key():
    text = """\
format = 1
[[food]]
key = "own:A"
name = " "
serving_grams = 0
stated = {energy_kcal = 3700, calcium_mg = "4 %", fat_g = nan, protein_g = "<0", salt_g = "some"}
"""
    told = problems_of(text)
    assert [
        each.partition(": ")[0].removeprefix("foods.toml, food 1 (own:A), ") for each in told
    ] == [
        "stated, salt_g",
        "key",
        "name",
        "serving_grams",
        "energy",
        "stated, protein_g",
        "stated, fat_g",
        "stated, calcium_mg",
    ]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("format = 2\nfood = 3\n", "written by a newer release"),
        ('[[food]]\nkey = "own:a"\nname = "A"\nstated = {}\n', "format: is missing, expected 1."),
        ("format = 1\nfood = 3\n", "foods.toml, food: expected tables."),
        ("format = 1\nfood = [3]\n", "foods.toml, food 1: expected a table."),
        (
            "format = 1\n[[Foods]]\nkey = 1\n",
            "foods.toml, Foods: is not read. Did you mean [[food]]?",
        ),
        ("format = 1\nfood = {}\n", "foods.toml, food: expected tables."),
    ],
)
def test_files_of_another_shape_say_what_is_expected(text, told):
    assert any(told in each for each in problems_of(text))


def test_keys_that_are_not_read_and_look_misspelt_can_be_listed(folder):
    assert unread_own_food_keys(folder) == ()
    (folder / OWN_FOODS_FILE).write_bytes(
        TEXT.replace("ash_g", "fibr_g").replace("shop =", "grup =").encode()
    )
    assert [str(each) for each in unread_own_food_keys(folder)] == [
        "foods.toml, food 1 (own:light-dip), grup: is not read. Did you mean 'group'?",
        "foods.toml, food 1 (own:light-dip), stated, fibr_g: is not read. Did you mean 'fibre_g'?",
    ]


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
