"""The demo sets that come with the program: every file of every set, as a cook would meet it."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from reformulate import (
    NUTRIENTS,
    SYSTEMS,
    Answer,
    Batch,
    Brief,
    Document,
    FoodTable,
    Nutrition,
    RecipeSet,
    Status,
    food_table,
    nutrition_of,
    read_document,
    read_set,
    solve,
    weigh_recipe,
)
from reformulate.sets import unread_keys

SETS = Path(__file__).resolve().parents[2] / "sample_sets"
FOLDERS = sorted(path.parent for path in SETS.glob("*/set.toml"))
FILES = sorted(path for path in SETS.glob("*/*.toml") if path.name != "set.toml")
DEMO = SETS / "harvest-evening"
COLUMN = {nutrient.key: i for i, nutrient in enumerate(NUTRIENTS)}

every_folder = pytest.mark.parametrize("folder", FOLDERS, ids=lambda path: path.name)
every_recipe = pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)


@cache
def foods() -> FoodTable:
    return food_table()


@cache
def the_set(folder: Path) -> RecipeSet:
    return read_set(folder)


@cache
def document(path: Path) -> Document:
    return read_document(path)


@cache
def batch(path: Path) -> Batch:
    system = SYSTEMS[the_set(path.parent).measures]
    return weigh_recipe(document(path).recipe, foods(), system)


@cache
def contents(path: Path) -> Nutrition:
    return nutrition_of(batch(path))


def answer(path: Path, brief: Brief) -> Answer:
    system = SYSTEMS[the_set(path.parent).measures]
    return solve(document(path).recipe, brief, foods(), system)


@cache
def own_answer(path: Path) -> Answer:
    return answer(path, document(path).brief)


def per_serving(path: Path, key: str) -> float:
    return float(contents(path).per_serving[COLUMN[key]])


def test_there_is_a_demo_set_to_check() -> None:
    assert DEMO in FOLDERS
    assert len([path for path in FILES if path.parent == DEMO]) == 11


@every_folder
def test_a_set_reads_without_a_fault_and_names_every_recipe_beside_it(folder: Path) -> None:
    found = the_set(folder)
    written = tomllib.loads((folder / "set.toml").read_text(encoding="utf-8"))
    assert found.broken == ()
    assert found.measures == written["measures"]
    assert [doc.path.name for doc in found.documents] == written["recipes"]
    assert sorted(written["recipes"]) == [p.name for p in FILES if p.parent == folder]


@every_folder
def test_a_set_and_its_recipes_have_titles_of_their_own(folder: Path) -> None:
    titles = [doc.recipe.title for doc in the_set(folder).documents]
    assert len(set(titles)) == len(titles)
    assert the_set(folder).title not in titles


def test_the_demo_set_opens_with_three_ready_briefs() -> None:
    briefs = [doc.brief for doc in the_set(DEMO).documents]
    aims = ["Lighten a classic", "Hit a protein target", "Try substitutions"]
    assert [brief.aim for brief in briefs if brief.aim] == aims
    assert [brief.aim for brief in briefs[:3]] == aims


@every_folder
def test_a_set_says_that_it_is_invented(folder: Path) -> None:
    assert "invented for this demo" in the_set(folder).note.lower()


@every_recipe
def test_a_recipe_says_that_it_is_invented(path: Path) -> None:
    assert document(path).recipe.note.lower().startswith("invented for this demo")


@every_recipe
def test_every_key_of_a_file_is_read(path: Path) -> None:
    assert unread_keys(path) == ()


@every_recipe
def test_a_recipe_can_be_cooked_from(path: Path) -> None:
    recipe = document(path).recipe
    assert 8 <= recipe.servings <= 12
    assert 8 <= len(recipe.lines) <= 14
    assert recipe.serve_with
    assert len(recipe.steps) >= 3
    assert all(step[0].isupper() and step.endswith(".") for step in recipe.steps)


@every_recipe
def test_a_recipe_defers_to_local_food_safety_advice(path: Path) -> None:
    assert any("local food-safety advice" in step for step in document(path).recipe.steps)


@every_recipe
def test_every_line_weighs_something_and_says_by_which_route(path: Path) -> None:
    weighed = batch(path)
    assert len(weighed.routes) == len(weighed.recipe.lines)
    assert (weighed.grams > 0).all()
    for route in weighed.routes:
        assert " g" in route
        # A figure without its source, or a measure that had to be guessed at, is no demo.
        assert "no source" not in route
        assert "not told apart" not in route
        assert route.endswith(("as written", "g", ")"))


@every_recipe
def test_a_portion_is_one_that_people_eat(path: Path) -> None:
    portion = contents(path).finished_grams / contents(path).servings
    assert 60 <= portion <= 110
    assert 50 <= per_serving(path, "energy_kcal") <= 260
    assert 50 <= per_serving(path, "sodium_mg") <= 500


@every_recipe
def test_cooking_leaves_water_in_the_dish(path: Path) -> None:
    water = contents(path).per_100g[COLUMN["water_g"]]
    assert 45 <= water <= 90


@every_recipe
def test_the_energy_of_the_foods_agrees_with_the_general_factors(path: Path) -> None:
    # Atwater's specific factors, fibre and the alcohol in beer keep the two up to a tenth apart.
    own = contents(path).totals[COLUMN["energy_kcal"]]
    assert contents(path).energy_by_general_factors == pytest.approx(own, rel=0.10)


@every_recipe
def test_without_goals_the_answer_is_the_original(path: Path) -> None:
    held = answer(path, replace(document(path).brief, goals=()))
    assert held.status is Status.OPTIMAL
    assert [item.food for item in held.amounts if item.moved] == []


@every_recipe
def test_a_brief_has_a_proven_answer(path: Path) -> None:
    found = own_answer(path)
    assert found.status is Status.OPTIMAL
    assert found.certificate.holds
    assert found.holds == ()
    assert all(result.met and not result.at_least for result in found.goals)


@every_recipe
def test_an_answer_keeps_the_size_of_a_serving(path: Path) -> None:
    found = own_answer(path)
    assert found.achieved.finished_grams == pytest.approx(found.original.finished_grams, rel=0.021)


@every_recipe
def test_an_answer_is_one_to_cook(path: Path) -> None:
    for item in own_answer(path).amounts:
        if item.line is not None:
            assert item.after >= item.before / 4, item.food
        else:
            # A swap is left out, or comes in by the spoon at least.
            assert item.after == 0 or item.after >= 10, item.food


@every_recipe
def test_a_goal_has_room_on_both_sides(path: Path) -> None:
    reach = {found.nutrient: found for found in own_answer(path).reach}
    for goal in document(path).brief.goals:
        for limit in (goal.at_least, goal.at_most):
            if limit is not None:
                room = 0.1 * (reach[goal.nutrient].high - reach[goal.nutrient].low)
                assert reach[goal.nutrient].low + room < limit, goal.nutrient
                assert limit < reach[goal.nutrient].high - room, goal.nutrient


@every_recipe
def test_nothing_that_is_shown_can_grow_without_end(path: Path) -> None:
    for found in own_answer(path).reach:
        assert np.isfinite([found.low, found.high]).all()
        assert found.low >= 0


@every_folder
def test_a_brief_with_an_aim_leaves_something_to_do_and_does_it_with_swaps(folder: Path) -> None:
    for found in (own_answer(d.path) for d in the_set(folder).documents if d.brief.aim):
        missed = [
            result
            for result in found.goals
            if (result.goal.at_most is not None and result.original > result.goal.at_most)
            or (result.goal.at_least is not None and result.original < result.goal.at_least)
        ]
        assert missed, found.brief.aim
        assert any(item.swap is not None and item.moved for item in found.amounts), found.brief.aim


@every_recipe
def test_allowing_a_swap_never_takes_reach_away_and_opens_some(path: Path) -> None:
    brief = document(path).brief
    before = own_answer(path).reach
    for at, swap in enumerate(brief.swaps):
        if swap.allowed:
            continue
        swaps = (*brief.swaps[:at], replace(swap, allowed=True), *brief.swaps[at + 1 :])
        after = answer(path, replace(brief, swaps=swaps)).reach
        slack = [1e-6 * max(1.0, abs(old.high)) for old in before]
        wider = [
            (old.low - new.low, new.high - old.high) for old, new in zip(before, after, strict=True)
        ]
        for (lower, higher), tiny in zip(wider, slack, strict=True):
            assert min(lower, higher) >= -tiny
        assert any(max(pair) > 1e-3 for pair in wider), swap.food


def test_the_set_for_substitutions_offers_swaps_to_tick() -> None:
    (brief,) = (d.brief for d in the_set(DEMO).documents if d.brief.aim == "Try substitutions")
    allowed = [swap.allowed for swap in brief.swaps]
    assert allowed.count(True) >= 2
    assert allowed.count(False) >= 2
