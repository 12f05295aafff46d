"""The text of pages that mark no recipe, and encodings; all pages are invented."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.recipes.pages import read_page


def seen(page: str) -> list[str]:
    return [line for line in read_page(page.encode()).text.split("\n") if line]


def test_a_page_without_a_marked_recipe_gives_what_is_seen_line_by_line() -> None:
    found = read_page(b"""<!DOCTYPE html><html><head><title>My site</title>
      <style>p { color: red }</style><script>var secret = "<p>no</p>";</script></head>
      <body><nav><a href="/">Home</a></nav><!-- not this --><h1>Onion   Dip</h1>
      <p>Serves <b>6</b></p>
      <ul><li>1 cup sour cream<li>2 tbsp onion &amp; chives</ul>
      <p>Stir.<br>Chill.</p><button>Print</button><noscript>Turn it on</noscript>
      <div hidden>no</div><div style="display: none">no</div></body></html>""")
    assert found.recipes == ()
    assert found.text == (
        "Onion Dip\n\nServes 6\n\n1 cup sour cream\n2 tbsp onion & chives\n\nStir.\nChill."
    )
    assert found.notes == (
        "The page marks no recipe with ingredients; the text seen on it was taken.",
    )


def test_the_title_stands_first_where_the_page_has_no_heading() -> None:
    assert seen("<title>Onion Dip</title><p>1 cup cream") == ["Onion Dip", "1 cup cream"]


def test_a_head_that_nobody_closed_hides_nothing() -> None:
    assert seen("<html><head><title>T</title><p>1 egg</p><h1>T</h1>") == ["1 egg", "T"]
    assert seen("<html><head>1 egg<h1>T</h1>") == ["1 egg", "T"]


def test_cells_stand_beside_each_other_and_rows_below() -> None:
    page = "<h1>T</h1><table><tr><td>1 cup<td>cream<tr><td>1 tsp<td>salt</table>"
    assert seen(page) == ["T", "1 cup cream", "1 tsp salt"]


def test_preformatted_text_keeps_its_lines() -> None:
    assert seen("<h1>T</h1><pre>1 cup cream\n  1 tsp salt</pre>a\nb") == [
        "T",
        "1 cup cream",
        "1 tsp salt",
        "a b",
    ]


def test_raised_and_lowered_figures_stay_a_fraction() -> None:
    page = "<h1>T</h1><p>1<sup>1</sup>/<sub>2</sub> cups</p><p><sup>3</sup>&frasl;<sub>4</sub> cup"
    assert seen(page) == ["T", "1 1/2 cups", "3⁄4 cup"]


@pytest.mark.parametrize(
    ("page", "lines"),
    [
        ("<p>a</p></b></p></div><p>c", ["a", "c"]),
        ("<p>1 < 2 <3 & 4 &lt; 5", ["1 < 2 <3 & 4 < 5"]),
        ("<p>a<!-- b", ["a"]),
        ("<p>a<!-->b<!--->c", ["abc"]),
        ("<p>a<?php x ?>b<![CDATA[c]]>d", ["abd"]),
        ("<p>a<script>b</scriptx></script >c", ["ac"]),
        ("<p>a<script>b", ["a"]),
        ("<P CLASS='x>y'>a</P\n>b", ["a", "b"]),
        ("<p>a<b", ["a"]),
        ("<p>a<b c='", ["a"]),
        ("<p>a<b c=d e/f =g>h</b>", ["ah"]),
        ("<div>a<b>b<table><tr><td>c</b>d</table>e", ["ab", "cd", "e"]),
        ("<!DOCTYPE x [<!ENTITY a 'bbbb'><!ENTITY c '&a;&a;'>]><p>&c;", ["]>", "&c;"]),
        ("<p>&nonsense; &amp;lt; &#0; &#x110000;", ["&nonsense; &lt; \ufffd \ufffd"]),
        ("<p>שלום <b>עולם</b></p>", ["שלום עולם"]),
    ],
)
def test_markup_is_read_as_browsers_do(page: str, lines: list[str]) -> None:
    assert seen(page) == lines


def test_a_plain_text_stays_as_it_is() -> None:
    found = read_page(b"Onion dip\r\n\r\n1 cup sour cream\n1 < 2 & so\t on\n", "dip.txt")
    assert found.text == "Onion dip\n\n1 cup sour cream\n1 < 2 & so on"
    assert found.notes == ("The file is plain text, not a web page.",)


def test_signs_and_addresses_in_a_plain_text_do_not_make_it_a_page() -> None:
    text = "Dip <cook@example.org>\n1 cup <3\n<https://example.org>"
    assert read_page(text.encode(), "dip.txt").text == text
    assert read_page(text.encode(), "dip.html").text == "Dip 1 cup <3"


def test_what_is_lost_for_want_of_an_end_is_said() -> None:
    for page, what in [("<p>a<b c='", "tag"), ("<p>a<!-- b", "comment"), ("a<script>b", "script")]:
        notes = read_page(page.encode()).notes
        assert any(what in note and "has no end" in note for note in notes)


def test_a_text_that_begins_with_a_bracket_is_text() -> None:
    assert read_page(b"[For 4]\n1 egg").text == "[For 4]\n1 egg"


def test_a_page_that_shows_nothing_says_so() -> None:
    found = read_page(b"<html><script>draw()</script></html>")
    assert found.text == ""
    assert any("No text is seen" in note for note in found.notes)


def test_json_without_a_recipe_says_so() -> None:
    found = read_page(b'{"name": "not a recipe"}', "x.json")
    assert (found.recipes, found.text) == ((), "")
    assert found.notes == ("The JSON holds no recipe with ingredients.",)


def test_a_page_named_json_is_still_a_page() -> None:
    assert read_page(b"<h1>Dip</h1>", "dip.json").text == "Dip"


CREAM = "1 crème fraîche – ½"


@pytest.mark.parametrize(
    "data",
    [
        f"<h1>{CREAM}</h1>".encode(),
        b"\xef\xbb\xbf" + f"<h1>{CREAM}</h1>".encode(),
        b"\xff\xfe" + f"<h1>{CREAM}</h1>".encode("utf-16-le"),
        b"\xfe\xff" + f"<h1>{CREAM}</h1>".encode("utf-16-be"),
        b"\xff\xfe\x00\x00" + f"<h1>{CREAM}</h1>".encode("utf-32-le"),
        f"<!DOCTYPE html><html lang=fr><h1>{CREAM}</h1>{' ' * 80}".encode("utf-16-le"),
        f"<!DOCTYPE html><html lang=fr><h1>{CREAM}</h1>{' ' * 80}".encode("utf-16-be"),
        f"<meta charset=windows-1252><h1>{CREAM}</h1>".encode("cp1252"),
        f"<meta charset='iso-8859-1'><h1>{CREAM}</h1>".encode("cp1252"),
        f"<meta content='text/html; charset=latin1'><h1>{CREAM}</h1>".encode("cp1252"),
        f"<?xml version='1.0' encoding='iso-8859-1'?><h1>{CREAM}</h1>".encode("cp1252"),
        f"<h1>{CREAM}</h1>".encode("cp1252"),
        f"<meta charset=utf-8><h1>{CREAM}</h1>".encode("cp1252"),
        f"<meta charset=iso-8859-1><h1>{CREAM}</h1>".encode(),
        f"<meta charset=unicode_escape><h1>{CREAM}</h1>".encode(),
        f"<meta charset=nothing><h1>{CREAM}</h1>".encode(),
    ],
)
def test_a_page_is_read_in_its_encoding_even_where_it_names_another(data: bytes) -> None:
    assert read_page(data).text == CREAM


@pytest.mark.parametrize(
    ("codec", "named", "text"),
    [
        ("cp1251", "windows-1251", "Сметана"),
        ("cp932", "Shift_JIS", "味噌ディップ"),
        ("gb18030", "gb2312", "联通"),
        ("cp1255", "windows-1255", "טחינה"),
        ("euc-kr", "euc-kr", "된장"),
    ],
)
def test_a_named_encoding_is_believed_where_it_fits(codec: str, named: str, text: str) -> None:
    data = f"<meta charset={named}><h1>{text}</h1>".encode(codec)
    assert read_page(data).text == text


def test_what_encoding_was_guessed_is_said() -> None:
    notes = read_page("<h1>crème</h1>".encode("cp1252")).notes
    assert any("Western European" in note for note in notes)
    notes = read_page("<meta charset=windows-1251><h1>Сметана</h1>".encode()).notes
    assert any("it is in UTF-8" in note for note in notes)


def test_a_few_bad_bytes_do_not_spoil_the_rest() -> None:
    found = read_page("<h1>crème fraîche à l'échalote</h1>".encode() + b"<p>x\xff")
    assert found.text == "crème fraîche à l'échalote\n\nx\ufffd"
    assert any("could not be read" in note for note in found.notes)


def test_nul_characters_are_left_out_and_said() -> None:
    found = read_page(b"<h1>Onion\0 Dip</h1>")
    assert found.text == "Onion Dip"
    assert any("NUL" in note for note in found.notes)


@given(st.text())
def test_escaped_text_is_seen_as_it_is(text: str) -> None:
    shown = "".join(c for c in text if c.isprintable())
    escaped = "".join(f"&#x{ord(c):x};" for c in shown)
    assert read_page(f"<h1>-</h1><p>{escaped}</p>".encode()).text.split() == ["-", *shown.split()]
