"""Broken JSON is mended where there is one way to read it, and said so; the pages are invented."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.errors import FileProblem
from reformulate.recipes.pages import Page, read_page
from reformulate.recipes.pages.json_reading import CannotRead, read_json
from reformulate.recipes.pages.notes import Notes

GOOD = (
    '{"@type": "Recipe", "name": "Dip", "recipeYield": 4,'
    ' "recipeIngredient": ["1 cup cream", "salt"], "recipeInstructions": "Stir it."}'
)


def readable(text: str) -> list[object] | None:
    """What is read of a text, None where it is refused with a reason."""
    try:
        return values(text)[0]
    except CannotRead as reason:
        refused = str(reason)
    assert refused
    return None


def values(text: str) -> tuple[list[object], list[str]]:
    notes = Notes()
    return read_json(text, "The data", notes), list(notes)


@pytest.mark.parametrize(
    ("broken", "what"),
    [
        (f"<!-- {GOOD} -->", "wrapped around"),
        (f"//<![CDATA[\n{GOOD}\n//]]>", "wrapped around"),
        (f"/*<![CDATA[*/{GOOD}/*]]>*/", "wrapped around"),
        (f"<![CDATA[{GOOD}]]>", "wrapped around"),
        (f"{GOOD};", "wrapped around"),
        (f"\ufeff{GOOD}", "byte order mark"),
        (GOOD.replace('"salt"]', '"salt",]'), "commas too many"),
        (GOOD.replace('it."}', 'it.",\n }'), "commas too many"),
        (GOOD.replace(', "salt"', ',, "salt"'), "commas too many"),
        (GOOD.replace('"recipeYield": 4,', '"recipeYield": 4, // four\n'), "comments"),
        (GOOD.replace('"recipeYield"', '/* "yield" */ "recipeYield"'), "comments"),
        (GOOD.replace('it."}', 'it.", // end\n }'), "commas too many, comments"),
        (GOOD.replace('"', "&quot;"), "entities"),
    ],
)
def test_what_is_wrong_around_texts_is_mended_and_said(broken: str, what: str) -> None:
    found, notes = values(broken)
    assert found == [json.loads(GOOD)]
    (note,) = notes
    assert note.startswith("The data was broken and was mended: ")
    assert what in note


@pytest.mark.parametrize(
    ("broken", "whole", "what"),
    [
        ('["a\nb"]', ["a\nb"], "line breaks"),
        ('["a\tb\x01"]', ["a\tb\x01"], "control characters"),
        (r'["Jo\'s"]', ["Jo's"], "backslashes"),
        (r'["a\d\u12 b"]', [r"a\d\u12 b"], "backslashes"),
        ('{"a": "a 9" pan, deep", "b": 1}', {"a": 'a 9" pan, deep', "b": 1}, "quotation"),
        ('["a 9" x 13" pan", "salt"]', ['a 9" x 13" pan', "salt"], "quotation"),
        ('{"a": "the "big" dip"}', {"a": 'the "big" dip'}, "quotation"),
        ('{"a": "so "big", they say"}', {"a": 'so "big", they say'}, "quotation"),
        ('{"a": "she said "dip""}', {"a": 'she said "dip"'}, "quotation"),
        ('{"a": ""dip" it"}', {"a": '"dip" it'}, "quotation"),
        ('{"a": "<a href="x">b</a>", "c": 2}', {"a": '<a href="x">b</a>', "c": 2}, "quotation"),
    ],
)
def test_what_is_wrong_within_texts_is_mended_and_said(
    broken: str, whole: object, what: str
) -> None:
    found, notes = values(broken)
    assert found == [whole]
    assert what in notes[0]


@pytest.mark.parametrize(
    "unsure",
    [
        '["a "big", "round" dip"]',
        '["Spread "it", "Chill"]',
        '{"a": "x" "b": "y"}',
        '{"a": "x"\n "b": 5, "c": "z"}',
        '{"a: "x", "b": 5}',
        '["a 9", "deep" pan"]',
        '{"a": "no end',
        '{"a": [1, 2',
        '{"a": 1 /* no end',
        "{'a': 1}",
        "{a: 1}",
        "nothing",
        "",
        ";",
    ],
)
def test_what_could_be_read_in_two_ways_or_in_none_is_not_guessed(unsure: str) -> None:
    assert readable(unsure) is None


def test_values_one_after_the_other_are_all_read() -> None:
    found, notes = values('{"a": 1}{"b": 2},\n[3];{"c": 4,}')
    assert found == [{"a": 1}, {"b": 2}, [3], {"c": 4}]
    assert "one after the other" in notes[0]


def test_a_bracket_too_many_at_the_end_is_no_matter() -> None:
    assert values('{"a": [1]}}')[0] == [{"a": [1]}]


def test_what_follows_the_data_and_is_none_is_left_out_and_said() -> None:
    found, notes = values('{"a": 1} and more')
    assert found == [{"a": 1}]
    assert notes == ["The data is followed by something that is not JSON; that was left out."]


def test_sound_json_is_left_alone() -> None:
    text = r'{"a": "x, } ] // no comment \" \\ \u00e9", "b": [1, {"c": null}], "d": "/* x */"}'
    assert values(text) == ([json.loads(text)], [])


def test_numbers_of_any_length_are_read() -> None:
    (found,), _ = values(f"[{'9' * 5000}, 1e999, -{'9' * 30}, 12]")
    assert found == [float("inf"), float("inf"), -1e30, 12]


def test_a_broken_json_file_is_refused_with_the_reason() -> None:
    with pytest.raises(FileProblem) as caught:
        read_page(b'{"@type": "Recipe", "name": "Dip', "dip.json")
    (problem,) = caught.value.problems
    assert problem.where == "dip.json"
    assert "cannot be read as JSON: it ends in the middle of a text" in problem.what
    assert problem.fix


def test_a_page_with_broken_data_gives_its_text_and_says_why() -> None:
    found = read_page(
        b'<script type="application/ld+json">{"@type": "Recipe", "name": "Dip</script><p>1 egg'
    )
    assert found.text == "1 egg"
    assert any("could not be read" in note for note in found.notes)


def test_a_mended_page_gives_its_recipe_and_says_so() -> None:
    broken = GOOD.replace("Stir it.", 'Stir it\nin a 9" bowl.').replace('"salt"]', '"salt",]')
    found = read_page(f'<script type="application/ld+json">{broken}</script>'.encode())
    assert found.recipes[0].steps[0].text == "Stir it"
    assert found.recipes[0].steps[1].text == 'in a 9" bowl.'
    assert found.notes == (
        "Block 1 of the page's data was broken and was mended: commas too many, line breaks or "
        "control characters within texts, quotation marks within texts.",
    )


JSON = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**18), 10**18) | st.text(max_size=10),
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.text('ab"\\é ', max_size=5), inner)
    ),
    max_leaves=15,
)


@given(JSON.map(lambda value: [value]))
def test_a_comma_too_many_never_changes_a_value(value: list[object]) -> None:
    text = json.dumps(value)
    assert values(text)[0] == [value]
    assert values(f"{text[:-1]},]")[0] == [value]


@given(JSON.map(lambda value: [value]))
def test_raw_control_characters_in_texts_are_what_they_stand_for(value: list[object]) -> None:
    text = json.dumps(value, ensure_ascii=False)
    for escaped, raw in (("\\n", "\n"), ("\\t", "\t")):
        # A backslash that is itself escaped begins nothing.
        if "\\\\" not in text:
            text = text.replace(escaped, raw)
    assert values(text)[0] == [value]


@given(st.text('"\\{}[]:,/*\n 1a', max_size=40))
def test_any_text_is_read_or_refused(text: str) -> None:
    assert readable(text) != []


WORD = st.sampled_from(["dip", "9", "it's", "x", "a,", "so:", "(big)", "<a href=", "1/2"])
QUOTED = st.lists(WORD, min_size=1, max_size=3).map(lambda words: f'"{" ".join(words)}"')
SENTENCE = st.lists(WORD | QUOTED | st.sampled_from(['9"', '12" x 9"']), max_size=6).flatmap(
    lambda parts: st.sampled_from([" ", ", ", "; ", ""]).map(lambda between: between.join(parts))
)
# '", "' within a text looks as between two texts, and nobody can tell.
SENTENCE = SENTENCE.filter(lambda text: '", "' not in text)


@given(st.lists(SENTENCE, max_size=3) | st.dictionaries(SENTENCE, SENTENCE, max_size=3))
def test_quotation_marks_that_nobody_escaped_are_read_rightly_or_not_at_all(
    value: list[str] | dict[str, str],
) -> None:
    assert readable(json.dumps([value]).replace('\\"', '"')) in ([[value]], None)


@given(st.integers(0, len(GOOD) - 1), st.sampled_from(['"', "", ",", "}", "\n", "\\", "\x00"]))
def test_a_page_with_one_fault_is_read_or_says_what_it_lacks(place: int, fault: str) -> None:
    broken = GOOD[:place] + fault + GOOD[place + 1 :]
    found = read_page(f'<script type="application/ld+json">{broken}</script>'.encode())
    assert isinstance(found, Page)
    assert found.recipes or found.notes
