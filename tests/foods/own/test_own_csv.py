"""A user's own table: every way spreadsheets write one, every fault at once, hostile bytes."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from reformulate.errors import BadInput, FileProblem
from reformulate.foods import NUTRIENTS, food_table
from reformulate.foods.own import (
    STATABLE,
    foods_from_csv,
    foods_from_csv_bytes,
    own_food_findings,
    own_table,
)
from reformulate.foods.own.csv_columns import column_named
from reformulate.foods.own.csv_text import LARGEST_TABLE
from reformulate.foods.own.from_csv import MOST_FOODS, MOST_SHOWN
from tests.foods.own.labels import problems_of

PLAIN = """\
name,key,Energy (kcal),Fat,Saturates,"Sodium, g",also called,supplier
Labneh,own:labneh,154,11.4,7.2,0.25,strained yogurt;quark,dairy
"Dukkah, mild",,,45,,trace,,spice shop
"""


def read(text, name="mine.csv", encoding="utf-8", **how):
    return foods_from_csv_bytes(text.encode(encoding), name, **how)


def figures(food):
    return {each.nutrient: each.value for each in food.per_100g}


def problems(text, **how):
    with pytest.raises(BadInput) as caught:
        read(text, **how)
    return [str(problem) for problem in caught.value.problems]


def test_a_plain_table_is_read_and_blank_is_unknown_not_zero():
    found = read(PLAIN)
    labneh, dukkah = found.foods
    assert (labneh.key, labneh.name, labneh.words) == (
        "own:labneh",
        "Labneh",
        ("strained yogurt", "quark"),
    )
    assert figures(labneh) == {
        "energy_kcal": 154,
        "fat_g": 11.4,
        "saturated_g": 7.2,
        "sodium_mg": 250,
    }
    assert (dukkah.key, dukkah.name) == ("own:dukkah-mild", "Dukkah, mild")
    assert figures(dukkah) == {"fat_g": 45, "sodium_mg": 0}
    assert [str(note) for note in found.notes] == [
        "mine.csv: These columns were not read: supplier. Head them by a nutrient where they hold one."
    ]


def test_a_table_on_disk_is_read(tmp_path):
    path = tmp_path / "mine.csv"
    path.write_text(PLAIN, encoding="utf-8")
    assert foods_from_csv(path) == read(PLAIN)
    assert read(PLAIN).foods[0].source == "mine.csv"


COMMA_DECIMALS = "name;fat_g;energy_kcal;sodium_mg\nLabneh;11,4;154;1.250\nQuark;0,2;1 067,5;40\n"


@pytest.mark.parametrize("delimiter", [";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-32", "cp1252"])
@pytest.mark.parametrize("ends", ["\n", "\r\n", "\r"])
def test_delimiters_marks_encodings_and_row_ends_make_no_difference(delimiter, encoding, ends):
    text = COMMA_DECIMALS.replace("1 067,5", "167,5").replace(";", delimiter).replace("\n", ends)
    labneh, quark = read(text, encoding=encoding).foods
    assert figures(labneh) == {"fat_g": 11.4, "energy_kcal": 154, "sodium_mg": 1250}
    assert figures(quark) == {"fat_g": 0.2, "energy_kcal": 167.5, "sodium_mg": 40}


def test_commas_as_delimiters_leave_quoted_decimal_commas_alone():
    assert figures(read('name,fat_g\nLabneh,"11,4"\n').foods[0]) == {"fat_g": 11.4}


def test_a_first_row_may_name_the_delimiter_and_rows_keep_their_numbers():
    assert figures(read("sep=;\nname;fat_g\nA;1\n").foods[0]) == {"fat_g": 1}
    assert problems("sep=;\nname;fat_g\nA;much\n")[0].startswith(
        "mine.csv, row 3, column B (fat_g)"
    )


def test_windows_letters_are_read_and_that_is_said():
    found = read("name,fat_g\nCrème fraîche,30\n", encoding="cp1252")
    assert found.foods[0].name == "Crème fraîche"
    assert "Windows-1252" in str(found.notes[0])


def test_kilojoules_salt_and_less_than_are_understood():
    (food,) = read("Food,Energy (kJ),Salt,Fat (g/100g),kcal\nA,1046,0.5,<0.5,\n").foods
    assert figures(food) == pytest.approx({"energy_kcal": 250, "sodium_mg": 200, "fat_g": 0.25})


@pytest.mark.parametrize(
    ("head", "fills", "factor"),
    [
        ("fat_g", "fat_g", 1),
        ("FAT_G", "fat_g", 1),
        ("Total fat", "fat_g", 1),
        ("Fat (g)", "fat_g", 1),
        ("fat, g per 100 g", "fat_g", 1),
        ("Fat [mg]", "fat_g", 0.001),
        ("Sodium (g)", "sodium_mg", 1000),
        ("Sodium", "sodium_mg", 1),
        ("kcal", "energy_kcal", 1),
        ("Calories", "energy_kcal", 1),
        ("Energy kJ", "energy_kj", 1),
        ("of which sugars", "sugars_g", 1),
        ("Dietary fiber (g)", "fibre_g", 1),
        ("Vitamin A, RAE (µg)", "vitamin_a_ug", 1),
        ("Vitamin B12 (mcg)", "vitamin_b12_ug", 1),
        ("Thiamin (B1) [mg]", "thiamin_mg", 1),
        ("Net carbs", "net_carbohydrate_g", 1),
        ("Description", "name", 1),
    ],
)
def test_heads_are_read_as_people_write_them(head, fills, factor):
    found = column_named(head, 0)
    assert (found.fills, found.factor) == (fills, pytest.approx(factor))


def test_every_nutrient_may_be_named_by_key_or_by_its_own_name_and_unit():
    for kind in NUTRIENTS:
        for head in (kind.key, kind.name, f"{kind.name} ({kind.unit})"):
            assert column_named(head, 0).fills == kind.key


@pytest.mark.parametrize("head", ["", "supplier", "price", "ash (g)", "copper_mg", "selenium (µg)"])
def test_heads_that_are_not_ours_are_left_out(head):
    assert column_named(head, 0) is None


def test_everything_wrong_with_a_table_is_said_at_once_and_nothing_is_taken():
    text = (
        "name,key,Protien (g),Fat,Vitamin D (IU),Sodium per serving,Total fat,kcal\n"
        "A,own:a,1,2,3,4,5,900\n"
    )
    assert problems(text) == [
        "mine.csv, row 1, column C (Protien (g)): is not read. Did you mean “protein”?",
        "mine.csv, row 1, column E (Vitamin D (IU)): is in IU, expected µg. Work it out in µg.",
        "mine.csv, row 1, column F (Sodium per serving): is per serving, expected per 100 g. Work it "
        "out per 100 g.",
        "mine.csv, row 1, column G (Total fat): says the same as column D (Fat). Keep one of them.",
    ]
    text = (
        "name,key,fat_g,energy_kcal\n"
        "A,own:a,much,100\n"
        "\n"
        ",own:b,1,3700\n"
        "C,garlic,-1,100\n"
        "D,own:a,1\n"
        "A,,101,100\n"
    )
    assert problems(text) == [
        "mine.csv, row 6: Found 3 cells, expected 4 as in the header. Put cells with a comma in "
        "quotation marks, or part cells by semicolons.",
        "mine.csv, row 2, column C (fat_g): found “much”, expected a number. Leave it blank where "
        "unknown.",
        "mine.csv, row 4, column A (name): is empty. Write what the food is called.",
        "mine.csv, row 4, column D (energy_kcal): found 3700 kcal in 100 g of food, where at most 902 "
        "kcal can be. Check the figure, its unit, and how much it is for.",
        "mine.csv, row 5, column C (fat_g): found “-1”, expected a number. Leave it blank where "
        "unknown.",
        "mine.csv, row 5, column B (key): found “garlic”, expected own: and small words joined by "
        "hyphens. Write own:garlic, for example.",
        "mine.csv, row 7, column C (fat_g): found 101 g in 100 g of food, where at most 100 g can be. "
        "Check the figure, its unit, and how much it is for.",
        "mine.csv, row 7: found the name “A” again, first in row 2. Keep one of them, or tell them "
        "apart.",
    ]


def test_mixed_decimal_marks_are_a_fault_that_names_both_cells():
    text = "name;fat_g;energy_kcal\nA;1,5;100\nB;2;10.25\n"
    assert problems(text)[0] == (
        "mine.csv, row 3, column C (energy_kcal): found “10.25”, while row 2, column B (fat_g) has "
        "“1,5”. Write all decimals with a point, or all with a comma."
    )


def test_a_comma_that_may_mean_two_things_is_asked_about_unless_the_table_tells():
    assert "may part thousands or decimals" in problems("name;sodium_mg\nA;1,234\n")[0]
    assert figures(read("name;sodium_mg;fat_g\nA;1,234;2.5\n").foods[0])["sodium_mg"] == 1234
    assert figures(read("name;sodium_mg;fat_g\nA;1,234;2,5\n").foods[0])["sodium_mg"] == 1.234
    assert figures(read("name;sodium_mg;fat_g\nA;1.234;2,5\n").foods[0])["sodium_mg"] == 1234
    assert figures(read("name;sodium_mg\nA;1.234\n").foods[0])["sodium_mg"] == 1.234


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("a,b\n1,2\n", "names no nutrient"),
        ("name,fat_g\n", "There are no foods below the header."),
        ("fat_g\n3\n", "has no column of names."),
        ('name,fat_g\n"A,1\nB,2\n', "quotation mark that does not close"),
        ("name,fat_g\n" + "A,1\n" * (MOST_FOODS + 1), "has more than 1000 foods."),
        ("name,fat_g" + ",x" * 400 + "\n", "Found 402 cells, expected at most 300."),
        ("name,fat_g\n" + "x" * 200_000 + ",1\n", "cannot be split in cells"),
        ("name,fat_g\nA,1,2\n", "Found 3 cells, expected 2"),
    ],
)
def test_a_table_that_cannot_be_taken_says_why(text, told):
    assert any(told in each for each in problems(text))


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "The file is empty."),
        (b"\xef\xbb\xbf \n", "The file is empty."),
        (b"name,fat_g\nA\x00,1\n", "no text"),
        (b"PK\x03\x04" + bytes(range(256)), "no text"),
        (b"\xff\xfe\x00", "no text in UTF-16"),
        (b"x" * (LARGEST_TABLE + 1), "is larger than 5 MB."),
    ],
)
def test_a_file_that_is_no_table_says_why(data, told):
    with pytest.raises(FileProblem, match=told):
        foods_from_csv_bytes(data, "mine.csv")


def test_a_file_that_is_not_there_or_is_a_folder_says_so(tmp_path):
    for path in (tmp_path / "none.csv", tmp_path, tmp_path / "a\0b"):
        with pytest.raises(FileProblem):
            foods_from_csv(path)


def test_a_line_of_fifty_megabytes_is_refused_without_reading_it(tmp_path):
    path = tmp_path / "long.csv"
    with path.open("wb") as file:
        file.truncate(50_000_000)
    with pytest.raises(FileProblem, match="is larger than 5 MB"):
        foods_from_csv(path)


def test_a_flood_of_faults_is_cut_short_and_counted():
    found = problems("name,fat_g\n" + "".join(f"A{n},x\n" for n in range(500)))
    assert len(found) == MOST_SHOWN + 1
    assert found[-1] == "mine.csv: There are 300 more problems."


def test_marks_that_turn_the_direction_of_writing_do_not_stay_in_names():
    (food,) = read(
        "name,fat_g\n\u202eLab\u0007neh\n\u2066حمص\u2069,3\n".replace("\n\u2066", " \u2066")
    ).foods
    assert food.name == "Lab neh حمص"
    assert food.key == "own:lab-neh-حمص"


def test_foods_that_do_not_agree_with_themselves_are_taken_and_told_of():
    found = read("name,fat_g,saturated_g\nA,2,5\n")
    assert len(found.foods) == 1
    assert "saturated fat" in str(found.notes[0])


def test_keys_already_in_the_set_are_not_given_again():
    assert read("name,fat_g\nA,1\n", taken={"own:a"}).foods[0].key == "own:a-2"


names = st.text(
    st.characters(categories=("L", "N", "P"), exclude_characters='"'), min_size=1, max_size=12
).filter(lambda name: name.strip() and any(c.isalnum() for c in name))


@given(
    st.lists(names, unique_by=str.casefold, min_size=1, max_size=6),
    st.lists(
        st.sampled_from([kind.key for kind in NUTRIENTS]), unique=True, min_size=1, max_size=8
    ),
    st.sampled_from([(",", "."), (";", ","), ("\t", ","), (";", "."), (",", ",")]),
    st.data(),
)
def test_a_table_written_and_read_gives_the_same_figures(foods, keys, style, data):
    delimiter, mark = style
    largest = {"g": 100, "kcal": 900}
    rows = []
    for name in foods:
        amounts = [
            data.draw(st.none() | st.integers(0, 100 * largest.get(STATABLE[key].unit, 1000)))
            for key in keys
        ]
        rows.append((name, [None if each is None else each / 100 for each in amounts]))
    out = io.StringIO()
    writer = csv.writer(out, delimiter=delimiter, lineterminator="\n")
    writer.writerow(["name", *keys])
    for name, amounts in rows:
        # Two decimals always, so that the mark cannot be mistaken.
        writer.writerow(
            [name, *("" if a is None else f"{a:.2f}".replace(".", mark) for a in amounts)]
        )
    found = read(out.getvalue()).foods
    for food, (name, amounts) in zip(found, rows, strict=True):
        assert food.name == " ".join(name.split())
        expected = {k: a for k, a in zip(keys, amounts, strict=True) if a is not None}
        assert figures(food) == pytest.approx(expected)
    assert len(own_table(found)) == len(rows)


SHARDS = [
    b",",
    b";",
    b"\t",
    b'"',
    b"\n",
    b"\r",
    b"name",
    b"fat_g",
    b"<",
    b"1.5",
    b"1,5",
    b"\xff",
    b"\xef\xbb\xbf",
]


@given(st.binary(max_size=200) | st.lists(st.sampled_from(SHARDS), max_size=40).map(b"".join))
@example(b"sep=\n")
@example(b'sep="\nname"fat_g\n')
@example(b"sep=\r\nname\rfat_g")
@example(b'name,fat_g\n"')
@example(b"name,fat_g\nA,1e99\n")
@example("name,fat_g\nA,\u0661\u0662\n".encode())
@example(b"name,fat_g\nA,=1+1\n")
@example(b"name,fat_g\nA,nan\nB,inf\n")
def test_any_bytes_are_read_or_refused_in_words(data):
    told = problems_of(lambda: own_table(foods_from_csv_bytes(data, "mine.csv").foods))
    assert all("mine.csv" in problem.where and problem.what for problem in told)


@given(st.data())
def test_a_table_changed_anywhere_is_read_or_refused_in_words(data):
    whole = PLAIN.encode()
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(whole)))
        end = data.draw(st.integers(at, min(len(whole), at + 8)))
        whole = (
            whole[:at] + data.draw(st.sampled_from(SHARDS) | st.binary(max_size=3)) + whole[end:]
        )
    told = problems_of(lambda: own_table(foods_from_csv_bytes(whole, "mine.csv").foods))
    assert all("mine.csv" in problem.where and problem.what for problem in told)


def test_of_real_foods_the_cross_check_finds_alcohol_vinegar_and_hardly_any_other():
    """Every food of the program's table, figures of the Standard Reference, read as a user's own."""
    table = food_table()
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(["name", *(kind.key for kind in NUTRIENTS)])
    for row, food in enumerate(table):
        cells = [
            f"{value:g}" if known else ""
            for value, known in zip(table.values[row], table.known[row], strict=True)
        ]
        writer.writerow([f"{food.name} {row}", *cells])
    found = read(out.getvalue()).foods
    told = [table.foods[row].name for row, food in enumerate(found) if own_food_findings(food)]
    assert len(found) == len(table)
    assert "Spirits, 40 % alcohol" in told
    acids = ("Spirits", "Wine", "Beer", "Vinegar", "Vanilla")
    others = [name for name in told if not name.startswith(acids)]
    assert len(others) <= 0.01 * len(table), others
