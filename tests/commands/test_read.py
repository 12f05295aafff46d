from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import Any

import pytest

from reformulate.commands import read
from reformulate.errors import ReformulateError
from tests.yardstick import expect_bounded

KEYS = {
    "text",
    "quantity",
    "unit",
    "food_text",
    "prep",
    "food",
    "confidence",
    "grams",
    "asks",
}

RECIPE = """Smoky bean mash
Serves 6 to 8

2 cans (15 oz) white beans, drained
1-2 tbsp olive oil
salt and pepper to taste

Mash the beans with the oil. Chill.
"""
"""Invented for this test."""

PAGE = """<html><script type="application/ld+json">
[{"@type": "Recipe", "name": "Herb bowl", "recipeYield": "6", "recipeIngredient": ["1 cup hummus"]},
 {"@type": "Recipe", "name": "Bean bowl", "recipeYield": "4", "recipeIngredient": ["1 cup feta"]}]
</script></html>"""


def run(*words: object) -> int:
    parser = argparse.ArgumentParser()
    read.add_parser(parser.add_subparsers(dest="command"))
    return read.run(parser.parse_args(["read", *map(str, words)]))


def as_json(capsys: pytest.CaptureFixture[str], *words: object) -> Any:
    assert run(*words, "--json") == 0
    return json.loads(capsys.readouterr().out)


@pytest.fixture
def recipe(tmp_path: Path) -> Path:
    path = tmp_path / "mash.txt"
    path.write_text(RECIPE, encoding="utf-8")
    return path


def test_a_recipe_is_given_as_json_in_the_stated_shape(
    recipe: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = as_json(capsys, recipe)
    assert set(found) == {"title", "servings", "lines", "steps"}
    assert (found["title"], found["servings"]) == ("Smoky bean mash", 7.0)
    assert found["steps"] == ["Mash the beans with the oil. Chill."]
    assert all(set(line) == KEYS for line in found["lines"])
    beans, oil, salt, pepper = found["lines"]
    assert beans["text"] == "2 cans (15 oz) white beans, drained"
    assert (beans["quantity"], beans["unit"], beans["food"]) == (2.0, "cans", "beans-white-canned")
    assert beans["grams"] > 300
    assert 0 < beans["confidence"] <= 1
    assert oil["quantity"] == [1.0, 2.0]
    assert (oil["unit"], oil["food_text"]) == ("tbsp", "olive oil")
    assert (salt["quantity"], salt["grams"], salt["food"]) == (None, None, "salt-table")
    assert any("How much salt?" in ask for ask in salt["asks"])
    assert pepper["food"] == "pepper-black"
    assert salt["text"] == pepper["text"]


def test_with_lines_every_row_is_one_entry_in_order(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = [
        "1 cup hummus",
        "salt and pepper",
        "For the topping:",
        "12",
        "Serves 4",
        "xyzzy",
        " 2 tbsp dill",
    ]
    path = tmp_path / "lines.txt"
    path.write_text("\n\n".join(rows) + "\n", encoding="utf-8")
    found = as_json(capsys, path, "--lines")
    assert [line["text"] for line in found["lines"]] == rows
    assert all(set(line) == KEYS for line in found["lines"])
    assert (found["title"], found["servings"], found["steps"]) == ("", None, [])
    hummus, salt, heading, bare, *_, nothing, dill = found["lines"]
    assert hummus["food"] == "hummus"
    assert any("further food: pepper" in ask for ask in salt["asks"])
    assert heading["food"] is None
    assert heading["asks"]
    assert bare["asks"]
    assert (nothing["food"], nothing["confidence"], bool(nothing["asks"])) == (None, 0.0, True)
    assert dill["asks"] == []


def test_a_page_with_several_recipes_says_which_one_is_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "page.html"
    path.write_text(PAGE, encoding="utf-8")
    assert run(path, "--json") == 0
    said = capsys.readouterr()
    assert json.loads(said.out)["title"] == "Herb bowl"
    assert "1 Herb bowl; 2 Bean bowl" in said.err
    assert as_json(capsys, path, "--recipe", 2)["title"] == "Bean bowl"
    with pytest.raises(ReformulateError, match="2 recipes"):
        run(path, "--recipe", 3)


def test_without_json_it_reads_as_a_list_with_what_is_open(
    recipe: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(recipe) == 0
    said = capsys.readouterr().out
    assert "Smoky bean mash: serves 7" in said
    assert "The middle" in said or "the middle" in said
    assert "? salt and pepper to taste" in said
    assert "How much salt?" in said
    assert "1. Mash the beans" in said
    assert "so far" in said


@pytest.mark.parametrize("name", ["nowhere.txt", ".", "empty.html", "broken.json"])
def test_what_cannot_be_read_is_told(tmp_path: Path, name: str) -> None:
    (tmp_path / "empty.html").write_bytes(b"")
    (tmp_path / "broken.json").write_bytes(b'{"@type": ')
    with pytest.raises(ReformulateError) as refused:
        run(tmp_path / name)
    assert str(tmp_path / name) in str(refused.value) or name in str(refused.value)


def test_ten_times_the_lines_take_about_ten_times_as_long(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    foods = [
        "white beans",
        "olive oil",
        "sour cream",
        "salt",
        "smoked paprka",
        "xyzzy",
        "lemon juice",
    ]
    rows = [f"{i % 7 + 1} cups {foods[i % len(foods)]} number {i}" for i in range(1000)]
    path = tmp_path / "lines.txt"
    path.write_text("\n".join(rows), encoding="utf-8")
    few = tmp_path / "few.txt"
    few.write_text("\n".join(rows[:100]), encoding="utf-8")
    expect_bounded(lambda: run(path, "--lines"), 30, lambda: run(few, "--lines"))
    capsys.readouterr()
    assert len(as_json(capsys, path, "--lines")["lines"]) == 1000
