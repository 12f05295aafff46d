"""An import takes no more memory for more rows: what is read is let go again."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from reformulate.foods.store.figures import COMPONENTS

STATUS = Path("/proc/self/status")
"""Where Linux tells the peak of a process."""

IMPORT = """
import sys
from pathlib import Path
from reformulate.foods.store import import_release
done = import_release(Path(sys.argv[1]), Path(sys.argv[2]))
peak = next(line for line in open("/proc/self/status") if line.startswith("VmHWM"))
print(done.foods, int(peak.split()[1]) / 1024)
"""

MOST = 300.0
"""What an import of 2 million rows may take at its peak, our own goal [MB]."""
GROWTH = 45.0
"""What four times the rows may add [MB]: caches still fill; rows that are kept take 100 and more."""


def peak(folder: Path, foods: int) -> float:
    """Import a download that is made up; return the peak memory of that process [MB]."""
    folder.mkdir()
    components = list(COMPONENTS)[:50]
    with (folder / "food.csv").open("w", encoding="utf-8") as file:
        file.write('"fdc_id","data_type","description"\n')
        for number in range(foods):
            file.write(f'"{number + 1}","branded_food","Curd number {number}"\n')
    with (folder / "food_nutrient.csv").open("w", encoding="utf-8") as file:
        file.write('"id","fdc_id","nutrient_id","amount"\n')
        for number in range(foods):
            for component in components:
                file.write(f'"1","{number + 1}","{component}","{number % 20}.5"\n')
    done = subprocess.run(
        [sys.executable, "-c", IMPORT, str(folder), str(folder / "foods.sqlite")],
        capture_output=True,
        text=True,
        check=True,
    )
    count, megabytes = done.stdout.split()
    assert int(count) == foods
    return float(megabytes)


@pytest.mark.skipif(not STATUS.exists(), reason="the peak of a process is told on Linux only")
def test_four_times_the_rows_take_hardly_more_memory(tmp_path: Path) -> None:
    few = peak(tmp_path / "few", 3_000)  # 150,000 rows of amounts
    many = peak(tmp_path / "many", 12_000)  # 600,000
    assert few < MOST
    assert many < MOST
    assert many - few < GROWTH, (few, many)
