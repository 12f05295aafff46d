"""The command line: what it prints, its JSON, and its exit codes."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from reformulate.commands import run

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "sample_sets" / "harvest-evening"
DIP = DEMO / "hot-spinach-artichoke-dip.toml"

PLAIN = """
format = 1
title = "Two creams"
servings = 4
[[line]]
food = "sour-cream"
grams = 200.0
[[line]]
food = "yogurt-strained-nonfat"
grams = 100.0
"""


@pytest.fixture
def plain(tmp_path: Path) -> Path:
    path = tmp_path / "two-creams.toml"
    path.write_text(PLAIN, "utf-8")
    return path


def ask(capsys: pytest.CaptureFixture[str], *arguments: object) -> tuple[int, Any]:
    code = run([str(argument) for argument in arguments])
    return code, json.loads(capsys.readouterr().out)


def test_nutrients_as_json(plain: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, found = ask(capsys, "nutrients", plain, "--json")
    assert code == 0
    assert set(found) == {"servings", "finished_grams", "per_serving", "per_100g"}
    assert (found["servings"], found["finished_grams"]) == (4, 300)
    # 200 g x 198 kcal and 100 g x 59 kcal: NDB 01056 and 01256, Standard Reference 28
    assert found["per_serving"]["energy_kcal"] == {
        "value": pytest.approx((2 * 198 + 59) / 4),
        "at_least": False,
    }
    assert found["per_100g"]["energy_kcal"]["value"] == pytest.approx((2 * 198 + 59) / 3)


def test_nutrients_in_words_say_where_grams_come_from(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["nutrients", str(DIP)]) == 0
    out = capsys.readouterr().out
    assert "1/2 cup" in out
    assert "1 cup = 230 g (SR28 household weight)" in out
    assert "Check: by 4-4-9" in out
    assert "Added sugars: not known for" in out


def test_solve_as_json(plain: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, found = ask(
        capsys,
        "solve",
        plain,
        "--at-most",
        "energy_kcal=100",
        "--at-least",
        "protein_g=4",
        "--json",
    )
    assert code == 0
    assert found["status"] == "optimal"
    assert [line["food"] for line in found["lines"]] == ["sour-cream", "yogurt-strained-nonfat"]
    assert set(found["lines"][0]) == {"food", "grams_before", "grams_after", "amount_after"}
    assert found["achieved"]["energy_kcal"]["value"] <= 100
    grams = [line["grams_after"] for line in found["lines"]]
    assert (grams[0] * 1.98 + grams[1] * 0.59) / 4 == pytest.approx(
        found["achieved"]["energy_kcal"]["value"]
    )
    assert all(value <= 1e-6 for value in found["certificate"].values())
    assert set(found["certificate"]) == {"primal", "dual", "gap"}
    low, high = found["reach"]["energy_kcal"]
    assert low <= found["achieved"]["energy_kcal"]["value"] <= high


def test_solve_per_100_g(plain: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, found = ask(
        capsys, "solve", plain, "--at-most", "energy_kcal=130", "--per", "100g", "--json"
    )
    assert code == 0
    assert found["achieved"]["energy_kcal"]["value"] <= 130
    assert found["reach"]["protein_g"][1] <= 10.2


def test_a_conflict_prints_the_nearest_answer_and_exits_with_1(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, found = ask(capsys, "solve", DIP, "--at-most", "energy_kcal=60", "--json")
    assert code == 1
    assert found["status"] == "conflict"
    energy = next(goal for goal in found["goals"] if goal["goal"].startswith("energy"))
    assert not energy["met"]
    assert energy["value"] == pytest.approx(60 + energy["misses_by"])
    assert run(["solve", str(DIP), "--at-most", "energy_kcal=60"]) == 1
    assert "Out of reach: energy stays" in capsys.readouterr().out


def test_a_conflict_is_explained_with_its_ways_out(capsys: pytest.CaptureFixture[str]) -> None:
    code, found = ask(capsys, "conflict", DIP, "--at-most", "energy_kcal=60", "--json")
    assert code == 1
    assert found["status"] == "conflict"
    assert "energy at most 60 kcal per serving" in found["members"]
    assert "energy at most 128 kcal per serving" in found["ways_out"]
    assert run(["conflict", str(DIP), "--at-most", "energy_kcal=60"]) == 1
    assert "Any one of these changes alone" in capsys.readouterr().out
    code, found = ask(capsys, "conflict", DIP, "--json")
    assert (code, found) == (0, {"status": "none", "members": [], "ways_out": []})


def test_reach_without_end_is_null(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "free.toml"
    path.write_text(PLAIN + "[brief]\nshown = ['energy_kcal']\n", "utf-8")
    code, found = ask(capsys, "solve", path, "--json")
    assert code == 0
    assert found["reach"]["energy_kcal"][1] is None


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--at-most", "energy=100"], ["--at-most energy=100", "Did you mean 'energy_kcal'?"]),
        (["--at-most", "energy_kcal"], ["has no '='", "energy_kcal=130"]),
        (["--at-most", "energy_kcal=much"], ["found the value 'much'", "Expected a number"]),
        (["--at-most", "energy_kcal=nan"], ["found the value 'nan'"]),
        (["--at-least", "fat_g=-1"], ["found the value '-1'"]),
        (["--at-most", "fat_g=1", "--at-most", "fat_g=2"], ["is given twice"]),
        (["--at-most", "fat_g=1", "--at-least", "fat_g=2"], ["at least 2 and at most 1"]),
    ],
)
def test_a_bad_goal_exits_with_2_and_says_what_is_expected(
    plain: Path, arguments: list[str], words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["solve", str(plain), *arguments]) == 2
    error = capsys.readouterr().err
    assert all(word in error for word in words), error


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (
            PLAIN.replace("sour-cream", "sour-crem"),
            ["two.toml", "line 1", "Did you mean sour-cream"],
        ),
        (PLAIN.replace("grams = 200.0", 'amount = "2 cupz"'), ["two.toml", "line 1", "cupz"]),
        (PLAIN.replace("grams = 200.0", "grams = -2.0"), ["two.toml", "line 1", "-2"]),
        (PLAIN.replace("grams = 200.0", "grams = nan"), ["two.toml", "line 1", "nan"]),
        (PLAIN.replace("servings = 4", "servings = 0"), ["two.toml", "servings", "above 0"]),
        (PLAIN.split("[[line]]", maxsplit=1)[0], ["two.toml", "line"]),
        (PLAIN[:60], ["two.toml"]),
        ("format = 1\ntitle = 'x'\nservings = 'four'\n", ["two.toml", "servings"]),
    ],
)
def test_a_bad_file_exits_with_2_and_names_file_and_key(
    tmp_path: Path, text: str, words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "two.toml"
    path.write_text(text, "utf-8")
    for command in ("nutrients", "solve"):
        assert run([command, str(path)]) == 2
        error = capsys.readouterr().err
        assert all(word in error for word in words), error
        assert "Traceback" not in error


def test_a_file_in_another_encoding_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "two.toml"
    path.write_bytes(PLAIN.replace("Two creams", "Crème").encode("latin-1"))
    assert run(["nutrients", str(path)]) == 2
    assert "UTF-8" in capsys.readouterr().err


def test_a_file_that_is_not_there_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["solve", str(tmp_path / "none.toml")]) == 2
    assert "none.toml" in capsys.readouterr().err


def test_foods_of_a_release_are_read_with_release(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    release = ROOT.parent / "shared" / "data" / "sr28" / "abbrev.csv"
    if not release.exists():
        pytest.skip("the public release is not beside this checkout")
    path = tmp_path / "two.toml"
    path.write_text(PLAIN.replace('"sour-cream"', '"ndb:20005"'), "utf-8")
    assert run(["nutrients", str(path)]) == 2
    assert "ndb:20005" in capsys.readouterr().err
    code, found = ask(capsys, "nutrients", path, "--release", release, "--json")
    assert code == 0
    # Barley, pearled, raw, NDB 20005: 352 kcal per 100 g, Standard Reference 28
    assert found["per_serving"]["energy_kcal"]["value"] == pytest.approx((2 * 352 + 59) / 4)


def test_it_runs_as_a_module_and_leaves_standard_output_to_json(plain: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "reformulate", "solve", str(plain), "--json"],
        capture_output=True,
        check=False,
        text=True,
        encoding="utf-8",
        cwd=ROOT,
    )
    assert done.returncode == 0
    assert json.loads(done.stdout)["status"] == "optimal"
    assert done.stderr == ""


def test_without_a_command_the_window_opens(tmp_path: Path) -> None:
    """The program starts on the demo set, shows its window and ends when that is closed."""
    script = (
        "import sys; from PySide6.QtCore import QTimer; from PySide6.QtWidgets import QApplication\n"
        "import ui.main_window as m; show = m.MainWindow.showEvent\n"
        "def shown(window, event):\n"
        "    show(window, event); print(window.windowTitle()); QTimer.singleShot(0, window.close)\n"
        "m.MainWindow.showEvent = shown\n"
        "from reformulate.__main__ import main; sys.argv = ['reformulate']; sys.exit(main())\n"
    )
    home = {name: str(tmp_path) for name in ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME")}
    done = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        check=False,
        text=True,
        cwd=ROOT,
        env={**os.environ, **home, "QT_QPA_PLATFORM": "offscreen"},
        timeout=60,
    )
    assert done.returncode == 0, done.stderr
    assert "Harvest evening" in done.stdout
