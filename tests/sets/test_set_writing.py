"""Saving: what is written reads the same, and what is not ours stays as it was."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reformulate.brief import BatchHold, Goal, LineHold, Swap
from reformulate.recipes import Line
from reformulate.sets import read_document, write_document
from reformulate.sets.editing import edited
from reformulate.sets.loading import parse
from reformulate.sets.reading import document_from
from reformulate.sets.unknown import keeps_unknown
from reformulate.sets.writing import _says, render
from tests.sets.set_documents import documents

DIP = """\
# Ours, made up for the tests
format = 1   # the shape of this file
title = "Onion dip"
servings = 8 # small ones
cellar = "left shelf"
steps = [
  "Slice.",  # thinly
  "Fry.",
]

# The onions
[[line]]
food = "onion-yellow"
grams = 320 # peeled
origin = "garden"

# All that binds
[[line]]
food = "sour-cream"
amount = "2 cups"
role = "body"

[line.bought]
where = "market"

# What is wanted
[brief]
aim = "Lighten a classic"
mood = [1, 2]

[[brief.goal]]
nutrient = "energy_kcal"
at_most = 130 # kcal
asked_by = "editor"

[[brief.hold]]
kind = "batch"
tolerance = 0.05 # a little

# The end
"""

LAYOUTS = {
    "holds around a line": """\
# top
format = 1
title = "x"
servings = 2
[[line]] # of all
food = "garlic"
grams = 1
[brief]
aim = "x"
[[brief.hold]]
kind = "batch"
# between
[[line]]
food = "salt"
grams = 2
shelf = 9
[[brief.hold]]
kind = "line"
line = "salt"
tolerance = 0.0 # as it is
mine = 3
""",
    "lines in one row each": """\
# top
format = 1
title = "x"
line = [{food = "garlic", grams = 1, shelf = 3}, {food = "salt", grams = 2}]
servings = 2
brief.aim = "y"
brief.mine = true
""",
    "goals before lines": """\
format = 1
title = "x"
servings = 2
[[brief.goal]]
nutrient = "fat_g"
at_most = 3
whose = "mine"
[[line]]
food = "garlic"
grams = 1
[brief]
aim = "y"
mood = "good"
""",
    "lines around the brief": """\
format = 1
title = "x"
servings = 2
[[line]]
food = "garlic"
grams = 1
[brief]
aim = "y"
[[line]]
food = "salt"
grams = 2
shelf = 9
[[brief.hold]]
kind = "batch"
""",
    "a brief in one row": """\
# top
format = 1
title = "x"
servings = 2
brief = {aim = "y", goal = [{nutrient = "fat_g", at_most = 3, whose = "mine"}], mine = 1}
[[line]]
food = "garlic"
grams = 1
""",
    "no end of row at the end": 'format=1\ntitle="x"\nservings=2\n[[line]]\nfood="garlic"\ngrams=1',
    "indented": """\
format = 1
title = "x"
servings = 2
  [[line]]
    food = "garlic"
    grams = 1
    # about garlic
  [[line]]
    food = "salt"
    grams = 1
  [notes]
    of = "mine"
""",
}


@pytest.fixture
def dip(tmp_path):
    path = tmp_path / "dip.toml"
    path.write_bytes(DIP.encode())
    return read_document(path)


def with_line(document, line_id, **changes):
    recipe = document.recipe
    line = replace(recipe.line(line_id), **changes)
    return replace(document, recipe=recipe.with_line(line))


@given(documents())
def test_a_new_file_reads_as_the_document_it_was_written_from(document):
    assert document_from(parse(render(document).decode(), "dip.toml"), document.path) == document


@given(documents(), documents(), st.booleans())
def test_writing_over_another_recipe_gives_the_new_one(old, new, windows):
    before = render(old)
    if windows:
        before = before.replace(b"\n", b"\r\n")
    data = render(new, before)
    assert document_from(parse(data.decode(), "dip.toml"), new.path) == new


@given(documents())
def test_a_second_writing_changes_nothing(document):
    data = render(document)
    assert render(document, data) == data


@pytest.mark.parametrize("layout", LAYOUTS)
@given(data=st.data())
def test_any_layout_of_a_file_takes_a_document_and_keeps_other_keys(layout, data):
    before = LAYOUTS[layout]
    old = document_from(parse(before, "dip.toml"), Path("dip.toml"))
    kept = parse(render(old, before.encode()).decode(), "dip.toml")
    was = parse(before, "dip.toml")
    assert kept.pop("brief").items() >= was.pop("brief", {}).items()
    assert kept == was
    new = data.draw(documents())
    after = render(new, before.encode()).decode()
    assert document_from(parse(after, "x"), new.path) == new
    assert ("# top" in after) is ("# top" in before)


@given(documents(), documents())
def test_lines_that_stay_keep_their_comments_and_other_keys(old, new):
    rows = []
    number = 0
    for row in render(old).decode().split("\n"):
        if row == "[[line]]":
            rows += [f"# above {number}", f"[[line]] # at {number}", f"mine = {number} # own"]
            number += 1
        else:
            rows.append(row)
    before = "# top\ncellar = 3 # left\n" + "\n".join(rows) + "\n# end\n"
    after = render(new, before.encode()).decode()
    assert "# top\ncellar = 3 # left\n" in after
    tables = parse(after, "dip.toml")["line"]
    ids = [line.id for line in new.recipe.lines]
    for number, line in enumerate(old.recipe.lines):
        marks = f"# above {number}\n[[line]] # at {number}\nmine = {number} # own\n"
        stays = line.id in ids
        assert (marks in after) is stays
        if stays:
            assert tables[ids.index(line.id)]["mine"] == number


def test_a_layout_that_must_be_set_out_anew_keeps_its_comments_and_keys():
    before = LAYOUTS["holds around a line"]
    old = document_from(parse(before, "dip.toml"), Path("dip.toml"))
    lock = LineHold(line="garlic", tolerance=0.0)
    new = replace(old, brief=replace(old.brief, holds=(lock, *old.brief.holds[::-1])))
    assert not _says(parse(edited(before, new), "dip.toml"), new)
    after = render(new, before.encode()).decode()
    for mark in ("# top", "# of all", "# between", "# as it is", "shelf = 9", "mine = 3"):
        assert mark in after
    assert document_from(parse(after, "dip.toml"), new.path) == new


@pytest.mark.parametrize("lost", ["cellar", "origin", "mood", "asked_by"])
def test_the_last_look_before_saving_misses_no_key_that_is_not_ours(lost):
    before = parse(DIP, "dip.toml")
    assert keeps_unknown(before, parse(DIP.replace(" = 320", " = 1"), "dip.toml"))
    assert not keeps_unknown(before, parse(DIP.replace(f"{lost} = ", "other = "), "dip.toml"))


def test_a_document_that_has_not_changed_leaves_every_byte(dip):
    write_document(dip)
    assert dip.path.read_bytes() == DIP.encode()


def test_only_the_amount_that_changed_is_written_anew(dip):
    write_document(with_line(dip, "onion-yellow", grams=240.5))
    assert dip.path.read_text() == DIP.replace("grams = 320 #", "grams = 240.5 #")


def test_only_the_step_that_changed_is_written_anew(dip):
    recipe = replace(dip.recipe, steps=("Slice.", "Fry gently.", "Stir."))
    write_document(replace(dip, recipe=recipe))
    expected = DIP.replace('  "Fry.",\n', '  "Fry gently.",\n  "Stir.",\n')
    assert dip.path.read_text() == expected


def test_only_the_goal_that_changed_is_written_anew(dip):
    goal = Goal(nutrient="energy_kcal", at_most=110.0)
    write_document(replace(dip, brief=dip.brief.with_goal(goal)))
    assert dip.path.read_text() == DIP.replace("at_most = 130 #", "at_most = 110 #")


def test_a_line_takes_its_comments_and_keys_to_its_new_place(dip):
    turned = replace(dip.recipe, lines=dip.recipe.lines[::-1])
    write_document(replace(dip, recipe=turned))
    head, onion, cream, rest = split(DIP)
    assert dip.path.read_text() == head + cream + onion + rest


def test_a_line_that_is_removed_takes_only_its_own_comments(dip):
    recipe = replace(dip.recipe, lines=dip.recipe.lines[1:])
    write_document(replace(dip, recipe=recipe))
    head, _, cream, rest = split(DIP)
    assert dip.path.read_text() == head + cream + rest


def test_a_line_that_is_added_stands_between_the_others(dip):
    onion, cream = dip.recipe.lines
    salt = Line(id="salt", food="salt", amount="1 tsp", role="salt")
    write_document(replace(dip, recipe=replace(dip.recipe, lines=(onion, salt, cream))))
    head, onion_text, cream_text, rest = split(DIP)
    new = '\n[[line]]\nfood = "salt"\namount = "1 tsp"\nrole = "salt"\n'
    assert dip.path.read_text() == head + onion_text + new + cream_text + rest


def split(text):
    """Return what stands before the lines, the two lines, and the rest."""
    one, two, three = (text.index(f"\n# {mark}") for mark in ("The onions", "All", "What"))
    return text[:one], text[one:two], text[two:three], text[three:]


def test_the_comment_at_the_end_stays_when_the_last_table_goes(dip):
    write_document(replace(dip, brief=replace(dip.brief, holds=())))
    text = dip.path.read_text()
    assert text.endswith('asked_by = "editor"\n\n# The end\n')
    assert read_document(dip.path).brief.holds == ()


def test_keys_and_comments_that_are_not_ours_survive_a_change_of_everything(dip):
    brief = replace(
        dip.brief,
        aim="Another",
        holds=(LineHold(line="salt", least=1.0), BatchHold(tolerance=0.1)),
        swaps=(Swap(food="yogurt-plain", stands_in_for=("sour-cream",)),),
    )
    lines = (
        Line(id="salt", food="salt", grams=4.0),
        *(replace(line, amount="3 cups", grams=None, prep="cold") for line in dip.recipe.lines),
    )
    recipe = replace(dip.recipe, title="New", servings=10.0, steps=(), lines=lines, note="a\nb")
    write_document(replace(dip, recipe=recipe, brief=brief))
    text = dip.path.read_text()
    for kept in (
        "# Ours, made up",
        "# the shape",
        "# small ones",
        'cellar = "left shelf"',
        '# The onions\n[[line]]\nfood = "onion-yellow"',
        'origin = "garden"',
        '# All that binds\n[[line]]\nfood = "sour-cream"',
        '[line.bought]\nwhere = "market"',
        "# What is wanted\n[brief]",
        "mood = [1, 2]",
        'asked_by = "editor"',
        "# a little",
        "# The end",
    ):
        assert kept in text


def test_a_brief_is_added_to_a_file_without_one(tmp_path):
    path = tmp_path / "dip.toml"
    path.write_text(DIP[: DIP.index("\n# What")])
    document = read_document(path)
    write_document(document)
    assert path.read_text().startswith(DIP[: DIP.index("\n# What")] + "\n[brief]\n")
    assert read_document(path) == document


def test_an_empty_brief_is_not_taken_for_a_missing_one(dip):
    empty = replace(dip, brief=replace(dip.brief, aim="", goals=(), holds=()))
    write_document(empty)
    assert read_document(dip.path).brief == empty.brief
    bare = replace(empty, path=dip.path.with_name("bare.toml"))
    write_document(bare)
    assert "\n[brief]\n" in bare.path.read_text()


def test_ends_of_rows_and_the_byte_order_mark_are_kept(dip):
    before = b"\xef\xbb\xbf" + DIP.replace("\n", "\r\n").encode()
    dip.path.write_bytes(before)
    write_document(with_line(dip, "onion-yellow", grams=240.0, prep="thin"))
    after = dip.path.read_bytes()
    assert after.startswith(b"\xef\xbb\xbf# Ours")
    assert after.count(b"\n") == after.count(b"\r\n") == before.count(b"\n") + 1


def test_an_id_is_written_only_where_the_food_would_not_give_it(dip):
    two = (
        Line(id="garlic", food="garlic", grams=1.0),
        Line(id="garlic-2", food="garlic", grams=2.0),
    )
    path = dip.path.with_name("two.toml")
    document = replace(dip, path=path, recipe=replace(dip.recipe, lines=two))
    write_document(document)
    assert "id =" not in path.read_text()
    write_document(replace(document, recipe=replace(dip.recipe, lines=two[::-1])))
    assert 'id = "garlic-2"' in path.read_text()
    assert read_document(path).recipe.lines == two[::-1]


def test_an_id_that_another_line_would_take_over_is_written_too(dip):
    # With its own id written the first line leaves "garlic" to the second, which is "garlic-2".
    lines = (
        Line(id="paste", food="garlic", grams=1.0),
        Line(id="garlic-2", food="garlic", grams=2.0),
    )
    document = replace(dip, recipe=replace(dip.recipe, lines=lines))
    write_document(document)
    assert read_document(dip.path).recipe.lines == lines


def test_a_last_row_without_an_end_gets_one(dip):
    dip.path.write_text(DIP.removesuffix("\n# The end\n").rstrip("\n"))
    assert not dip.path.read_text().endswith("\n")
    write_document(with_line(dip, "onion-yellow", grams=240.0))
    assert dip.path.read_text().endswith("a little\n")
