"""Reading: files that are no recipe file at all, or none of this release, are told in words."""

import pytest

from reformulate.sets.loading import LARGEST_FILE
from tests.sets.set_documents import DIP


@pytest.mark.parametrize(
    ("text", "expected"),
    [
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
def test_a_file_that_is_no_recipe_file_is_told_with_its_place_and_what_to_do(
    faults, text, expected
):
    assert faults(text) == expected
