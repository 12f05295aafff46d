"""Random recipes from the real food table, and briefs that some answer meets by construction."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from hypothesis import strategies as st

from reformulate import (
    ENERGY_FACTORS,
    ROLES,
    SYSTEMS,
    Batch,
    BatchHold,
    Brief,
    Food,
    Goal,
    Line,
    LineHold,
    Per,
    RatioHold,
    Recipe,
    RoleHold,
    Swap,
    nutrition_of,
    weigh_recipe,
)
from tests.recipes.plain_sums import (
    COLUMN,
    FOODS,
    brought_by_a_gram,
    finished_mass,
    item_foods,
    level_in,
    members,
    original_grams,
    tied_groups,
    working_mass,
)

COMMON = ("energy_kcal", "protein_g", "fat_g", "carbohydrate_g", "sodium_mg")
RETENTION_CODES = (None, None, None, 1, 3460, 2750, 5005)

# Grams a line of each role has in a party dip, our own guess; tenths of a gram.
TENTHS = {
    "base": (1000, 10000),
    "body": (200, 4000),
    "liquid": (100, 3000),
    "inclusion": (100, 3000),
    "fat": (50, 1500),
    "flavouring": (5, 600),
    "acid": (20, 600),
    "sweetener": (10, 400),
    "garnish": (5, 300),
    "salt": (5, 80),
}


def has_energy(food: Food) -> bool:
    return bool(FOODS.values[FOODS.index(food.key), COLUMN["energy_kcal"]] > 20)


ALL_KEYS = [food.key for food in FOODS]
BASE_KEYS = [food.key for food in FOODS if has_energy(food)]


def weighed(recipe: Recipe) -> Batch:
    return weigh_recipe(recipe, FOODS, SYSTEMS["us"])


@st.composite
def recipes(
    draw: st.DrawFn,
    *,
    least: int = 2,
    most: int = 12,
    plain: bool = False,
    floors: Mapping[str, float] | None = None,
) -> Recipe:
    """2 to 12 lines of different foods, the first a base with energy.

    A ``plain`` recipe loses no water and lists edible grams. No line is below its role's floor [g].
    """
    count = draw(st.integers(least, most))
    base = draw(st.sampled_from(BASE_KEYS))
    others = draw(
        st.lists(
            st.sampled_from(ALL_KEYS).filter(lambda key: key != base),
            min_size=count - 1,
            max_size=count - 1,
            unique=True,
        )
    )
    lines = []
    for number, food in enumerate((base, *others)):
        role = draw(st.sampled_from(ROLES)) if number else "base"
        low, high = TENTHS[role]
        low = max(low, round(10 * floors[role])) if floors else low
        lines.append(
            Line(
                id=f"line-{number}",
                food=food,
                grams=draw(st.integers(low, high)) / 10,
                role=role,
                retention=None if plain else draw(st.sampled_from(RETENTION_CODES)),
                as_bought=False if plain else draw(st.booleans()),
            )
        )
    raw = Recipe(title="drawn", servings=float(draw(st.integers(1, 24))), lines=tuple(lines))
    if plain:
        return raw
    # Cooking drives off no more water than there is, and other amounts have water to lose too.
    loss = min(draw(st.integers(-20, 40)), int(0.6 * water_percent(raw)))
    return replace(raw, moisture_loss_percent=float(loss))


def water_percent(recipe: Recipe) -> float:
    """Water in the raw lines, of their edible mass."""
    batch = weighed(replace(recipe, moisture_loss_percent=0.0))
    edible = sum(
        g * item.yield_share for g, item in zip(batch.grams, batch.ingredients, strict=True)
    )
    return float(nutrition_of(batch).totals[0] / edible * 100)


@st.composite
def swaps_for(
    draw: st.DrawFn, recipe: Recipe, *, least: int = 0, most: int = 6
) -> tuple[Swap, ...]:
    used = {line.food for line in recipe.lines}
    ids = [line.id for line in recipe.lines]
    found = draw(
        st.lists(
            st.sampled_from(ALL_KEYS).filter(lambda key: key not in used),
            min_size=least,
            max_size=most,
            unique=True,
        )
    )
    return tuple(
        Swap(
            food=food,
            stands_in_for=tuple(
                draw(st.lists(st.sampled_from(ids), min_size=1, max_size=2, unique=True))
            ),
            grams_per_gram=draw(st.sampled_from([0.5, 0.8, 1.0, 1.25, 2.0])),
            largest_share=draw(st.sampled_from([0.25, 0.5, 0.7, 1.0])),
            allowed=draw(st.sampled_from([True, True, True, False])),
            least=0.0,  # any amount at all: the plain formulation is a linear program
        )
        for food in found
    )


@dataclass(frozen=True)
class Case:
    """A recipe, a brief, and grams of lines and allowed swaps that meet it (None: not known)."""

    recipe: Recipe
    brief: Brief
    witness: tuple[float, ...] | None


SLACKS = st.sampled_from([0.001, 0.01, 0.05, 0.2])


@st.composite
def witnesses(draw: st.DrawFn, recipe: Recipe, brief: Brief) -> list[float]:
    """Grams some way off the original, within every swap's largest share."""
    factors = st.sampled_from([0.6, 0.75, 0.9, 1.0, 1.0, 1.1, 1.3])
    grams = [float(line.grams or 0.0) * draw(factors) for line in recipe.lines]
    for swap in brief.swaps:
        if not swap.allowed:
            continue
        stood_for = sum(float(recipe.line(name).grams or 0.0) for name in swap.stands_in_for)
        share = swap.largest_share * draw(st.sampled_from([0.0, 0.0, 0.1, 0.25]))
        grams.append(share * swap.grams_per_gram * stood_for)
    return grams


def moved_in(
    recipe: Recipe, brief: Brief, grams: list[float]
) -> tuple[Callable[[set[str]], float], float]:
    """How far the working mass of a group of lines is off the original's, and the batch [1]."""
    start = original_grams(recipe, brief)

    def moved(ids: set[str]) -> float:
        before = working_mass(recipe, brief, start, ids)
        return abs(working_mass(recipe, brief, grams, ids) / before - 1)

    return moved, abs(finished_mass(recipe, brief, grams) / finished_mass(recipe, brief, start) - 1)


def fair_witness(recipe: Recipe, brief: Brief, grams: list[float]) -> bool:
    """Whether there is the water that cooking drives off, and no band of 95 % is passed."""
    who = [*recipe.lines, *[None] * (len(grams) - len(recipe.lines))]
    water = sum(
        mass * brought_by_a_gram(recipe, line, food, "water_g")
        for mass, line, food in zip(grams, who, item_foods(recipe, brief), strict=True)
    )
    moved, batch = moved_in(recipe, brief, grams)
    return water >= 0 and max([batch, *map(moved, tied_groups(recipe, brief))]) < 0.95


@st.composite
def goals_around(
    draw: st.DrawFn, recipe: Recipe, brief: Brief, grams: list[float], *, most: int = 4
) -> tuple[Goal, ...]:
    """Goals that ``grams`` meet, with slack."""
    foods = item_foods(recipe, brief)
    start = original_grams(recipe, brief)
    found = []
    keys = st.sampled_from(COMMON) | st.sampled_from(list(COLUMN))
    for key in draw(st.lists(keys, min_size=min(1, most), max_size=most, unique=True)):
        per = draw(st.sampled_from([Per.SERVING, Per.SERVING, *Per]))
        if per is Per.ENERGY and key not in ENERGY_FACTORS:
            per = Per.SERVING
        value = level_in(recipe, foods, grams, key, per)
        before = level_in(recipe, foods, start, key, Per.SERVING)
        # Nothing of it, nothing to compare with, or more water driven off than there was.
        if not value > 1e-3 or value > 1e6 or not before > 1e-3:
            continue
        lower = value < level_in(recipe, foods, start, key, per)
        asked = "most" if lower else "least"
        side = draw(st.sampled_from([asked, asked, "least", "most", "both"]))
        found.append(
            Goal(
                nutrient=key,
                per=per,
                at_least=value * (1 - draw(SLACKS)) if side != "most" else None,
                at_most=value * (1 + draw(SLACKS)) if side != "least" else None,
            )
        )
    return tuple(found)


@st.composite
def cases(
    draw: st.DrawFn,
    *,
    most_lines: int = 12,
    most_swaps: int = 6,
    most_goals: int = 4,
    plain: bool = False,
    floors: Mapping[str, float] | None = None,
) -> Case:
    """A recipe and a brief that the drawn witness meets; the batch is always held."""
    recipe = draw(recipes(most=most_lines, plain=plain, floors=floors))
    brief = Brief(swaps=draw(swaps_for(recipe, most=most_swaps)))
    grams = draw(witnesses(recipe, brief))
    start = original_grams(recipe, brief)
    if not fair_witness(recipe, brief, grams):
        grams = list(start)
    moved, batch = moved_in(recipe, brief, grams)
    band = max([moved(group) for group in tied_groups(recipe, brief)], default=0.0)
    holds: list[BatchHold | RatioHold | RoleHold | LineHold] = [
        BatchHold(tolerance=batch + draw(SLACKS) / 4)
    ]
    for role in draw(
        st.lists(
            st.sampled_from(sorted({line.role for line in recipe.lines})), max_size=2, unique=True
        )
    ):
        group, base = members(recipe, (f"role:{role}",)), {"line-0"}
        if role == "base":
            off = moved(group)
            hold: RoleHold | RatioHold = RoleHold(role=role, tolerance=min(1.0, off + draw(SLACKS)))
        else:
            before = working_mass(recipe, brief, start, group) / working_mass(
                recipe, brief, start, base
            )
            now = working_mass(recipe, brief, grams, group) / working_mass(
                recipe, brief, grams, base
            )
            off = abs(now / before - 1)
            if off > 0.9:
                continue
            hold = RatioHold(
                of=(f"role:{role}",), to=("line-0",), tolerance=min(1.0, off + draw(SLACKS))
            )
        if off <= 0.9:
            holds.append(hold)
    if draw(st.booleans()):
        held = draw(st.sampled_from(recipe.lines))
        mass = grams[[line.id for line in recipe.lines].index(held.id)]
        holds.append(LineHold(line=held.id, least=mass * 0.9, most=mass * 1.1))
    brief = replace(brief, holds=tuple(holds), swap_band=min(1.0, band + draw(SLACKS)))
    goals = draw(goals_around(recipe, brief, grams, most=most_goals))
    return Case(recipe=recipe, brief=replace(brief, goals=goals), witness=tuple(grams))


def with_energy(case: Case) -> Case:
    """The case with half the witness's base at least: a share of no energy is no share.

    A hold, so that it does not give way beside a goal.
    """
    if any(isinstance(hold, LineHold) and hold.line == "line-0" for hold in case.brief.holds):
        return case
    assert case.witness is not None
    held = LineHold(line="line-0", least=0.5 * case.witness[0])
    return replace(case, brief=replace(case.brief, holds=(*case.brief.holds, held)))


@st.composite
def asked(
    draw: st.DrawFn, *, pers: Sequence[Per] = tuple(Per), most_goals: int = 4
) -> tuple[Case, str, Per]:
    """A case, a nutrient that its witness has some of, and a unit of it that has a reach."""
    case, per = draw(cases(most_goals=most_goals)), draw(st.sampled_from(pers))
    if per is Per.ENERGY:
        case = with_energy(case)
    foods = item_foods(case.recipe, case.brief)
    assert case.witness is not None
    keys = [
        key
        for key in COMMON
        if (per is not Per.ENERGY or key in ENERGY_FACTORS)
        and level_in(case.recipe, foods, list(case.witness), key, per) > 0.01
    ]
    # Some food with energy is in every case: a base.
    return (case, draw(st.sampled_from(keys)), per) if keys else (case, "energy_kcal", Per.SERVING)


@st.composite
def harsh_cases(draw: st.DrawFn, **options: int) -> Case:
    """The same with one or two goals more, which often cannot be met."""
    case = draw(cases(**options))
    goals = {(goal.nutrient, goal.per): goal for goal in case.brief.goals}
    foods = item_foods(case.recipe, case.brief)
    for key in draw(
        st.lists(
            st.sampled_from(COMMON),
            min_size=1,
            max_size=2,
            unique=True,
        )
    ):
        per = draw(st.sampled_from([Per.SERVING, Per.HUNDRED_GRAMS]))
        value = level_in(case.recipe, foods, original_grams(case.recipe, case.brief), key, per)
        if draw(st.booleans()):
            goal = Goal(nutrient=key, per=per, at_most=value * draw(st.sampled_from([0.1, 0.5])))
        else:
            goal = Goal(nutrient=key, per=per, at_least=value * draw(st.sampled_from([1.5, 4.0])))
        goals[key, per] = goal
    # One row carries the goals per serving and against the original: keep one of them.
    kept = [
        goal
        for (key, per), goal in goals.items()
        if not (per is Per.ORIGINAL and (key, Per.SERVING) in goals)
    ]
    return Case(recipe=case.recipe, brief=replace(case.brief, goals=tuple(kept)), witness=None)
