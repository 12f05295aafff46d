"""No page brings the reader down: any bytes, bombs of every kind, in bounded time and memory."""

from __future__ import annotations

import ast
import json
import socket
import subprocess
import sys
from pathlib import Path
from typing import NoReturn

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.errors import BadInput, FileProblem
from reformulate.recipes import pages
from reformulate.recipes.pages import Page, read_page
from tests.yardstick import expect_bounded

TIMES = 60
"""How many times as long as a plain page of that size: far above what any of these takes, far below
what work with the square of the length takes [1]."""

GOOD = """<!DOCTYPE html><html><head><meta charset="utf-8"><title>Dip</title>
<script type="application/ld+json">
{"@context": "https://schema.org", "@graph": [{"@type": "Recipe", "@id": "#r", "name": "Dip &amp; more",
 "recipeYield": ["8", "8 servings"], "recipeIngredient": ["1 cup crème fraîche", "½ tsp salt"],
 "recipeInstructions": [{"@type": "HowToSection", "name": "A", "itemListElement": [{"@id": "#s"}]}],
 "totalTime": "PT1H", "nutrition": {"@type": "NutritionInformation", "calories": "90 kcal"}},
 {"@type": "HowToStep", "@id": "#s", "text": "<p>Stir \\"well\\".</p>"}]}
</script></head><body><div itemscope itemtype="http://schema.org/Recipe" itemref="more">
<h1 itemprop="name">Other dip</h1><ul><li itemprop="recipeIngredient">1 egg<li
 itemprop="recipeIngredient">2 tsp oil</ul></div><p id="more" itemprop="recipeInstructions">Boil.</p>
</body></html>""".encode()


def read(data: bytes, name: str = "") -> Page | None:
    """Read a page or be told why not; anything else raised fails the test."""
    found: Page | BadInput
    try:
        found = read_page(data, name)
    except BadInput as fault:
        found = fault
    if isinstance(found, Page):
        return found
    assert found.problems
    assert all(problem.what and problem.fix for problem in found.problems)
    return None


def test_the_good_page_is_good() -> None:
    found = read_page(GOOD)
    assert [recipe.title for recipe in found.recipes] == ["Dip & more", "Other dip"]
    assert found.recipes[0].steps[0].text == 'Stir "well".'
    assert found.recipes[1].steps[0].text == "Boil."


@given(st.binary(max_size=300), st.sampled_from(["", "a.html", "a.json"]))
def test_any_bytes_are_a_page_or_a_clear_refusal(data: bytes, name: str) -> None:
    read(data, name)


@given(st.text("<>/=\"'!-[]{}&;:,#\\ \n\0aplx1", max_size=120), st.sampled_from(["", "a.json"]))
def test_any_marks_are_a_page_or_a_clear_refusal(text: str, name: str) -> None:
    read(text.encode(), name)


@given(
    st.lists(
        st.tuples(
            st.integers(0, len(GOOD)), st.integers(0, 40), st.binary(max_size=6) | st.just(b'"')
        ),
        min_size=1,
        max_size=6,
    )
)
def test_a_good_page_with_damage_is_a_page(cuts: list[tuple[int, int, bytes]]) -> None:
    data = GOOD
    for at, length, new in cuts:
        data = data[:at] + new + data[at + length :]
    found = read(data)
    if found is not None:
        for recipe in found.recipes:
            "".join([recipe.title, *recipe.lines, *(step.text for step in recipe.steps)]).encode()
        assert found.recipes or found.notes


@given(st.integers(0, len(GOOD)))
def test_a_page_that_ends_too_early_is_a_page(length: int) -> None:
    read(GOOD[:length])


@pytest.mark.parametrize("data", [b"", b" \n\t ", b"\xef\xbb\xbf", b"\xff\xfe"])
def test_an_empty_file_is_refused(data: bytes) -> None:
    with pytest.raises(FileProblem, match=r"dip\.html: is empty"):
        read_page(data, "dip.html")


@pytest.mark.parametrize(
    ("data", "what"),
    [
        (b"%PDF-1.7 ...", "PDF"),
        (b"PK\x03\x04....", "zip archive"),
        (b"\x1f\x8b\x08....", "compressed"),
        (b"\x89PNG\r\n....", "picture"),
        (b"bplist00....", "web archive"),
        (b"MIME-Version: 1.0\r\nContent-Type: multipart/related; ...", "web archive"),
        (bytes(range(32)) * 40, "not a text"),
        (bytes(5000), "not a text"),
    ],
)
def test_a_file_of_another_kind_is_refused_by_its_name(data: bytes, what: str) -> None:
    with pytest.raises(FileProblem, match=what):
        read_page(data, "dip.html")


def test_a_line_of_fifty_million_characters_is_refused_with_the_limit() -> None:
    with pytest.raises(FileProblem, match=r"dip\.html: is larger than 20 MB\. Save it without"):
        read_page(b"<p>" + b"a" * 50_000_000, "dip.html")


def filled(start: bytes, part: bytes, end: bytes = b"") -> bytes:
    """A page of a million bytes, enough to tell one that takes time with their square."""
    return start + part * ((1_000_000 - len(start) - len(end)) // len(part)) + end


PLAIN = filled(b"<p>", b"a b\n")


@pytest.mark.parametrize(
    "data",
    [
        filled(b"<p>", b"a"),
        filled(b"", b"a"),
        filled(b"<p>", b"a b\n"),
        filled(b"<p>", "é".encode()),
        filled(b"<p title='", b"a", b"'>x"),
        filled(b"<a", b" b=c"),
        filled(b"", b"<a "),
        filled(b"", b"<a b='"),
        filled(b"", b"<!-- "),
        filled(b"", b"<"),
        filled(b"", b"</a "),
        filled(b"", b"</"),
        filled(b"", b"<!>"),
        filled(b"", b"<script>"),
        filled(b"", b"<title>a</title>"),
        filled(b"", b"<div>"),
        filled(b"", b"<div><p>"),
        filled(b"<table>", b"<tr><td>"),
        filled(b"<p>" + b"<b>" * 150, b"<p></i>"),
        filled(b"<p>", b"&amp;"),
        filled(b"<p>", b"&lt"),
        filled(b"<p>&#", b"9", b";"),
        filled(b"<p>&#x", b"F", b";"),
        filled(b"<div itemscope itemtype='http://schema.org/Recipe'>", b"<b itemprop=name>a"),
        filled(b"", b"<b itemscope itemprop=hasPart itemtype=http://schema.org/Recipe>"),
        filled(b"<p>", b"\xff"),
    ],
    ids=lambda data: f"{data[:12]!r}...{data[-12:]!r}",
)
def test_a_large_page_of_one_thing_takes_bounded_time(data: bytes) -> None:
    assert isinstance(read(data, "dip.html"), Page)
    expect_bounded(lambda: read(data, "dip.html"), TIMES, lambda: read(PLAIN, "dip.html"))


def test_nothing_is_fetched(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> NoReturn:
        raise AssertionError("a connection was opened")

    monkeypatch.setattr(socket, "socket", refuse)
    monkeypatch.setattr(socket, "getaddrinfo", refuse)
    data = GOOD.replace(
        b"<body>", b"<body><img src='https://example.org/a.png'><iframe src='//example.org'>"
    )
    assert read(data)
    assert read(b'{"@context": "https://example.org/c", "@id": "https://example.org/r"}', "a.json")


def test_no_module_of_the_reader_can_reach_the_outside() -> None:
    folder = Path(pages.__file__).parent
    used = {
        name.partition(".")[0]
        for path in folder.glob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Import | ast.ImportFrom)
        for name in (
            [node.module or ""]
            if isinstance(node, ast.ImportFrom)
            else [a.name for a in node.names]
        )
    }
    allowed = "__future__ collections dataclasses html json math re reformulate typing"
    assert used <= {*allowed.split()}


def script(text: bytes) -> bytes:
    return b'<script type="application/ld+json">' + text + b"</script><h1>Dip</h1>"


def large(start: bytes, part: bytes, end: bytes = b"") -> bytes:
    """A million characters of JSON."""
    return start + part * ((1_000_000 - len(start) - len(end)) // len(part)) + end


@pytest.mark.parametrize(
    "text",
    [
        b"[" * 100_000,
        b"[" * 100_000 + b"]" * 100_000,
        b'{"a":' * 50_000 + b"1" + b"}" * 50_000,
        b'{"@graph":[' * 900 + b"]}" * 900,
        large(b'["', b"a", b'"]'),
        large(b'["', b"\n", b'"]'),
        large(b'["', b'"', b'"]'),
        large(b'["', b'" ', b'"]'),
        large(b'["', b'9"', b'"]'),
        large(b'{"a": "', b'b", ', b'"}'),
        large(b'["', b"\\", b'"]'),
        large(b"[", b"1,", b"1]"),
        large(b"[", b"[],", b"1]"),
        large(b"[1", b" ", b"1]"),
        large(b"[1,", b" ", b",]"),
        large(b'["a"', b" ", b"b"),
        large(b"", b"//"),
        large(b"", b"/*"),
        large(b"", b"<!--"),
        large(b"{}", b"\n//"),
        large(b"", b"{}"),
        large(b"", b"{} "),
        large(b'{"@type":"Recipe","recipeIngredient":["', b"&amp;", b'"]}'),
        large(b'{"@type":"Recipe","recipeIngredient":["', b"<b>", b'"]}'),
        large(b'{"@type":"Recipe","recipeIngredient":[', b'"1 egg",', b'""]}'),
        large(b"[", b'{"@type":"Recipe","recipeIngredient":["1 egg"],"name":"x"},', b"1]"),
        b'{"@type":"Recipe","recipeYield":' + b"9" * 100_000 + b"}",
        b'{"@type":"Recipe","recipeYield":"' + b"9" * 100_000 + b'"}',
        b'{"@type":"Recipe","totalTime":"PT' + b"9" * 100_000 + b'M"}',
    ],
    ids=lambda text: f"{text[:16]!r}...{text[-12:]!r}",
)
def test_json_made_to_do_harm_takes_bounded_time(text: bytes) -> None:
    assert isinstance(read(script(text)), Page)
    for data, name in ((script(text), "dip.html"), (text, "dip.json")):
        expect_bounded(lambda d=data, n=name: read(d, n), TIMES, lambda: read(PLAIN, "dip.html"))


def test_data_that_holds_itself_comes_to_an_end() -> None:
    graph = [
        {"@type": "Recipe", "@id": "#r", "recipeIngredient": ["1 egg"], "recipeInstructions": [
            {"@id": "#a"}, {"@id": "#b"}, "Serve."
        ], "author": {"@id": "#r"}, "nutrition": {"@id": "#r"}},
        {"@id": "#a", "@type": "HowToSection", "name": "A", "itemListElement": [
            {"@id": "#b"}, {"@id": "#a"}, "Stir."
        ]},
        {"@id": "#b", "@type": "HowToSection", "name": "B", "itemListElement": [
            {"@id": "#a"}, "Chill."
        ]},
    ]  # fmt: skip
    found = read(json.dumps({"@graph": graph}).encode(), "dip.json")
    assert found is not None
    (recipe,) = found.recipes
    assert recipe.lines == ("1 egg",)
    assert {"Stir.", "Chill.", "Serve."} <= {step.text for step in recipe.steps}
    assert any("holds itself" in note for note in found.notes)


def test_references_that_branch_without_end_come_to_an_end() -> None:
    many = 400
    lists = [
        {"@id": f"#{n}", "itemListElement": [{"@id": f"#{n + 1}"}] * many + ["Stir."]}
        for n in range(9)
    ]
    text = {"@id": "#9", "@type": "HowToStep", "text": "<p>&amp;amp; stir" * 10_000, "x": 1}
    recipes = [
        {"@type": "Recipe", "name": f"{n}", "recipeIngredient": ["1 egg", {"@id": "#0"}],
         "recipeInstructions": [{"@id": "#9"}] * many}
        for n in range(60)
    ]  # fmt: skip
    found = read(json.dumps([*lists, text, *recipes]).encode(), "dip.json")
    assert found is not None
    assert found.recipes
    assert any("more than can be read" in note for note in found.notes)


# All of it in a process of its own, whose peak is not that of the tests before.
MEASURE = """
import sys
from pathlib import Path
from reformulate.errors import BadInput
from reformulate.recipes.pages import PAGE_LIMIT, read_page
start, part = (each.encode() for each in sys.argv[1:])

def peak():
    rows = Path("/proc/self/status").read_text().splitlines()
    return int(next(row for row in rows if row.startswith("VmHWM")).split()[1])

before = peak()
data = start + part * ((PAGE_LIMIT - len(start)) // len(part))
try:
    read_page(data)
except BadInput:
    pass
print(peak() - before)
"""


@pytest.mark.skipif(
    not sys.platform.startswith("linux"), reason="the peak is read as Linux tells it"
)
@pytest.mark.parametrize(
    ("start", "part"),
    [
        ("", "<p itemprop=name>1 egg</p><div>"),
        ("<p>", "\U0001f9c0 "),
        ("[", '{"@type":"Recipe","a":{}},'),
    ],
)
def test_the_largest_page_takes_bounded_memory(start: str, part: str) -> None:
    done = subprocess.run(
        [sys.executable, "-c", MEASURE, start, part],
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    assert 20_000 < int(done.stdout) < 400_000  # [kB], the page itself included
