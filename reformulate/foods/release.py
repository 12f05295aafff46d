"""Reading a user's own download of the Standard Reference, abbreviated file.

Two layouts hold the same 53 fields: the comma form, whose first line names the columns, and the
original ASCII form, where ``^`` separates fields, ``~`` quotes text and no line names anything.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Final

import numpy as np

from reformulate.errors import BadInput, FileProblem, Problem, shortened
from reformulate.foods.nutrients import NUTRIENTS
from reformulate.foods.plain_text import sentence_case
from reformulate.foods.release_measures import household_measures
from reformulate.foods.table import Food, FoodTable

COLUMNS: Final[Mapping[str, str | None]] = {
    "NDB_No": None,
    "Shrt_Desc": None,
    "Water_(g)": "water_g",
    "Energ_Kcal": "energy_kcal",
    "Protein_(g)": "protein_g",
    "Lipid_Tot_(g)": "fat_g",
    "Ash_(g)": None,
    "Carbohydrt_(g)": "carbohydrate_g",
    "Fiber_TD_(g)": "fibre_g",
    "Sugar_Tot_(g)": "sugars_g",
    "Calcium_(mg)": "calcium_mg",
    "Iron_(mg)": "iron_mg",
    "Magnesium_(mg)": "magnesium_mg",
    "Phosphorus_(mg)": "phosphorus_mg",
    "Potassium_(mg)": "potassium_mg",
    "Sodium_(mg)": "sodium_mg",
    "Zinc_(mg)": "zinc_mg",
    "Copper_mg)": None,
    "Manganese_(mg)": None,
    "Selenium_(µg)": None,
    "Vit_C_(mg)": "vitamin_c_mg",
    "Thiamin_(mg)": "thiamin_mg",
    "Riboflavin_(mg)": "riboflavin_mg",
    "Niacin_(mg)": "niacin_mg",
    "Panto_Acid_mg)": None,
    "Vit_B6_(mg)": "vitamin_b6_mg",
    "Folate_Tot_(µg)": None,
    "Folic_Acid_(µg)": None,
    "Food_Folate_(µg)": None,
    "Folate_DFE_(µg)": "folate_ug",
    "Choline_Tot_ (mg)": None,
    "Vit_B12_(µg)": "vitamin_b12_ug",
    "Vit_A_IU": None,
    "Vit_A_RAE": "vitamin_a_ug",
    "Retinol_(µg)": None,
    "Alpha_Carot_(µg)": None,
    "Beta_Carot_(µg)": None,
    "Beta_Crypt_(µg)": None,
    "Lycopene_(µg)": None,
    "Lut+Zea_ (µg)": None,
    "Vit_E_(mg)": "vitamin_e_mg",
    "Vit_D_µg": "vitamin_d_ug",
    "Vit_D_IU": None,
    "Vit_K_(µg)": "vitamin_k_ug",
    "FA_Sat_(g)": "saturated_g",
    "FA_Mono_(g)": "monounsaturated_g",
    "FA_Poly_(g)": "polyunsaturated_g",
    "Cholestrl_(mg)": "cholesterol_mg",
    "GmWt_1": None,
    "GmWt_Desc1": None,
    "GmWt_2": None,
    "GmWt_Desc2": None,
    "Refuse_Pct": None,
}
"""Our nutrient of each column, by its published name and in the order of the ASCII form; None where
we use no figure."""
_LAYOUT = (
    "Choose the abbreviated file of the Standard Reference: comma-separated with a line of "
    "column names, or the original ASCII file with ^ between the fields."
)
_MOST_SHOWN = 20  # problems listed before "and more"

Record = dict[str, str]


def read_release(path: Path | str) -> FoodTable:
    """Read the abbreviated file of a Standard Reference release.

    Parameters
    ----------
    path
        The file, UTF-8 or Latin-1.

    Returns
    -------
    FoodTable
        One food per row, under ``ndb:`` and its number. A blank is unknown; so are added sugars,
        which no release gives.

    Raises
    ------
    FileProblem
        The file cannot be read as text.
    BadInput
        The layout is not that of the abbreviated file, or rows are broken: every problem found,
        with its line.
    """
    path = Path(path)
    lines = _text(path).splitlines()
    if not any(line.strip() for line in lines):
        raise FileProblem(Problem(where=str(path), what="The file is empty.", fix=_LAYOUT))
    in_ascii = lines[0].startswith("~")
    columns = list(COLUMNS) if in_ascii else _columns(path, lines[0])
    rows = _caret_rows(lines) if in_ascii else _comma_rows(lines)
    return _table(path, columns, rows)


def _text(path: Path) -> str:
    try:
        raw = path.read_bytes()
    except OSError as error:
        what = f"The file cannot be read ({error.strerror or error})."
        fix = "Check that it exists and that you may open it."
        raise FileProblem(Problem(where=str(path), what=what, fix=fix)) from error
    if b"\0" in raw:
        what = "Found bytes that are not text in UTF-8 or Latin-1."
        fix = "Save it as UTF-8 text; unpack it first if it is an archive or a spreadsheet."
        raise FileProblem(Problem(where=str(path), what=what, fix=fix))
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        return raw.decode("latin-1")


def _columns(path: Path, header: str) -> list[str]:
    """Name the columns of the comma form as published; one that we do not know keeps its name."""
    by_letters = {letters(name): name for name in COLUMNS}
    found = next(csv.reader([header]))
    columns = [by_letters.get(letters(name), name) for name in found]
    missing = [name for name in COLUMNS if name not in columns]
    if missing:
        what = f"Expected the column names of the abbreviated file; missing {', '.join(missing)}."
        if len(missing) == len(COLUMNS):
            what = f"Found “{header[:60]}”, expected column names that start with NDB_No."
        raise BadInput(Problem(where=f"{path}, line 1", what=what, fix=_LAYOUT))
    return columns


def letters(name: str) -> str:
    """Return what all spellings of a column name share: not its brackets, blanks or micro sign."""
    return re.sub(r"[^a-z0-9+]", "", name.lower().replace("µ", "u").replace("μ", "u"))


def _comma_rows(lines: list[str]) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(lines)
    next(reader)
    for row in reader:
        yield reader.line_num, row


def _caret_rows(lines: list[str]) -> Iterator[tuple[int, list[str]]]:
    for number, line in enumerate(lines, 1):
        yield number, [text.strip("~") for text in line.split("^")] if line else []


def _table(path: Path, columns: list[str], rows: Iterable[tuple[int, list[str]]]) -> FoodTable:
    problems: list[Problem] = []
    line_of: dict[str, int] = {}
    records: list[Record] = []
    for line, row in rows:
        if not row:
            continue
        where = f"{path}, line {line}"
        if len(row) != len(columns):
            what = f"Found {len(row)} fields, expected {len(columns)}."
            fix = "The file is cut short or altered: download it again."
            problems.append(Problem(where=where, what=what, fix=fix))
            continue
        record = dict(zip(columns, row, strict=True))
        record["NDB_No"] = ndb = record["NDB_No"].strip().zfill(5)
        faults = list(_faults(record))
        if ndb in line_of:
            faults.append(f"NDB_No: found {ndb} again, first on line {line_of[ndb]}.")
        line_of.setdefault(ndb, line)
        fix = "Download the file again, or correct this line."
        problems += [Problem(where=where, what=fault, fix=fix) for fault in faults]
        records.append(record)
    if not records and not problems:
        problems = [Problem(where=str(path), what="There are no foods in the file.", fix=_LAYOUT)]
    if problems:
        raise BadInput(shortened(problems, str(path), _MOST_SHOWN))
    return _assembled(records, path.name)


def _faults(record: Record) -> Iterator[str]:
    if not re.fullmatch(r"\d{5}", record["NDB_No"]):
        yield f"NDB_No: found “{record['NDB_No']}”, expected up to five digits."
    numbers = [name for name, key in COLUMNS.items() if key] + ["GmWt_1", "GmWt_2", "Refuse_Pct"]
    for name in numbers:
        text = record[name]
        if text and not re.fullmatch(r"\s*\d*\.?\d+(?:[eE]-?\d+)?\s*", text):
            yield f"{name}: found “{text}”, expected a number or nothing."
        elif name == "Refuse_Pct" and float(text or 0) > 100:
            yield f"{name}: found {text}, expected at most 100."


def _assembled(records: list[Record], release: str) -> FoodTable:
    name_of = {key: name for name, key in COLUMNS.items() if key}
    names = [name_of.get(nutrient.key) for nutrient in NUTRIENTS]
    texts = [[record[name] if name else "" for name in names] for record in records]
    return FoodTable(
        foods=tuple(_food(record, release) for record in records),
        values=np.array([[float(text or 0) for text in row] for row in texts]),
        known=np.array([[text != "" for text in row] for row in texts]),
    )


def _food(record: Record, release: str) -> Food:
    ndb = record["NDB_No"]
    return Food(
        key=f"ndb:{ndb}",
        name=sentence_case(record["Shrt_Desc"]),
        group="From a release",
        source=f"NDB {ndb}, {release}",
        ndb=ndb,
        edible_share=1 - float(record["Refuse_Pct"] or 0) / 100,
        measures=household_measures(
            [(record[f"GmWt_{n}"], record[f"GmWt_Desc{n}"]) for n in (1, 2)],
            source=f"{release}, household weight",
        ),
    )
