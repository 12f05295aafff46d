"""Reading: what a file says, and in which words its faults are told."""

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
from reformulate.errors import BadInput, FileProblem
from reformulate.recipes import Line, Recipe
from reformulate.sets import Document, read_document, unread_keys
from reformulate.sets.loading import LARGEST_FILE
from tests.sets.set_documents import DIP, HEAD, ONION


@pytest.fixture
def faults(tmp_path):
    """Return a function that reads a file of a text and returns its problems as text."""

    def read(text):
        path = tmp_path / "dip.toml"
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        with pytest.raises(BadInput) as caught:
            read_document(path)
        return [str(problem) for problem in caught.value.problems]

    return read


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


ROLES = "base, flavouring, fat, acid, sweetener, salt, body, liquid, inclusion, garnish"
TWO_HOLDS = '[[brief.hold]]\nkind = "line"\nline = "sour-cream"\ntolerance = 0.0\n' * 2


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param(
            HEAD + "[[line]]\ngrams = 3\n",
            ['dip.toml, line 1, food: is missing, expected text. Write it as in food = "...".'],
            id="missing food",
        ),
        pytest.param(
            HEAD + '[[line]]\nfood = " "\ngrams = 3\n',
            [
                "dip.toml, line 1, food: is empty, expected the key of a food. "
                "Write the key of a food in the table, or 'ndb:' and a number."
            ],
            id="empty food",
        ),
        pytest.param(
            DIP.replace("servings", "servngs"),
            ["dip.toml, servings: is missing, expected a number. Did you mean it by 'servngs'?"],
            id="misspelt servings",
        ),
        pytest.param(
            DIP.replace('"body"', '"boddy"'),
            [
                f"dip.toml, line 2 (sour-cream), role: found 'boddy'. Expected one of: {ROLES}.",
            ],
            id="unknown role",
        ),
        pytest.param(
            DIP.replace("servings = 8", "servings = 0"),
            [
                "dip.toml, servings: found 0, expected a number above 0. "
                "Write how many the batch serves."
            ],
            id="zero servings",
        ),
        pytest.param(
            HEAD,
            ["dip.toml, line: the recipe has no lines. Add at least one [[line]]."],
            id="empty recipe",
        ),
        *(
            pytest.param(
                DIP.replace("grams = 320", f"grams = {written}"),
                [
                    f"dip.toml, line 1 (onion-yellow), grams: found {found}, "
                    "expected more than 0 and at most 1000000. Write the mass in grams."
                ],
                id=f"grams {written}",
            )
            for written, found in [("nan", "nan"), ("-3", "-3"), ("inf", "inf"), ("0", "0")]
        ),
        pytest.param(
            DIP.replace("grams = 320", "gram = 320"),
            [
                "dip.toml, line 1 (onion-yellow): expected exactly one of amount and grams. "
                "Write one of the two.",
                "dip.toml, line 1, gram: is not read. Did you mean 'grams'?",
            ],
            id="misspelt grams",
        ),
        pytest.param(
            DIP.replace("= 320", '= "320"').replace('"2 cups"', "2").replace("= 8", "= true"),
            [
                "dip.toml, servings: found true, expected a number. Write it as in servings = 1.5.",
                "dip.toml, line 1, grams: found the text '320', expected a number. "
                "Write it as in grams = 1.5.",
                "dip.toml, line 2, amount: found the number 2, expected text. "
                'Write it as in amount = "...".',
            ],
            id="wrong types",
        ),
        pytest.param(
            DIP.replace("= 8", '= 8\nsteps = "Fry."\nserve_with = ["a", 2]')
            + "as_bought = 2020-01-01\nretention = 1.5\n",
            [
                "dip.toml, steps: found the text 'Fry.', expected a list of texts. "
                'Write steps = ["...", "..."].',
                "dip.toml, serve_with 2: found the number 2, expected text. "
                "Write text in quotation marks.",
                "dip.toml, line 2, retention: found the number 1.5, expected a whole number. "
                "Write it as in retention = 1.",
                "dip.toml, line 2, as_bought: found a date or time, expected true or false. "
                "Write it as in as_bought = true.",
            ],
            id="wrong types of lists and words",
        ),
        pytest.param(
            HEAD + "line = 3\nbrief = []\n",
            [
                "dip.toml, line: found the number 3, expected tables. "
                "Begin each with a row [[line]].",
                "dip.toml, brief: found a list, expected a table. Write key = value rows.",
            ],
            id="wrong tables",
        ),
        pytest.param(
            DIP + '[brief]\nshown_per = "servng"\n[brief.goal]\nnutrient = "fat_g"\n'
            '[[brief.hold]]\nkind = "lin"\n[[brief.hold]]\n',
            [
                "dip.toml, brief, shown_per: found the text 'servng', expected one of: "
                "serving, 100g, energy, original. Did you mean 'serving'?",
                "dip.toml, brief, goal: found a table, expected tables. "
                "Begin each with a row [[brief.goal]].",
                "dip.toml, brief, hold 1, kind: found the text 'lin', expected one of: "
                "ratio, batch, line, role, character. Did you mean 'line'?",
                "dip.toml, brief, hold 2, kind: is missing, expected one of: "
                "ratio, batch, line, role, character. Write one of them.",
            ],
            id="wrong types in the brief",
        ),
        pytest.param(
            DIP + '[[brief.hold]]\nkind = "line"\nline = "sour-cream"\nleast = 9\nmost = 3\n',
            [
                "dip.toml, brief, hold 1 on sour-cream: asks for at least 9 g and at most 3 g. "
                "Lower the one or raise the other."
            ],
            id="least above most",
        ),
        pytest.param(
            DIP + '[[brief.hold]]\nkind = "ratio"\nof = ["role:body"]\nto = ["sour-cream"]\n',
            [
                "dip.toml, brief, hold 1: holds 'sour-cream' against itself. "
                "Leave each line on one side of the ratio."
            ],
            id="a group against itself",
        ),
        pytest.param(
            DIP + TWO_HOLDS,
            ["dip.toml, brief, hold 2: holds what another hold holds. Keep one of them."],
            id="doubled holds",
        ),
        pytest.param(
            DIP.replace("= 8", "= -1")
            + 'id = "role:x"\n[[brief.goal]]\nnutrient = "fat_g"\nat_least = 5\nat_most = 3\n',
            [
                "dip.toml, line 2, id: found 'role:x'. "
                "Expected a name that does not begin with 'role:'.",
                "dip.toml, servings: found -1, expected a number above 0. "
                "Write how many the batch serves.",
                "dip.toml, brief, goal on fat_g: asks for at least 5 and at most 3. "
                "Lower the one or raise the other.",
            ],
            id="faults of recipe and brief together",
        ),
        pytest.param(
            DIP.replace("format = 1", "format = 2").replace("servings", "yields"),
            [
                "dip.toml, format: found 2, expected 1; written by a newer release. "
                "Open it with the release that wrote it, or a later one."
            ],
            id="newer format",
        ),
        pytest.param(
            DIP.replace("format = 1\n", ""),
            ["dip.toml, format: is missing, expected 1. Write format = 1."],
            id="no format",
        ),
        pytest.param(
            DIP.replace("format = 1", 'format = "1"').replace("servings = 8", ""),
            [
                "dip.toml, format: found the text '1', expected 1. Write format = 1.",
                "dip.toml, servings: is missing, expected a number. Write it as in servings = 1.5.",
            ],
            id="format as text",
        ),
        pytest.param(
            DIP[:-3],
            [
                "dip.toml, at its end: this is not TOML: unterminated string. "
                "The file may be cut short: complete it, or take it from a copy."
            ],
            id="truncated in a text",
        ),
        pytest.param(
            DIP + "[brief",
            [
                "dip.toml, at its end: this is not TOML: expected ']' at the end of a table "
                "declaration. The file may be cut short: complete it, or take it from a copy."
            ],
            id="truncated in a header",
        ),
        pytest.param(
            DIP.replace("servings = 8", "servings : 8"),
            [
                "dip.toml, row 3, column 10: this is not TOML: expected '=' after a key in a "
                "key/value pair. Put the row right in a text editor."
            ],
            id="not TOML",
        ),
        pytest.param(
            DIP.encode().replace(b"Onion", "Crème".encode("latin-1")),
            [
                "dip.toml, row 2, column 12: found the byte 0xE8, expected UTF-8 text. "
                "Save the file as UTF-8 text."
            ],
            id="Latin-1",
        ),
        pytest.param(
            b"\xef\xbb\xbf" + DIP.encode().replace(b"Onion", b"Cr\xe8me"),
            [
                "dip.toml, row 2, column 12: found the byte 0xE8, expected UTF-8 text. "
                "Save the file as UTF-8 text."
            ],
            id="Latin-1 behind a byte order mark",
        ),
        pytest.param(
            DIP.encode("utf-16"),
            ["dip.toml: found UTF-16, expected UTF-8. Save it as UTF-8 text."],
            id="UTF-16",
        ),
        pytest.param(
            " \n",
            ["dip.toml: is empty. Take it from a copy, or remove it from the folder."],
            id="empty file",
        ),
        pytest.param(
            DIP + "deep = " + "[" * 90_000,
            [
                "dip.toml: has lists or tables nested too deeply. Take the inner ones out.",
            ],
            id="deep nesting",
        ),
        pytest.param(
            DIP + "deep = " + "[" * 40 + "]" * 40,
            ["dip.toml: has lists or tables nested too deeply. Take the inner ones out."],
            id="nesting that could not be written again",
        ),
        pytest.param(
            DIP + "a." * 90_000 + "a = 1",
            ["dip.toml, row 11: found more than 1000 dots in one row. Break the row in several."],
            id="deep key",
        ),
        pytest.param(
            DIP + "# " + "x" * LARGEST_FILE,
            ["dip.toml: is larger than 1 000 000 bytes. Is it a recipe file? Shorten it."],
            id="too large",
        ),
        pytest.param(
            DIP.replace("= 320", f"= 1{'0' * 400}"),
            [
                "dip.toml, line 1, grams: found the number of more than 15 digits, "
                "expected a number. Write it as in grams = 1.5."
            ],
            id="number without end",
        ),
    ],
)
def test_each_fault_is_told_with_file_and_key_and_what_to_do(faults, text, expected):
    assert faults(text) == expected


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
