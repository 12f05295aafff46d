"""Bring the figures of table.csv up to a release of the Standard Reference.

For maintainers, run from the root of the repository with the release's abbreviated file in its
comma form::

    python tests/foods/refresh_table.py path/to/abbrev.csv           lists what would change
    python tests/foods/refresh_table.py path/to/abbrev.csv --write   and changes it

To add a food, write a line with key, name, group, words and NDB number, leave the rest blank, and
run this with ``--write``. Added sugars are in no release: they stay as they are, and the line of a
new food must say 0 (no sweetener in it), the sugars (a sweetener) or nothing (unknown).
Rows without an NDB number are left alone.
"""

from __future__ import annotations

import csv
import io
import sys
from pathlib import Path

TABLE = Path(__file__).resolve().parents[2] / "reformulate" / "foods" / "table.csv"

RELEASE_COLUMN = {
    "water_g": "Water_(g)",
    "energy_kcal": "Energ_Kcal",
    "protein_g": "Protein_(g)",
    "fat_g": "Lipid_Tot_(g)",
    "saturated_g": "FA_Sat_(g)",
    "monounsaturated_g": "FA_Mono_(g)",
    "polyunsaturated_g": "FA_Poly_(g)",
    "cholesterol_mg": "Cholestrl_(mg)",
    "carbohydrate_g": "Carbohydrt_(g)",
    "fibre_g": "Fiber_TD_(g)",
    "sugars_g": "Sugar_Tot_(g)",
    "sodium_mg": "Sodium_(mg)",
    "potassium_mg": "Potassium_(mg)",
    "calcium_mg": "Calcium_(mg)",
    "iron_mg": "Iron_(mg)",
    "magnesium_mg": "Magnesium_(mg)",
    "phosphorus_mg": "Phosphorus_(mg)",
    "zinc_mg": "Zinc_(mg)",
    "vitamin_a_ug": "Vit_A_RAE",
    "vitamin_c_mg": "Vit_C_(mg)",
    "vitamin_d_ug": "Vit_D_µg",
    "vitamin_e_mg": "Vit_E_(mg)",
    "vitamin_k_ug": "Vit_K_(µg)",
    "thiamin_mg": "Thiamin_(mg)",
    "riboflavin_mg": "Riboflavin_(mg)",
    "niacin_mg": "Niacin_(mg)",
    "vitamin_b6_mg": "Vit_B6_(mg)",
    "vitamin_b12_ug": "Vit_B12_(µg)",
    "folate_ug": "Folate_DFE_(µg)",
}

Row = dict[str, str]


def refreshed(rows: list[Row], release: dict[str, Row], label: str = "SR28") -> list[Row]:
    """Return ``rows`` with the figures, refuse and label of ``release`` (by NDB number)."""
    return [_one(row, release, label) if row["ndb"] else row for row in rows]


def _one(row: Row, release: dict[str, Row], label: str) -> Row:
    found = release.get(row["ndb"])
    if found is None:
        raise SystemExit(f"{row['key']}: NDB {row['ndb']} is not in the release")
    figures = {ours: found[theirs] for ours, theirs in RELEASE_COLUMN.items()}
    edible = f"{100 - float(found['Refuse_Pct'] or 0):g}"
    return {**row, **figures, "release": label, "edible_percent": edible}


def written(rows: list[Row]) -> str:
    """Return the text of table.csv for ``rows``."""
    text = io.StringIO()
    writer = csv.DictWriter(text, list(rows[0]), lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def main(arguments: list[str]) -> None:
    """List, and with ``--write`` make, the changes that the release asks for."""
    with Path(arguments[0]).open(encoding="utf-8", newline="") as file:
        release = {row["NDB_No"]: row for row in csv.DictReader(file)}
    with TABLE.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    new = refreshed(rows, release)
    for before, after in zip(rows, new, strict=True):
        for column in before:
            if before[column] != after[column]:
                change = f"{before[column] or 'blank'} -> {after[column] or 'blank'}"
                sys.stdout.write(f"{before['key']}, {column}: {change}\n")
    if "--write" in arguments:
        TABLE.write_text(written(new), encoding="utf-8")


if __name__ == "__main__":
    if len(sys.argv) < 2:
        raise SystemExit(__doc__)
    main(sys.argv[1:])
