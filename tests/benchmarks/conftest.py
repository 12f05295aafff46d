"""Benchmarks as ratios: what was measured in this run, beside the goal."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

_LINES: list[str] = []


@pytest.fixture
def report() -> Iterator[list[str]]:
    """Collect lines that are printed when the run ends."""
    return _LINES


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Print the ratios."""
    if _LINES:
        terminalreporter.section("ratios of this run")
        for line in _LINES:
            terminalreporter.write_line(line)
