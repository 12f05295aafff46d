"""Foods on the command line: import, search, show, add."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from reformulate import read_own_foods
from reformulate.commands import run

DEMO = Path(__file__).parents[2] / "sample_sets" / "harvest-evening"

ABBREV = (  # 53 fields of the abbreviated file; the figures are invented
    "~90001~^~CURD,INVENTED,HARVEST~^80^60^9^1^1^8^0^4^90^.1^10^120^140^40^.5^0^0^9^0^.03^.2^.1^.4^.05"
    "^10^0^10^10^15^.4^60^15^14^1^0^0^0^0^.02^0^0^.2^.6^.3^.03^4^240^~1 cup~^15^~1 tbsp~^0\r\n"
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "set.toml").write_text('format = 1\ntitle = "Invented"\n', "utf-8")
    return tmp_path


def test_a_download_is_imported_searched_and_shown(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    download, store = tmp_path / "ABBREV.txt", str(tmp_path / "foods.sqlite")
    download.write_text(ABBREV, "latin-1")
    assert run(["foods", "import", str(download), "--store", store]) == 0
    assert "1 foods" in capsys.readouterr().out
    assert run(["foods", "search", "curd invented", "--store", store, "--json"]) == 0
    hits = json.loads(capsys.readouterr().out)
    assert "ndb:90001" in [hit["key"] for hit in hits]
    assert run(["foods", "show", "ndb:90001", "--store", store, "--json"]) == 0
    shown = json.loads(capsys.readouterr().out)
    assert shown["per_100g"]["energy_kcal"] == 60
    assert shown["per_100g"]["sourness"] is None


def test_a_food_that_is_not_there_is_told_with_what_is_near(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    store = str(tmp_path / "foods.sqlite")
    assert run(["foods", "show", "sour-creme", "--store", store]) == 2
    assert "sour-cream" in capsys.readouterr().err
    assert run(["foods", "search", "zzzzqqq", "--store", store]) == 1


def test_what_is_no_release_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    wrong = tmp_path / "list.txt"
    wrong.write_text("milk", "utf-8")
    assert run(["foods", "import", str(wrong), "--store", str(tmp_path / "s.sqlite")]) == 2
    assert "list.txt" in capsys.readouterr().err


def test_a_label_is_added_with_the_ranges_its_rounding_leaves(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    arguments = ["--name", "Corner curd", "--serving", "2 tbsp (30 g)"]
    figures = ["--figures", "energy_kcal=60", "fat_g=4.5", "sodium_mg=<5"]
    assert run(["foods", "add", str(folder), *arguments, *figures]) == 0
    assert "15 g (" in capsys.readouterr().out
    (food,) = read_own_foods(folder)
    assert food.key == "own:corner-curd"


def test_a_table_and_a_dip_are_added_too(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = folder / "mine.csv"
    table.write_text("name,energy_kcal,fat_g\nBlue curd,120,8\nRed curd,90,4\n", "utf-8")
    assert run(["foods", "add", str(folder), "--csv", str(table)]) == 0
    dip = folder / "cucumber-yogurt-dip.toml"
    dip.write_bytes((DEMO / dip.name).read_bytes())
    assert run(["foods", "add", str(folder), "--recipe", str(dip), "--json"]) == 0
    capsys.readouterr()
    assert len(read_own_foods(folder)) == 3
    used = folder / "plate.toml"
    used.write_text(
        'format = 1\ntitle = "Plate"\nservings = 2\n[[line]]\nfood = "own:blue-curd"\ngrams = 100\n',
        "utf-8",
    )
    assert run(["nutrients", str(used), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["per_serving"]["energy_kcal"]["value"] == pytest.approx(60)
    foods = folder / "foods.toml"
    foods.write_text(foods.read_text("utf-8").replace("fat_g", "fatt_g", 1), "utf-8")
    assert run(["nutrients", str(used), "--json"]) == 0
    assert "fatt_g: is not read. Did you mean 'fat_g'?" in capsys.readouterr().err


def test_figures_that_cannot_be_read_are_told(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code = run(["foods", "add", str(folder), "--name", "X", "--figures", "fat_g=a little"])
    assert code == 2
    assert "fat" in capsys.readouterr().err
    assert read_own_foods(folder) == ()
