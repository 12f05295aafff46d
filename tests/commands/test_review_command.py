"""The review on the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from reformulate.commands import run

DEMO = Path(__file__).parents[2] / "sample_sets" / "harvest-evening"

FAULTY = """
format = 1
title = "Invented dip"
servings = 8
steps = ["Stir the sour cream with the dill and the garlic."]
[[line]]
food = "sour-cream"
amount = "2 cups"
text = "2 cups (115 g) sour cream"
[[line]]
food = "dill"
amount = "2 tbsp"
role = "flavouring"
"""


@pytest.mark.parametrize("path", sorted(DEMO.glob("*-*.toml")), ids=lambda path: path.stem)
def test_the_demo_recipes_are_clean(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["review", str(path)]) == 0
    assert capsys.readouterr().out == "Nothing to put right was found.\n"


def test_faults_are_told_with_their_reason_and_how_sure(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "dip.toml"
    path.write_text(FAULTY, "utf-8")
    assert run(["review", str(path), "--json"]) == 1
    found = json.loads(capsys.readouterr().out)
    kinds = {one["kind"] for one in found}
    assert "unlisted" in kinds  # the garlic
    assert kinds & {"amounts", "figure"}  # 115 g is half a cup, not two
    assert all(one["why"] and one["sureness"] in ("sure", "likely", "perhaps") for one in found)
    assert run(["review", str(path)]) == 1
    assert "garlic" in capsys.readouterr().out
