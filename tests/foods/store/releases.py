"""Small releases in the published layouts, with invented foods, and stores to import them into."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import zipfile
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest

from reformulate.errors import BadInput
from reformulate.foods import INDEX
from reformulate.foods.store import FoodStore, Imported, import_release
from tests.foods.food_files import shared_file

__all__ = ["shared_file"]

ABBREV_COLUMNS = 53
ENERGY_AT, GRAMS_AT, REFUSE_AT = 3, 48, 52
"""Fields of the abbreviated file."""

FOOD = ("fdc_id", "data_type", "description", "food_category_id", "publication_date")
AMOUNT = ("id", "fdc_id", "nutrient_id", "amount", "data_points", "derivation_id")
NUTRIENT = ("id", "name", "unit_name", "nutrient_nbr", "rank")
PORTION = (
    *("id", "fdc_id", "seq_num", "amount", "measure_unit_id", "portion_description"),
    *("modifier", "gram_weight"),
)
LABEL = (
    *("fdc_id", "brand_owner", "brand_name", "serving_size", "serving_size_unit"),
    *("household_serving_fulltext", "branded_food_category"),
)


def abbreviated(ndb: str, name: str = "DIP,PLAIN", **fields: str) -> str:
    """A row of the ASCII form; ``at3="40"`` sets field 3."""
    texts = [f"~{ndb}~", f"~{name}~"] + [""] * (ABBREV_COLUMNS - 2)
    for key, text in fields.items():
        texts[int(key.removeprefix("at"))] = text
    return "^".join(texts) + "\r\n"


def described(ndb: str, name: str, group: str = "0100", common: str = "", refuse: str = "") -> str:
    return f"~{ndb}~^~{group}~^~{name}~^~SHORT~^~{common}~^~~^~Y~^~~^{refuse}^~~^6.38^4.27^8.79^3.87\r\n"


def written(folder: Path, name: str, text: str | bytes) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return path


def table(columns: Sequence[str], rows: Iterable[Mapping[str, object]]) -> str:
    """Rows as the release writes them: all in quotes, blanks where nothing is given."""
    text = io.StringIO()
    writer = csv.DictWriter(
        text, columns, restval="", extrasaction="ignore", quoting=csv.QUOTE_ALL, lineterminator="\n"
    )
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def food(
    fdc_id: int, description: str = "Dip, plain", kind: str = "sr_legacy_food"
) -> dict[str, Any]:
    return {"fdc_id": fdc_id, "data_type": kind, "description": description}


def amount(fdc_id: int, nutrient_id: object, value: object) -> dict[str, Any]:
    return {"id": 1, "fdc_id": fdc_id, "nutrient_id": nutrient_id, "amount": value}


def csv_folder(
    folder: Path,
    foods: Iterable[Mapping[str, object]],
    amounts: Iterable[Mapping[str, object]],
    **others: str,
) -> Path:
    """A folder with ``food.csv``, ``food_nutrient.csv`` and ``others`` by name."""
    written(folder, "food.csv", table(FOOD, foods))
    written(folder, "food_nutrient.csv", table(AMOUNT, amounts))
    for name, text in others.items():
        written(folder, f"{name}.csv", text)
    return folder


def json_food(fdc_id: int, description: str = "Dip, plain", **more: Any) -> dict[str, Any]:
    return {
        "fdcId": fdc_id,
        "dataType": "Foundation",
        "description": description,
        "foodNutrients": [json_amount(1008, 100.0)],
    } | more


def json_amount(component: int, value: float | None, unit: str | None = None) -> dict[str, Any]:
    nutrient = {"id": component} | ({"unitName": unit} if unit else {})
    return {"nutrient": nutrient, "amount": value}


def json_file(folder: Path, *foods: dict[str, Any], name: str = "foods.json") -> Path:
    return written(folder, name, json.dumps({"FoundationFoods": list(foods)}))


def zipped(path: Path, files: Mapping[str, str | bytes]) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return path


def imported(download: Path, store: Path, **options: Any) -> Imported:
    found = import_release(download, store, **options)
    assert found is not None
    return found


def figure(store: Path, key: str, nutrient: str) -> float | None:
    """One figure of a food in the store; None where it is unknown."""
    with FoodStore.open(store) as opened:
        found = opened.table([key])
    column = INDEX[nutrient]
    return float(found.values[0, column]) if found.known[0, column] else None


def names(store: Path) -> list[str]:
    with FoodStore.open(store) as opened:
        return sorted(hit.name for hit in opened.search("", 1000))


def digest(store: Path) -> str:
    return hashlib.sha256(store.read_bytes()).hexdigest()


def refused(download: Path, store: Path, **options: Any) -> str:
    """What the import of a broken download says; every part of it must say what to do."""
    with pytest.raises(BadInput) as caught:
        import_release(download, store, **options)
    for problem in caught.value.problems:
        assert problem.where
        assert problem.what
        assert problem.fix
    return str(caught.value)
