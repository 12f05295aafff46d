"""Prices, exchanges, matches, claims and the newer parts of a brief survive a round trip."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from reformulate import (
    Brief,
    CharacterHold,
    Document,
    Goal,
    Line,
    Recipe,
    Swap,
    food_table,
    read_document,
    read_set,
    write_document,
)
from reformulate.foods import price_problems, priced, quantities_of
from reformulate.measures import system

SET = """
format = 1
title = "Invented set"
currency = "€"
[[price]]
food = "sour-cream"
price = 2.3
amount = "1 cup"
[[exchange]]
replaces = ["sour-cream"]
food = "yogurt-strained-nonfat"
caution = "Weeps when salted early."
[[match]]
words = "creme"
food = "sour-cream"
"""


def document(folder: Path) -> Document:
    recipe = Recipe(
        title="Invented dip",
        servings=4,
        lines=(
            Line(id="sour-cream", food="sour-cream", amount="1 cup", text="1 cup creme, cold"),
            Line(id="dill", food="dill", amount="2 tbsp"),
        ),
        claims=(("energy_kcal", 120.0), ("fat_g", 11.0)),
    )
    brief = Brief(
        goals=(Goal(nutrient="energy_kcal", at_most=90.0, rank=2, headroom=0.05),),
        holds=(CharacterHold(quality="sourness", at_least=0.2, at_most=0.9),),
        swaps=(
            Swap(
                food="yogurt-strained-nonfat",
                stands_in_for=("sour-cream",),
                least=20.0,
                pinned=True,
            ),
        ),
        max_swaps=1,
    )
    return Document(path=folder / "dip.toml", recipe=recipe, brief=brief)


def test_all_that_is_new_in_a_recipe_file_is_read_as_it_was_written(tmp_path: Path) -> None:
    wanted = document(tmp_path)
    write_document(wanted)
    assert read_document(wanted.path) == wanted


def test_changed_and_dropped_claims_leave_the_rest_of_the_file_alone(tmp_path: Path) -> None:
    wanted = document(tmp_path)
    write_document(wanted)
    text = wanted.path.read_text("utf-8")
    wanted.path.write_text(text.replace("value = 11", "value = 11 # from the tub"), "utf-8")
    changed = replace(wanted, recipe=replace(wanted.recipe, claims=(("fat_g", 11.0),)))
    write_document(changed)
    assert read_document(wanted.path) == changed
    assert "# from the tub" in wanted.path.read_text("utf-8")


def test_prices_exchanges_and_matches_of_a_set(tmp_path: Path) -> None:
    (tmp_path / "set.toml").write_text(SET, "utf-8")
    write_document(document(tmp_path))
    found = read_set(tmp_path)
    assert found.broken == ()
    assert found.currency == "€"
    assert found.matches == (("creme", "sour-cream"),)
    assert found.exchanges[0].caution == "Weeps when salted early."
    foods = priced(food_table(), found.prices, system("us"))
    row, cost = foods.index("sour-cream"), 38
    values, known = quantities_of(foods)
    # 1 cup weighs 230 g (Standard Reference 28, household weight)
    assert values[row, cost] == 100 * 2.3 / 230
    assert known[row, cost]
    assert not known[foods.index("dill"), cost]


def test_each_wrong_price_is_told(tmp_path: Path) -> None:
    wrong = SET.replace('"1 cup"', '"1 bucket"').replace(
        'food = "sour-cream"\nprice', 'food = "sour"\nprice'
    )
    (tmp_path / "set.toml").write_text(wrong, "utf-8")
    write_document(document(tmp_path))
    problems = list(price_problems(food_table(), read_set(tmp_path).prices, system("us")))
    assert [problem.where.split(",")[0] for problem in problems] == ["price 1 (sour)"]
