"""From the event of a moved handle to the painted window."""

from __future__ import annotations

from itertools import cycle
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPointF, QSettings, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication

from reformulate import working_copy
from ui.main import make_window
from ui.reach_slider import ReachSlider

FRAME = 1000 / 60
"""A frame at 60 Hz [ms]."""


@pytest.mark.benchmark(group="slider")
def test_a_moved_handle_to_a_painted_window(
    benchmark: object, qapp: QApplication, tmp_path: Path, report: list[str]
) -> None:
    store = QSettings(str(tmp_path / "settings.ini"), QSettings.Format.IniFormat)
    window = make_window(qapp, store, working_copy(tmp_path / "set"))
    window.show()
    slider = window.goals.cards["energy_kcal"].slider
    start = slider.x_of(145)
    _send(slider, QEvent.Type.MouseButtonPress, start)
    # Whole kilocalories down and up again, so that every event moves the goal.
    places = cycle([slider.x_of(float(limit)) for limit in np.r_[200:110:-1, 110:200]])

    def move(x: float) -> None:
        _send(slider, QEvent.Type.MouseMove, x)
        # Qt paints what a change has marked, and only that, when this event arrives.
        QApplication.sendEvent(window, QEvent(QEvent.Type.UpdateRequest))

    benchmark.pedantic(  # type: ignore[attr-defined]
        move, setup=lambda: ((next(places),), {}), rounds=400, warmup_rounds=20
    )
    _send(slider, QEvent.Type.MouseButtonRelease, start)
    times = np.array(benchmark.stats.stats.data) * 1e3  # type: ignore[attr-defined]
    middle, late = np.percentile(times, [50, 95])
    report.append(
        f"slider event to painted window / frame at 60 Hz: median {middle / FRAME:.2f}, "
        f"95th percentile {late / FRAME:.2f} (goal below 1); {middle:.1f} and {late:.1f} ms"
    )
    window.close()
    window.deleteLater()


def _send(slider: ReachSlider, kind: QEvent.Type, x: float) -> None:
    place = QPointF(x, slider.height() / 2)
    left = Qt.MouseButton.LeftButton
    event = QMouseEvent(
        kind, place, slider.mapToGlobal(place), left, left, Qt.KeyboardModifier.NoModifier
    )
    QApplication.sendEvent(slider, event)
