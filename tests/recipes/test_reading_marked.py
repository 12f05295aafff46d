"""Lines that others have marked are read as they marked them."""

from __future__ import annotations

import pytest

from tests.recipes.corpus import DEFAULT, figures, read_marked

needs_corpus = pytest.mark.skipif(
    not DEFAULT.exists(), reason="the marked lines lie beside the repository, not in it"
)


@needs_corpus
def test_marked_lines_are_read_as_others_marked_them() -> None:
    lines = read_marked(DEFAULT)
    for part in (lines, [line for line in lines if line.is_held_out]):
        found = figures(part)
        assert found.main_quantity >= 0.98
        assert found.main_unit >= 0.97
        assert found.quantity >= 0.975
        assert found.unit >= 0.97
        assert found.food >= 0.95
        assert found.main_food >= 0.94
