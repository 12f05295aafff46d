"""What the tests of measures share."""

from __future__ import annotations

import pytest

from reformulate.measures import grams_per


@pytest.fixture(scope="session", autouse=True)
def _pint_is_loaded() -> None:
    """Pay for Pint's registry before a test with a deadline has to."""
    assert grams_per("oz") is not None
