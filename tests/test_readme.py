"""What the README shows works as shown."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from reformulate import Answer, Per, read_document
from reformulate.commands import run

README = (Path(__file__).parents[1] / "README.md").read_text("utf-8")


def block(language: str) -> str:
    """The first block of a language."""
    found = re.search(rf"```{language}\n(.*?)```", README, re.DOTALL)
    assert found
    return found[1]


def test_the_ten_lines_of_python_run(capsys: pytest.CaptureFixture[str]) -> None:
    names: dict[str, object] = {}
    exec(block("python"), names)  # noqa: S102 - our own README
    answer = names["answer"]
    assert isinstance(answer, Answer)
    assert answer.certificate.holds
    assert capsys.readouterr().out.startswith("Meets both goals.")
    assert len(block("python").strip().splitlines()) <= 12


def test_the_example_file_is_read(tmp_path: Path) -> None:
    text = block("toml") + '\n[[line]]\nfood = "sour-cream"\namount = "2 cups"\n'
    # A table of lines may not go on after another table has begun: the line goes before the brief.
    head, brief = text.split("[brief]", 1)
    brief, line = brief.split("[[line]]", 1)
    path = tmp_path / "onion.toml"
    path.write_text(f"{head}[[line]]{line}\n[brief]{brief}", "utf-8")
    tomllib.loads(path.read_text("utf-8"))
    document = read_document(path)
    assert document.recipe.line("onion-yellow").retention == 3460
    assert document.brief.goals[0].per is Per.SERVING
    assert run(["solve", str(path)]) in (0, 1)


def test_the_test_command_stands_where_the_build_looks_for_it() -> None:
    found = re.search(r"<!-- test command -->\n```sh\n(.*?)\n```\n<!-- end -->", README, re.DOTALL)
    assert found
    assert found[1].startswith("python3 -m venv .venv-test")
    assert found[1].endswith("-m pytest -q")
