"""Random documents that are valid, for the laws of reading and writing."""

from pathlib import Path

from hypothesis import strategies as st

from reformulate.brief import (
    ENERGY_FACTORS,
    LIVE_NUTRIENTS,
    BatchHold,
    Brief,
    Goal,
    LineHold,
    Manner,
    Per,
    RatioHold,
    RoleHold,
    Swap,
)
from reformulate.recipes import ROLES, Line, Recipe
from reformulate.sets import Document

FOODS = ("onion-yellow", "sour-cream", "garlic", "ndb:11282", "salt")

texts = st.text(st.characters(exclude_categories=("Cs",)), max_size=40)
words = st.text(st.characters(exclude_categories=("Cs",)), min_size=1, max_size=12).filter(
    lambda text: not text.startswith("role:")
)
fractions = st.floats(0, 1)
masses = st.floats(0.001, 1e6)


@st.composite
def lines(draw, line_id):
    weighed = draw(st.booleans())
    return Line(
        id=line_id,
        food=draw(st.sampled_from(FOODS)),
        amount="" if weighed else draw(st.sampled_from(["2 cups", "1 1/2 tbsp", "½ cup"])),
        grams=draw(masses) if weighed else None,
        role=draw(st.sampled_from(ROLES)),
        prep=draw(texts),
        retention=draw(st.none() | st.integers(1, 9999)),
        as_bought=draw(st.booleans()),
    )


@st.composite
def recipes(draw):
    names = draw(
        st.lists(
            st.sampled_from([*FOODS, "garlic-2", "garlic-3", "salt-2"]) | words,
            min_size=1,
            max_size=6,
            unique=True,
        )
    )
    return Recipe(
        title=draw(texts),
        servings=draw(st.floats(0.01, 1e6) | st.integers(1, 40).map(float)),
        moisture_loss_percent=draw(st.floats(-300, 94)),
        lines=tuple(draw(lines(name)) for name in names),
        steps=tuple(draw(st.lists(texts, max_size=4))),
        serve_with=tuple(draw(st.lists(texts, max_size=3))),
        note=draw(texts),
    )


@st.composite
def goals(draw, nutrient):
    low, high = sorted(draw(st.tuples(st.floats(0, 1e6), st.floats(0, 1e6))))
    which = draw(st.sampled_from(["least", "most", "both"]))
    pers = list(Per) if nutrient in ENERGY_FACTORS else [p for p in Per if p is not Per.ENERGY]
    return Goal(
        nutrient=nutrient,
        at_least=None if which == "most" else low,
        at_most=None if which == "least" else high,
        per=draw(st.sampled_from(pers)),
    )


@st.composite
def briefs(draw, recipe):
    ids = [line.id for line in recipe.lines]
    some = st.lists(st.sampled_from(ids), unique=True)
    group_of = st.lists(st.sampled_from(ids), unique=True, min_size=1, max_size=len(ids))
    holds = []
    if draw(st.booleans()):
        holds.append(BatchHold(tolerance=draw(fractions)))
    for name in draw(some):
        low, high = sorted(draw(st.tuples(masses, masses)))
        holds.append(
            draw(
                st.sampled_from(
                    [
                        LineHold(line=name, tolerance=0.0),
                        LineHold(line=name, least=low),
                        LineHold(line=name, tolerance=0.25, least=low, most=high),
                    ]
                )
            )
        )
    roles = [line.role for line in recipe.lines]
    held = draw(st.lists(st.sampled_from(roles), unique=True, max_size=2))
    holds += [RoleHold(role=role, tolerance=draw(fractions)) for role in held]
    if len(ids) > 1 and draw(st.booleans()):
        holds.append(
            RatioHold(
                of=(ids[0],),
                to=tuple(ids[1:]),
                ratio=draw(st.none() | st.floats(0.001, 1e3)),
                tolerance=draw(fractions),
            )
        )
    swaps = [
        Swap(
            food=draw(st.sampled_from(["yogurt-plain", "tofu-silken"])),
            stands_in_for=tuple(group),
            grams_per_gram=draw(st.floats(0.01, 10)),
            largest_share=draw(st.floats(0.01, 1)),
            caution=draw(texts),
            allowed=draw(st.booleans()),
        )
        for group in draw(st.lists(group_of, max_size=3))
    ]
    wanted = draw(st.lists(st.sampled_from(LIVE_NUTRIENTS), unique=True, max_size=4))
    return Brief(
        aim=draw(texts),
        goals=tuple(draw(goals(nutrient)) for nutrient in wanted),
        holds=tuple(draw(st.permutations(holds))),
        swaps=tuple(swaps),
        swap_band=draw(fractions),
        shown=tuple(draw(st.lists(st.sampled_from(LIVE_NUTRIENTS), unique=True))),
        shown_per=draw(st.sampled_from(Per)),
        manner=draw(st.sampled_from(Manner)),
    )


@st.composite
def documents(draw, path=Path("dip.toml")):
    recipe = draw(recipes())
    return Document(path=path, recipe=recipe, brief=draw(briefs(recipe)))


HEAD = 'format = 1\ntitle = "Onion dip"\nservings = 8\n'
ONION = '[[line]]\nfood = "onion-yellow"\ngrams = 320\n'
CREAM = '[[line]]\nfood = "sour-cream"\namount = "2 cups"\nrole = "body"\n'
DIP = HEAD + ONION + CREAM
