"""The house in order: layers, public names, units beside figures, nothing stray at the top."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest

import reformulate

ROOT = Path(__file__).resolve().parents[1]
LAYERS = ("measures", "foods", "recipes", "brief", "optimise", "sets")
TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "reformulate",
    "ui",
    "tests",
    "sample_sets",
}


def test_layers_import_one_way_and_the_core_knows_no_window() -> None:
    program = (
        "import sys; from importlinter.cli import lint_imports_command; "
        "sys.argv[0] = 'lint-imports'; lint_imports_command()"
    )
    found = subprocess.run(
        [sys.executable, "-c", program, "--no-cache"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert found.returncode == 0, found.stdout + found.stderr
    assert "0 broken" in found.stdout


def test_the_project_has_nothing_else_at_its_top() -> None:
    try:
        found = subprocess.run(
            ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True
        )
    except (OSError, subprocess.CalledProcessError):
        pytest.skip("this is not a checkout, or git is not there")
    top = {name.split("/")[0] for name in found.stdout.split("\0") if name}
    assert {name for name in top if not name.startswith(".")} == TOP_LEVEL


def test_the_public_names_are_all_the_package_offers() -> None:
    here = {
        name
        for name, value in vars(reformulate).items()
        if not name.startswith("_") and not isinstance(value, ModuleType) and name != "annotations"
    }
    assert set(reformulate.__all__) == here
    assert len(reformulate.__all__) == len(set(reformulate.__all__))


def test_every_public_class_and_function_says_what_it_is() -> None:
    mute = [
        name
        for name in reformulate.__all__
        if callable(getattr(reformulate, name)) and not getattr(reformulate, name).__doc__
    ]
    assert mute == []


def frozen_dataclasses(tree: ast.Module) -> Iterator[ast.ClassDef]:
    for node in ast.walk(tree):
        if isinstance(node, ast.ClassDef) and any(
            isinstance(mark, ast.Call)
            and ast.unparse(mark.func) == "dataclass"
            and any(
                word.arg == "frozen" and getattr(word.value, "value", None)
                for word in mark.keywords
            )
            for mark in node.decorator_list
        ):
            yield node


def fields_without_unit(tree: ast.Module) -> Iterator[str]:
    """Give the fields that hold floats and have no unit in the text below them."""
    for node in frozen_dataclasses(tree):
        for i, field in enumerate(node.body):
            if not isinstance(field, ast.AnnAssign) or "ClassVar" in ast.unparse(field.annotation):
                continue
            words = {
                part.id if isinstance(part, ast.Name) else part.attr
                for part in ast.walk(field.annotation)
                if isinstance(part, ast.Name | ast.Attribute)
            }
            if not words & {"float", "FloatArray", "float64"}:
                continue
            below = node.body[i + 1] if i + 1 < len(node.body) else None
            text = (
                below.value.value
                if isinstance(below, ast.Expr) and isinstance(below.value, ast.Constant)
                else ""
            )
            if not (isinstance(text, str) and "[" in text and "]" in text):
                yield f"{node.name}.{ast.unparse(field.target)}"


def test_a_field_without_a_unit_is_found() -> None:
    tree = ast.parse(
        "@dataclass(frozen=True)\n"
        "class A:\n"
        "    good: float\n"
        '    """Mass [g]."""\n'
        "    bad: float | None = None\n"
        '    """Mass."""\n'
        "    worse: NDArray[np.float64]\n"
        "    name: str\n"
    )
    assert list(fields_without_unit(tree)) == ["A.bad", "A.worse"]


@pytest.mark.parametrize("layer", LAYERS)
def test_every_stored_figure_states_its_unit(layer: str) -> None:
    files = sorted((ROOT / "reformulate" / layer).rglob("*.py"))
    assert files
    missing = [
        f"{path.relative_to(ROOT)}: {field}"
        for path in files
        for field in fields_without_unit(ast.parse(path.read_text(encoding="utf-8")))
    ]
    assert missing == []
