"""Reading a user's own download of the Standard Reference."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from reformulate.errors import BadInput, FileProblem
from reformulate.foods import INDEX, food_table, read_release
from tests.foods.food_files import shared_file

HEADER = (
    "NDB_No,Shrt_Desc,Water_(g),Energ_Kcal,Protein_(g),Lipid_Tot_(g),Ash_(g),Carbohydrt_(g),"
    "Fiber_TD_(g),Sugar_Tot_(g),Calcium_(mg),Iron_(mg),Magnesium_(mg),Phosphorus_(mg),"
    "Potassium_(mg),Sodium_(mg),Zinc_(mg),Copper_mg),Manganese_(mg),Selenium_(µg),Vit_C_(mg),"
    "Thiamin_(mg),Riboflavin_(mg),Niacin_(mg),Panto_Acid_mg),Vit_B6_(mg),Folate_Tot_(µg),"
    "Folic_Acid_(µg),Food_Folate_(µg),Folate_DFE_(µg),Choline_Tot_ (mg),Vit_B12_(µg),Vit_A_IU,"
    "Vit_A_RAE,Retinol_(µg),Alpha_Carot_(µg),Beta_Carot_(µg),Beta_Crypt_(µg),Lycopene_(µg),"
    "Lut+Zea_ (µg),Vit_E_(mg),Vit_D_µg,Vit_D_IU,Vit_K_(µg),FA_Sat_(g),FA_Mono_(g),FA_Poly_(g),"
    "Cholestrl_(mg),GmWt_1,GmWt_Desc1,GmWt_2,GmWt_Desc2,Refuse_Pct"
)
COLUMNS = HEADER.split(",")


def row(ndb: str = "11282", name: str = "ONIONS,RAW", **figures: str) -> dict[str, str]:
    """A row of the release, blank but for what is given; ``Water`` stands for ``Water_(g)``."""
    found = dict.fromkeys(COLUMNS, "") | {"NDB_No": ndb, "Shrt_Desc": name}
    for start, figure in figures.items():
        (column,) = [name for name in COLUMNS if name.startswith(start)]
        found[column] = figure
    return found


def comma_form(*rows: dict[str, str], columns: list[str] = COLUMNS) -> str:
    text = io.StringIO()
    writer = csv.DictWriter(text, columns, lineterminator="\r\n")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def caret_form(*rows: dict[str, str]) -> str:
    quoted = {"NDB_No", "Shrt_Desc", "GmWt_Desc1", "GmWt_Desc2"}
    lines = [
        "^".join(f"~{each[name]}~" if name in quoted else each[name] for name in COLUMNS)
        for each in rows
    ]
    return "".join(f"{line}\r\n" for line in lines)


def saved(folder: Path, text: str | bytes, name: str = "abbrev.csv") -> Path:
    path = folder / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return path


def problems_of(path: Path) -> str:
    with pytest.raises(BadInput) as caught:
        read_release(path)
    assert all(problem.where and problem.what for problem in caught.value.problems)
    return str(caught.value)


def test_release_28_agrees_with_the_programs_own_table() -> None:
    release, ours = read_release(shared_file("sr28/abbrev.csv")), food_table()
    assert len(release) == 8790
    theirs = np.array([release.index(f"ndb:{food.ndb}") for food in ours if food.ndb])
    rows = [ours.index(food.key) for food in ours if food.ndb]
    figures = [column for key, column in INDEX.items() if key != "added_sugars_g"]
    assert np.array_equal(release.values[theirs][:, figures], ours.values[rows][:, figures])
    assert np.array_equal(release.known[theirs][:, figures], ours.known[rows][:, figures])
    assert not release.known[:, INDEX["added_sugars_g"]].any()
    for food in ours:
        if food.ndb:
            edible = release.food(f"ndb:{food.ndb}").edible_share
            assert edible == pytest.approx(food.edible_share)


def test_release_26_is_read_in_its_ascii_form() -> None:
    release = read_release(shared_file("sr26/ABBREV.txt"))
    assert len(release) == 8463
    onion = release.food("ndb:11282")
    assert onion.name == "Onions, raw"
    assert [(m.unit, m.qualifier, m.grams) for m in onion.measures] == [
        ("cup", "chopped", 160.0),
        ("cup", "sliced", 115.0),
    ]
    assert release.values[release.index("ndb:11282"), INDEX["energy_kcal"]] == 40


def test_a_release_can_be_merged_behind_the_programs_own_table() -> None:
    ours = food_table()
    merged = ours.merged(read_release(shared_file("sr28/abbrev.csv")))
    assert merged.foods[: len(ours)] == ours.foods
    assert merged.food("ndb:11282").key == "onion-yellow"
    assert merged.food("ndb:15033").name == "Haddock, raw"
    assert 8790 < len(merged) < 8790 + len(ours)


def test_a_row_becomes_a_food(tmp_path: Path) -> None:
    text = comma_form(
        row(
            name="ONIONS,RAW, CHOPPED",
            Water="89.11",
            Energ="40",
            Vit_K="0",
            Refuse="10",
            GmWt_1="320",
            GmWt_Desc1="2 cups,  chopped",
            GmWt_2="28.35",
            GmWt_Desc2="1 oz",
        )
    )
    table = read_release(saved(tmp_path, text))
    (food,) = table.foods
    assert (food.key, food.name, food.ndb) == ("ndb:11282", "Onions, raw, chopped", "11282")
    assert food.source == "NDB 11282, abbrev.csv"
    assert food.edible_share == pytest.approx(0.9)
    (measure,) = food.measures
    assert (measure.unit, measure.qualifier, measure.grams) == ("cup", "chopped", 160)
    assert table.values[0, INDEX["water_g"]] == 89.11
    known = {key for key, column in INDEX.items() if table.known[0, column]}
    assert known == {"water_g", "energy_kcal", "vitamin_k_ug"}


@pytest.mark.parametrize(
    ("wording", "unit", "qualifier", "grams"),
    [
        ("1 cup", "cup", "", 60.0),
        (".5 cup", "cup", "", 120.0),
        ("1/2 cup, sliced", "cup", "sliced", 120.0),
        ("2 tablespoons", "tbsp", "", 30.0),
        ("1 fl oz", "tbsp", "", 30.0),
        ("3 cloves", "clove", "", 20.0),
        ("1 package,  (10 oz)", "pack", "(10 oz)", 60.0),
        ("5 leaves", "leaf", "", 12.0),
        ('1 pat,  (1" sq)', "piece", 'pat, (1" sq)', 60.0),
        ("1 medium", "piece", "medium", 60.0),
    ],
)
def test_household_weights_become_measures(
    tmp_path: Path, wording: str, unit: str, qualifier: str, grams: float
) -> None:
    text = comma_form(row(GmWt_1="60", GmWt_Desc1=wording))
    (measure,) = read_release(saved(tmp_path, text)).foods[0].measures
    assert (measure.unit, measure.qualifier) == (unit, qualifier)
    assert measure.grams == pytest.approx(grams)


@pytest.mark.parametrize("wording", ["3 oz", "1 lb", "", "a cup", "0 cup"])
def test_household_weights_that_tell_nothing_are_left_out(tmp_path: Path, wording: str) -> None:
    text = comma_form(row(GmWt_1="60", GmWt_Desc1=wording))
    assert read_release(saved(tmp_path, text)).foods[0].measures == ()


figure = st.one_of(st.just(""), st.decimals(0, 900, places=3).map(str))


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(figure, min_size=4, max_size=4))
def test_both_forms_give_the_same_figures(tmp_path: Path, figures: list[str]) -> None:
    names = ("Water", "Sodium", "Vit_K", "FA_Sat")
    each = row(**dict(zip(names, figures, strict=True)))
    commas = read_release(saved(tmp_path, comma_form(each)))
    carets = read_release(saved(tmp_path, caret_form(each), "ABBREV.txt"))
    assert np.array_equal(commas.values, carets.values)
    assert np.array_equal(commas.known, carets.known)
    keys = ("water_g", "sodium_mg", "vitamin_k_ug", "saturated_g")
    for key, text in zip(keys, figures, strict=True):
        assert commas.known[0, INDEX[key]] == (text != "")
        assert commas.values[0, INDEX[key]] == float(text or 0)


def test_columns_may_come_in_another_order_and_with_more_of_them(tmp_path: Path) -> None:
    columns = [*reversed(COLUMNS), "Remark"]
    each = row(Water="89.11") | {"Remark": "mine"}
    table = read_release(saved(tmp_path, comma_form(each, columns=columns)))
    assert table.values[0, INDEX["water_g"]] == 89.11


def test_a_spreadsheet_that_dropped_a_leading_zero_is_understood(tmp_path: Path) -> None:
    table = read_release(saved(tmp_path, comma_form(row(ndb="1017"))))
    assert table.foods[0].key == "ndb:01017"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "latin-1"])
def test_the_usual_encodings_are_read(tmp_path: Path, encoding: str) -> None:
    text = comma_form(row(name="JALAPEÑO", Vit_K="1.5")).encode(encoding)
    table = read_release(saved(tmp_path, text))
    assert table.foods[0].name == "Jalapeño"
    assert table.values[0, INDEX["vitamin_k_ug"]] == 1.5


def test_another_encoding_is_refused_with_the_way_out(tmp_path: Path) -> None:
    path = saved(tmp_path, comma_form(row()).encode("utf-16"))
    with pytest.raises(FileProblem, match="UTF-8"):
        read_release(path)


def test_a_missing_file_is_a_file_problem(tmp_path: Path) -> None:
    with pytest.raises(FileProblem, match="cannot be read"):
        read_release(tmp_path / "nothing.csv")


def test_an_empty_file_is_a_file_problem(tmp_path: Path) -> None:
    with pytest.raises(FileProblem, match="empty"):
        read_release(saved(tmp_path, "\r\n"))


def test_a_header_alone_has_no_foods(tmp_path: Path) -> None:
    assert "no foods" in problems_of(saved(tmp_path, comma_form()))


def test_another_layout_says_what_was_found_and_expected(tmp_path: Path) -> None:
    text = problems_of(saved(tmp_path, "fdc_id,description\r\n1,Onion\r\n"))
    assert "line 1" in text
    assert "fdc_id,description" in text
    assert "NDB_No" in text


def test_missing_columns_are_all_named(tmp_path: Path) -> None:
    columns = [name for name in COLUMNS if not name.startswith(("Vit_K", "Refuse"))]
    each = {name: text for name, text in row().items() if name in columns}
    text = problems_of(saved(tmp_path, comma_form(each, columns=columns)))
    assert "Vit_K_(µg)" in text
    assert "Refuse_Pct" in text
    assert "Water" not in text


@pytest.mark.parametrize("form", [comma_form, caret_form])
def test_a_file_cut_short_names_its_last_line(tmp_path: Path, form: object) -> None:
    text = form(row("00001"), row("00002"), row("00003"))  # type: ignore[operator]
    last = 4 if form is comma_form else 3
    found = problems_of(saved(tmp_path, text.rstrip("\r\n")[:-20]))
    assert f"line {last}" in found
    assert "expected 53" in found


def test_every_broken_field_is_reported_with_its_line(tmp_path: Path) -> None:
    rows = [row("00001", Water="wet"), row("00002", Sodium="-4"), row("no number")]
    text = problems_of(saved(tmp_path, comma_form(*rows, row("00001", Refuse="140"))))
    for expected in (
        "line 2: Water_(g): found “wet”",
        "line 3: Sodium_(mg): found “-4”",
        "line 4: NDB_No: found “no number”",
        "line 5: Refuse_Pct: found 140",
        "line 5: NDB_No: found 00001 again, first on line 2",
    ):
        assert expected in text


def test_a_file_full_of_faults_is_summed_up(tmp_path: Path) -> None:
    rows = [row(f"{n:05}", Water="wet") for n in range(60)]
    with pytest.raises(BadInput) as caught:
        read_release(saved(tmp_path, comma_form(*rows)))
    assert len(caught.value.problems) == 21
    assert "40 more" in caught.value.problems[-1].what
