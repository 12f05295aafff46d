"""What the tests of own foods share: a set with two of them."""

from __future__ import annotations

import pytest

from reformulate.sets.own_foods import OWN_FOODS_FILE
from tests.sets.own_foods.food_files import TEXT


@pytest.fixture
def folder(tmp_path):
    (tmp_path / OWN_FOODS_FILE).write_bytes(TEXT.encode())
    return tmp_path
