"""Reading: what a recipe file says becomes a document."""

import os
from pathlib import Path

import pytest

from reformulate.brief import (
    BatchHold,
    Brief,
    Goal,
    LineHold,
    Per,
    RatioHold,
    RoleHold,
    Swap,
    starting_brief,
)
from reformulate.errors import FileProblem
from reformulate.recipes import Line, Recipe
from reformulate.sets import Document, read_document, unread_keys
from tests.sets.set_documents import DIP, HEAD, ONION


def test_every_key_of_a_recipe_file_is_read(tmp_path):
    path = tmp_path / "dip.toml"
    path.write_text(
        """\
format = 1
title = "Caramelised onion dip"
servings = 8
moisture_loss_percent = 12.5
note = "Better the next day."
steps = ["Slice.", "Fry."]
serve_with = ["Rye crisps"]

[[line]]
food = "onion-yellow"
amount = "2 cups"
role = "flavouring"
prep = "thinly sliced"
retention = 3460
as_bought = true

[[line]]
food = "ndb:11282"
grams = 20
id = "topping"

[brief]
aim = "Lighten a classic"
shown = ["energy_kcal", "sodium_mg"]
shown_per = "100g"
swap_band = 0.2

[[brief.goal]]
nutrient = "energy_kcal"
at_least = 100
at_most = 130.5
per = "100g"

[[brief.hold]]
kind = "ratio"
of = ["onion-yellow"]
to = ["topping", "role:base"]
ratio = 16
tolerance = 0.1

[[brief.hold]]
kind = "batch"

[[brief.hold]]
kind = "line"
line = "topping"
least = 10
most = 30

[[brief.hold]]
kind = "role"
role = "flavouring"

[[brief.swap]]
food = "leek"
stands_in_for = ["onion-yellow"]
grams_per_gram = 1.2
largest_share = 0.5
caution = "Milder."
allowed = false
"""
    )
    assert read_document(path) == Document(
        path=path,
        recipe=Recipe(
            title="Caramelised onion dip",
            servings=8.0,
            moisture_loss_percent=12.5,
            note="Better the next day.",
            steps=("Slice.", "Fry."),
            serve_with=("Rye crisps",),
            lines=(
                Line(
                    id="onion-yellow",
                    food="onion-yellow",
                    amount="2 cups",
                    role="flavouring",
                    prep="thinly sliced",
                    retention=3460,
                    as_bought=True,
                ),
                Line(id="topping", food="ndb:11282", grams=20.0),
            ),
        ),
        brief=Brief(
            aim="Lighten a classic",
            shown=("energy_kcal", "sodium_mg"),
            shown_per=Per.HUNDRED_GRAMS,
            swap_band=0.2,
            goals=(
                Goal(nutrient="energy_kcal", at_least=100.0, at_most=130.5, per=Per.HUNDRED_GRAMS),
            ),
            holds=(
                RatioHold(
                    of=("onion-yellow",), to=("topping", "role:base"), ratio=16.0, tolerance=0.1
                ),
                BatchHold(tolerance=0.02),
                LineHold(line="topping", least=10.0, most=30.0),
                RoleHold(role="flavouring", tolerance=0.15),
            ),
            swaps=(
                Swap(
                    food="leek",
                    stands_in_for=("onion-yellow",),
                    grams_per_gram=1.2,
                    largest_share=0.5,
                    caution="Milder.",
                    allowed=False,
                ),
            ),
        ),
    )


def test_a_recipe_without_a_brief_starts_with_the_usual_holds(tmp_path):
    path = tmp_path / "dip.toml"
    path.write_text(DIP)
    document = read_document(path)
    assert document.brief == starting_brief(document.recipe)


def test_a_repeated_food_gives_its_lines_numbered_ids(tmp_path):
    path = tmp_path / "dip.toml"
    path.write_text(HEAD + ONION * 3 + ONION + 'id = "onion-yellow-2"\n')
    assert [line.id for line in read_document(path).recipe.lines] == [
        "onion-yellow",
        "onion-yellow-3",
        "onion-yellow-4",
        "onion-yellow-2",
    ]


def test_unknown_keys_are_no_fault_and_near_misses_can_be_asked_for(tmp_path):
    path = tmp_path / "dip.toml"
    path.write_text("cellar = 3\nmoisture_los_percent = 9\n" + DIP + 'preb = "cold"\n')
    read_document(path)
    assert [str(problem) for problem in unread_keys(path)] == [
        "dip.toml, moisture_los_percent: is not read. Did you mean 'moisture_loss_percent'?",
        "dip.toml, line 2, preb: is not read. Did you mean 'prep'?",
    ]


def test_a_byte_order_mark_is_no_fault(tmp_path):
    path = tmp_path / "dip.toml"
    path.write_bytes(b"\xef\xbb\xbf" + DIP.encode())
    assert read_document(path).recipe.title == "Onion dip"


def test_a_file_that_is_not_there_or_is_a_folder_is_told_with_its_path(tmp_path):
    with pytest.raises(FileProblem) as caught:
        read_document(tmp_path / "none.toml")
    assert str(caught.value) == (
        f"{tmp_path / 'none.toml'}: there is no such file. It may have been moved or renamed."
    )
    with pytest.raises(FileProblem, match=r"is not a file\. Choose a recipe file\."):
        read_document(tmp_path)
    with pytest.raises(FileProblem, match="cannot be read"):
        read_document(Path("a\0b.toml"))


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes in folders here")
def test_a_pipe_is_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe.toml")
    with pytest.raises(FileProblem, match="is not a file"):
        read_document(tmp_path / "pipe.toml")
