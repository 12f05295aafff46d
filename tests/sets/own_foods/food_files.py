"""Files of own foods to read and write over, and random foods that are sound."""

from __future__ import annotations

from hypothesis import strategies as st

from reformulate.foods.own import DAILY_VALUES, STATABLE, Basis, OwnFood, Rounding, Stated
from reformulate.measures import Measure
from reformulate.sets.loading import parse
from reformulate.sets.own_foods import OWN_FOODS_FILE, own_foods_from

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
    "other tables around": 'format = 1\n[mine]\na = 1\n[[food]]\nkey = "own:base"\nname = "B"\n'
    "[food.stated]\nfat_g = 1\n[yours]\nb = 2\n",
    "no end of row": 'format=1\n[[food]]\nkey="own:base"\nname="B"\nstated={}',
    "nothing yet": "",
    "no foods": "format = 1\nfood = []\n",
}

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


def content(folder):
    return (folder / OWN_FOODS_FILE).read_text(encoding="utf-8")
