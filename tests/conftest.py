"""What every test shares: how hard hypothesis looks, a window without a screen, quiet logs."""

from __future__ import annotations

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import logging
from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, settings

# A busy machine makes drawing slow without making a strategy bad.
_COMMON = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
settings.register_profile("fast", max_examples=20, **_COMMON)
settings.register_profile("ci", max_examples=100, print_blob=True, **_COMMON)
settings.load_profile(
    os.environ.get("HYPOTHESIS_PROFILE", "ci" if os.environ.get("CI") else "fast")
)


class _Collector(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.records: list[logging.LogRecord] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.records.append(record)


@pytest.fixture(scope="session")
def _collector() -> Iterator[_Collector]:
    collector = _Collector()
    logging.getLogger().addHandler(collector)
    yield collector
    logging.getLogger().removeHandler(collector)


@pytest.fixture(autouse=True)
def _no_unexpected_warning_is_logged(
    request: pytest.FixtureRequest, _collector: _Collector
) -> Iterator[None]:
    """Fail a test that logs at WARNING or above, unless it asked for caplog to expect it."""
    _collector.records.clear()
    yield
    if _collector.records and "caplog" not in request.fixturenames:
        lines = [f"{r.levelname} {r.name}: {r.getMessage()}" for r in _collector.records]
        pytest.fail("logged without being expected:\n" + "\n".join(lines))
