"""One window at a time: who is working on a set."""

from __future__ import annotations

import json
import os
import socket
import sys
import time
from contextlib import suppress
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Final
from uuid import uuid4

LOCK_FILE: Final = ".reformulate.lock"

SETTLING_TIME: Final = 10.0
"""How long a lock without a readable holder is believed to be just being written [s]."""

_HELD: Final[set[str]] = set()
"""Marks of the locks this process holds: a process number comes round again after a restart."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Holder:
    """Who holds a lock."""

    pid: int
    """Number of the process on its computer; 0 where the lock does not say."""
    host: str
    since: str
    """Date and time it was taken, ISO 8601, UTC."""
    mark: str = ""
    """Tells this lock from every other."""


class SetLock:
    """The lock of one set folder.

    It warns of a second window; it does not keep anyone from writing.
    """

    def __init__(self, folder: Path) -> None:
        self._path = Path(folder) / LOCK_FILE
        self._mark = ""

    @property
    def held(self) -> bool:
        """True while this lock is held here."""
        return bool(self._mark)

    def acquire(self) -> Holder | None:
        """Take the lock, and return None; or who holds it.

        A lock whose process on this computer is gone is taken over. In a folder that may not be
        written to there is no lock, and nothing to warn of.
        """
        if self.held:
            return None
        mine = Holder(
            pid=os.getpid(),
            host=socket.gethostname(),
            since=datetime.now(UTC).isoformat(timespec="seconds"),
            mark=uuid4().hex,
        )
        # Again: a lock may have been given up, or a stale one taken by another, in the meantime.
        for _ in range(3):
            try:
                self._create(mine)
            except FileExistsError:
                holder = self._holder()
                if holder is not None and not self._stale(holder):
                    return holder
                if holder is not None:
                    self._remove(holder)
            except OSError:
                return None
            else:
                return None
        return self._holder() or Holder(pid=0, host="", since="")

    def release(self) -> None:
        """Give the lock up; one that was taken over by another is left alone."""
        if not self.held:
            return
        holder = self._holder()
        if holder is not None and holder.mark == self._mark:
            with suppress(OSError):
                self._path.unlink()
        _HELD.discard(self._mark)
        self._mark = ""

    def _create(self, mine: Holder) -> None:
        handle = os.open(self._path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666)
        try:
            with os.fdopen(handle, "w", encoding="utf-8") as file:
                json.dump(asdict(mine), file)
        except OSError:
            with suppress(OSError):
                self._path.unlink()
            raise
        self._mark = mine.mark
        _HELD.add(mine.mark)

    def _holder(self) -> Holder | None:
        """Return who the lock file names, None where it is gone."""
        try:
            written = self._path.stat().st_mtime
            text = self._path.read_bytes()[:10_000]
        except FileNotFoundError:
            return None
        except OSError:
            return Holder(pid=0, host="", since="")
        try:
            found = json.loads(text)
            return Holder(
                pid=int(found["pid"]),
                host=str(found["host"]),
                since=str(found["since"]),
                mark=str(found["mark"]),
            )
        except (ValueError, LookupError, TypeError, RecursionError, OverflowError):
            since = datetime.fromtimestamp(written, UTC).isoformat(timespec="seconds")
            return Holder(pid=0, host="", since=since)

    def _stale(self, holder: Holder) -> bool:
        if not holder.mark:
            with suppress(OSError):
                return time.time() - self._path.stat().st_mtime > SETTLING_TIME
            return False
        if holder.host != socket.gethostname():
            return False
        if holder.pid == os.getpid():
            return holder.mark not in _HELD
        return not process_runs(holder.pid)

    def _remove(self, stale: Holder) -> None:
        """Remove the lock of a holder that is gone, unless another has just taken it over."""
        if self._holder() == stale:
            with suppress(OSError):
                self._path.unlink()


def process_runs(pid: int) -> bool:
    """Whether a process of this number runs on this computer."""
    if not 0 < pid < 2**31:
        return False
    if sys.platform == "win32":
        return _process_runs_on_windows(pid)
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True  # Another user's.
    return True


if sys.platform == "win32":

    def _process_runs_on_windows(pid: int) -> bool:
        # os.kill would end the process there.
        import ctypes  # noqa: PLC0415 - only there

        synchronize, still_waiting = 0x00100000, 0x00000102
        kernel = ctypes.WinDLL("kernel32", use_last_error=True)
        handle = kernel.OpenProcess(synchronize, False, pid)
        if not handle:
            access_denied = 5
            return ctypes.get_last_error() == access_denied
        try:
            return bool(kernel.WaitForSingleObject(handle, 0) == still_waiting)
        finally:
            kernel.CloseHandle(handle)
