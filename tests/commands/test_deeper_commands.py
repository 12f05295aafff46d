"""Swaps, trade-offs, what gives, measured amounts and holds on the command line."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from reformulate import CHARACTER, QUANTITIES
from reformulate.commands import run

DEMO = Path(__file__).parents[2] / "sample_sets" / "harvest-evening"
DIP = DEMO / "hot-spinach-artichoke-dip.toml"
SPREAD = DEMO / "roasted-pepper-walnut-spread.toml"


def ask(capsys: pytest.CaptureFixture[str], *arguments: object) -> tuple[int, Any]:
    code = run([str(argument) for argument in arguments])
    return code, json.loads(capsys.readouterr().out)


def told(capsys: pytest.CaptureFixture[str], *arguments: object) -> tuple[int, str, str]:
    code = run([str(argument) for argument in arguments])
    out, err = capsys.readouterr()
    return code, out, err


def test_measured_amounts_meet_the_goals_and_say_that_they_are_proven(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, found = ask(capsys, "solve", DIP, "--measured", "--json")
    assert code == 0
    assert found["measured"] == {"proven": True, "in_the_way": []}
    assert all(goal["met"] for goal in found["goals"])
    _, exact = ask(capsys, "solve", DIP, "--json")
    assert "measured" not in exact
    assert exact["lines"] != found["lines"]


def test_swaps_can_be_added_and_their_number_limited(
    capsys: pytest.CaptureFixture[str],
) -> None:
    swap = "tofu-silken-firm=cream-cheese,sour-cream"
    code, found = ask(capsys, "solve", DIP, "--swap", swap, "--max-swaps", "1", "--json")
    foods = [line["food"] for line in found["lines"]]
    assert "tofu-silken-firm" in foods
    new = [line for line in found["lines"] if line["grams_before"] == 0 and line["grams_after"] > 0]
    assert len(new) == 1
    assert code == 0


def test_a_swap_the_file_has_is_allowed_by_its_name(capsys: pytest.CaptureFixture[str]) -> None:
    _, found = ask(capsys, "solve", SPREAD, "--swap", "almonds-roasted", "--json")
    assert "almonds-roasted" in [line["food"] for line in found["lines"]]
    _, without = ask(capsys, "solve", SPREAD, "--json")
    assert "almonds-roasted" not in [line["food"] for line in without["lines"]]


@pytest.mark.parametrize(
    ("hold", "line", "low", "high"),
    [
        ("mozzarella-part-skim=lock", "mozzarella-part-skim", 112.0, 112.0),
        ("mozzarella-part-skim=100-105", "mozzarella-part-skim", 100.0, 105.0),
        ("mozzarella-part-skim=10%", "mozzarella-part-skim", 100.8, 123.2),
    ],
)
def test_a_hold_is_kept(
    capsys: pytest.CaptureFixture[str], hold: str, line: str, low: float, high: float
) -> None:
    _, found = ask(capsys, "solve", DIP, "--hold", hold, "--json")
    grams = next(entry["grams_after"] for entry in found["lines"] if entry["food"] == line)
    assert low - 1e-6 <= grams <= high + 1e-6


def test_holds_on_taste_ratios_roles_and_the_batch_are_read(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, _, err = told(
        capsys,
        "solve",
        DIP,
        *("--hold", "saltiness=10%", "--hold", "flavouring:base=20%"),
        *("--hold", "batch=5%", "--hold", "inclusion=10%", "--hold", "garlic=free"),
    )
    assert (code, err) == (0, "")


@pytest.mark.parametrize(
    ("option", "words"),
    [
        (("--hold", "garlic"), "Expected WHAT=HOW"),
        (("--hold", "galric=lock"), "Did you mean 'garlic'?"),
        (("--hold", "batch=often"), "found 'often'"),
        (("--swap", "tofu-firm"), "Say what it stands in for"),
        (("--swap", "tofu-firm=creamcheese"), "cream-cheese"),
        (("--max-swaps", "-1"), "max_swaps"),
    ],
)
def test_what_cannot_be_read_is_told_with_what_to_write(
    capsys: pytest.CaptureFixture[str], option: tuple[str, str], words: str
) -> None:
    code, _, err = told(capsys, "solve", DIP, *option)
    assert code == 2
    assert words in err


def test_the_closest_character_can_be_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    code, found = ask(capsys, "solve", DIP, "--manner", "character", "--json")
    assert code == 0
    assert found["status"] == "optimal"


def test_an_answer_tells_taste_and_texture_beside_the_original(
    capsys: pytest.CaptureFixture[str],
) -> None:
    _, found = ask(capsys, "solve", DIP, "--hold", "saltiness=1%", "--json")
    assert list(found["character"]) == [kind.key for kind in CHARACTER]
    for level in found["character"].values():
        moved = level["now"] - level["original"]
        assert level["kept"]
        assert not level["at_least"]
        assert (moved > 0) == (level["change"] > 0)
    salt = found["character"]["saltiness"]
    assert salt["now"] == pytest.approx(salt["original"], rel=0.01 + 1e-9)
    assert salt["firm"]  # from sodium, which the release states
    sodium = found["achieved"]["sodium_mg"]["value"]
    recipe = ask(capsys, "nutrients", DIP, "--json")[1]
    before = recipe["per_serving"]["sodium_mg"]["value"]
    assert sodium == pytest.approx(before, rel=0.05)  # the finished mass moves by 2 % at most
    _, out, _ = told(capsys, "solve", DIP)
    rows = [row for row in out.splitlines() if row.strip().startswith("Richness")]
    assert len(rows) == 1
    assert "→" in rows[0]
    assert "%" in rows[0]


def test_swaps_tell_what_each_would_do(capsys: pytest.CaptureFixture[str]) -> None:
    code, found = ask(capsys, "swaps", SPREAD, "--json")
    assert code == 0
    assert len(found) > 20
    first = found[0]
    assert set(first) >= {"food", "stands_in_for", "grams", "goals", "character_change", "caution"}
    assert all(goal["met"] for goal in first["goals"])
    assert first["cost_per_serving"] is None or first["cost_per_serving"] > 0
    code, out, _ = told(capsys, "swaps", SPREAD)
    assert code == 0
    assert len(out.splitlines()) == len(found)


def test_the_whole_table_is_searched(capsys: pytest.CaptureFixture[str]) -> None:
    code, found = ask(
        capsys,
        "swaps",
        DIP,
        "--search",
        "cream-cheese",
        "--group",
        "dairy",
        "--count",
        "3",
        "--json",
    )
    assert code == 0
    assert len(found["found"]) == 3
    assert found["bound"] >= found["found"][-1]["cost"] - 1e-6
    code, out, _ = told(capsys, "swaps", DIP, "--search", "cream-cheese", "--count", "2")
    assert code == 0
    assert "foods priced" in out


CURD = (
    # 53 fields of the abbreviated file; the figures are invented
    "~90002~^~CURD,INVENTED,DRIED~^8^370^82^1^6^3^0^1^90^.1^10^120^140^40^.5^0^0^9^0^.03^.2^.1^.4^.05^10^0^10"
    "^10^15^.4^60^15^14^1^0^0^0^0^.02^0^0^.2^.3^.1^.03^4^240^~1 cup~^15^~1 tbsp~^0\r\n"
)


def test_imported_foods_are_searched_with_the_whole_table(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, own_store: Path
) -> None:
    trout = DEMO / "smoked-trout-spread.toml"
    ask_for = ("swaps", trout, "--search", "cream-cheese", "--json")
    _, before = ask(capsys, *ask_for)
    download = tmp_path / "ABBREV.txt"
    download.write_text(CURD, encoding="latin-1")
    assert run(["foods", "import", str(download), "--store", str(own_store)]) == 0
    capsys.readouterr()
    _, after = ask(capsys, *ask_for)
    assert after["priced"] == before["priced"] + 1
    assert "ndb:90002" in [found["food"] for found in after["found"]]


def test_a_trade_off_lists_every_corner_and_names_the_knee(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, found = ask(capsys, "tradeoff", DIP, "energy_kcal", "protein_g", "--json")
    assert code == 0
    xs = [point["x"] for point in found["points"]]
    ys = [point["y"] for point in found["points"]]
    assert xs == sorted(xs)
    assert ys == sorted(ys)
    assert found["more_is_better"] == {"x": False, "y": True}
    assert sum(found["points"][0]["grams"].values()) > 100
    code, out, _ = told(capsys, "tradeoff", DIP, "energy_kcal", "change")
    assert code == 0
    assert "knee" in out


def test_a_trade_off_of_what_is_not_known_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    code, _, err = told(capsys, "tradeoff", DIP, "energy", "protein_g")
    assert code == 2
    assert "energy_kcal" in err


def test_what_gives_names_each_binding_limit(capsys: pytest.CaptureFixture[str]) -> None:
    code, found = ask(capsys, "gives", DIP, "--json")
    assert code == 0
    energy = next(one for one in found["gives"] if one["limit"].startswith("energy"))
    assert (energy["step"], energy["unit"]) == (-10.0, "kcal")
    assert energy["from"] < 145.0 < energy["to"]
    assert energy["per_serving"]["energy_kcal"] == pytest.approx(-10.0, rel=1e-4)
    code, out, _ = told(capsys, "gives", DIP)
    assert code == 0
    assert " kcal less: " in out


def test_nothing_gives_in_a_conflict(capsys: pytest.CaptureFixture[str]) -> None:
    code, found = ask(capsys, "gives", DIP, "--at-most", "energy_kcal=10", "--json")
    assert code == 1
    assert found == {"status": "conflict", "gives": [], "headroom": []}


def test_nutrients_tell_taste_and_cost_too(capsys: pytest.CaptureFixture[str]) -> None:
    _, found = ask(capsys, "nutrients", DIP, "--json")
    assert set(found["per_serving"]) == {kind.key for kind in QUANTITIES}
    assert not found["per_serving"]["cost"]["at_least"]
    assert found["per_100g"]["saltiness"]["value"] == pytest.approx(
        # sodium as salt: 2.5421 g per g, by the molar masses of sodium and chlorine
        found["per_100g"]["sodium_mg"]["value"] * 2.5421 / 1000
    )
