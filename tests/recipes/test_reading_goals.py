"""The goals that reading lines is held to, on lines that others have marked."""

from __future__ import annotations

import pytest

from tests.recipes.corpus import DEFAULT, figures, read_marked


def test_the_corpus_is_read_to_the_letter_as_often_as_is_asked() -> None:
    if not DEFAULT.exists():
        pytest.skip("the marked lines are not at hand")
    found = figures(read_marked(DEFAULT))
    assert found.lines > 900
    assert found.quantity >= 0.98
    assert found.unit >= 0.97
    assert found.food >= 0.92
