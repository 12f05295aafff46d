"""What commands on recipes and foods coming in say: exit codes, what was mended, what was stopped."""

from __future__ import annotations

import json
import socket
from pathlib import Path
from typing import Any

import pytest

from reformulate.commands import foods as foods_command
from reformulate.commands import run

BROKEN = """<html><script type="application/ld+json">
{"@type": "Recipe", "name": "Herb bowl", "recipeYield": "6",
 "recipeIngredient": ["1 cup hummus", "salt to taste",], "recipeInstructions": "Stir.",}
</script></html>"""
"""Commas too many; invented."""

ABBREV = (
    # 53 fields of the abbreviated file; the figures are invented
    "~90001~^~CURD,INVENTED,HARVEST~^80^60^9^1^1^8^0^4^90^.1^10^120^140^40^.5^0^0^9^0^.03^.2^.1^.4^.05^10^0^10"
    "^10^15^.4^60^15^14^1^0^0^0^0^.02^0^0^.2^.6^.3^.03^4^240^~1 cup~^15^~1 tbsp~^0\r\n"
)

CLEAN = """format = 1
title = "Invented dip"
servings = 8
[[line]]
food = "sour-cream"
amount = "1 cup"
"""


@pytest.fixture
def page(tmp_path: Path) -> Path:
    path = tmp_path / "page.html"
    path.write_text(BROKEN, "utf-8")
    return path


@pytest.mark.parametrize("form", [(), ("--json",)])
def test_what_was_mended_in_a_page_is_said_with_and_without_json(
    page: Path, capsys: pytest.CaptureFixture[str], form: tuple[str, ...]
) -> None:
    assert run(["read", str(page), *form]) == 0
    said = capsys.readouterr()
    assert "was broken and was mended: commas too many" in (said.err if form else said.out)
    if form:
        assert json.loads(said.out)["title"] == "Herb bowl"


def test_the_keys_of_what_is_read_are_the_stated_ones_in_their_order(
    page: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["read", str(page), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert list(found) == ["title", "servings", "lines", "steps"]
    keys = ["text", "quantity", "unit", "food_text", "prep", "food", "confidence", "grams", "asks"]
    assert [list(line) for line in found["lines"]] == [keys, keys]
    hummus, salt = found["lines"]
    assert (hummus["asks"], hummus["grams"] > 200) == ([], True)
    # To taste: the amount is unknown and asked for, never nothing.
    assert (salt["quantity"], salt["grams"]) == (None, None)
    assert any("How much salt?" in ask for ask in salt["asks"])


def test_every_line_of_a_file_is_an_entry_where_lines_are_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = ["Method", "1 cup hummus", "1 cup hummus", "Bake for 20 minutes.", "\t- ½ tsp cumin  "]
    path = tmp_path / "rows.txt"
    path.write_text("\n".join(rows), "utf-8")
    assert run(["read", str(path), "--lines", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)["lines"]
    assert [line["text"] for line in found] == rows


def test_reading_a_page_asks_nothing_of_the_network(
    page: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    tried: list[Any] = []

    def refuse(*what: Any, **_how: Any) -> None:
        tried.append(what)
        raise OSError

    for name in ("connect", "connect_ex", "sendto", "bind"):
        monkeypatch.setattr(socket.socket, name, refuse)
    monkeypatch.setattr(socket, "getaddrinfo", refuse)
    page.write_text(
        BROKEN.replace(
            "<html>", '<html><base href="http://example.org/"><img src="a.png">'
        ).replace(
            '"@type"',
            '"@context": "https://schema.org", "image": "http://example.org/b.png", "@type"',
        ),
        "utf-8",
    )
    assert run(["read", str(page)]) == 0
    assert "Herb bowl" in capsys.readouterr().out
    assert tried == []


def test_exit_codes_tell_done_from_findings_and_from_what_must_be_put_right(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    clean, faulty = tmp_path / "clean.toml", tmp_path / "faulty.toml"
    clean.write_text(CLEAN, "utf-8")
    faulty.write_text(f'{CLEAN}text = "1 cup (115 g) sour cream"\n', "utf-8")
    nowhere = tmp_path / "nowhere"
    store = ["--store", str(tmp_path / "foods.sqlite")]
    assert run(["review", str(clean)]) == 0
    assert run(["review", str(faulty)]) == 1
    assert run(["review", str(nowhere)]) == 2
    assert run(["read", str(nowhere)]) == 2
    assert run(["foods", "search", "sour cream", *store]) == 0
    assert run(["foods", "search", "qqxzzy", *store]) == 1
    assert run(["foods", "show", "no-such-food", *store]) == 2
    assert run(["foods", "import", str(nowhere), *store]) == 2
    assert run(["foods", "add", str(nowhere), "--csv", str(nowhere)]) == 2
    assert "Traceback" not in capsys.readouterr().err


@pytest.mark.parametrize("command", ["review", "solve", "read"])
def test_help_says_what_the_exit_codes_of_a_command_mean(
    command: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit):
        run([command, "--help"])
    said = " ".join(capsys.readouterr().out.split())
    assert "Exit code 0" in said
    assert ("the goals cannot all be met" in said) is (command == "solve")
    assert ("there are findings" in said) is (command == "review")


def test_an_import_that_is_stopped_at_the_keyboard_leaves_no_store_and_no_traceback(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    real = foods_command.import_release
    download, store = tmp_path / "ABBREV.txt", tmp_path / "foods.sqlite"
    download.write_text(ABBREV * 1, "latin-1")

    def stopped_half_way(*what: Any, **how: Any) -> Any:
        def tell(fraction: float, _words: str) -> None:
            if fraction > 0.5:
                raise KeyboardInterrupt

        return real(*what, **{**how, "progress": tell})

    with monkeypatch.context() as patched:
        patched.setattr(foods_command, "import_release", stopped_half_way)
        assert run(["foods", "import", str(download), "--store", str(store)]) == 130
    assert "Stopped" in capsys.readouterr().err
    assert not store.exists()
    assert run(["foods", "import", str(download), "--store", str(store)]) == 0
    assert run(["foods", "search", "curd invented", "--store", str(store)]) == 0


def test_the_food_is_given_in_its_own_words_and_with_how_sure_it_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "rows.txt"
    path.write_text(
        "1 cup plain strained yogurt\n2 cups finely grated mild cheddar\n"
        "1 cup 2% milk, warmed\n6 oz soft cheese\n",
        "utf-8",
    )
    assert run(["read", str(path), "--lines", "--json"]) == 0
    lines = json.loads(capsys.readouterr().out)["lines"]
    words = ["plain strained yogurt", "cheddar", "milk"]
    assert [line["food_text"] for line in lines[:3]] == words
    assert [line["prep"] for line in lines[:3]] == ["", "finely grated", "warmed"]
    *sure, unsure = lines
    assert all(not line["asks"] for line in sure[1:])
    assert any("Which food" in ask for ask in unsure["asks"])
    assert 0 < unsure["confidence"] < min(line["confidence"] for line in sure[1:]) <= 1
