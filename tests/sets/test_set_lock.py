"""The lock names who works on a set, and a crash does not leave it shut."""

import errno
import json
import os
import socket
import subprocess
import sys

import pytest

from reformulate.sets import Holder, SetLock
from reformulate.sets.lock import LOCK_FILE, process_runs


@pytest.fixture
def ended_process():
    """Return the number of a process that has ended."""
    process = subprocess.Popen([sys.executable, "-c", ""])
    process.wait()
    return process.pid


def write_lock(folder, **changes):
    holder = {"pid": os.getpid(), "host": socket.gethostname(), "since": "then", "mark": "m"}
    (folder / LOCK_FILE).write_text(json.dumps(holder | changes))


def test_the_first_takes_the_lock_and_the_second_is_told_who_has_it(tmp_path):
    first, second = SetLock(tmp_path), SetLock(tmp_path)
    assert first.acquire() is None
    assert first.acquire() is None
    assert first.held
    holder = second.acquire()
    assert isinstance(holder, Holder)
    assert (holder.pid, holder.host) == (os.getpid(), socket.gethostname())
    assert not second.held
    second.release()
    first.release()
    assert second.acquire() is None


def test_a_released_lock_leaves_nothing_in_the_folder(tmp_path):
    lock = SetLock(tmp_path)
    lock.acquire()
    lock.release()
    lock.release()
    assert list(tmp_path.iterdir()) == []


def test_the_lock_of_a_process_that_is_gone_is_taken_over(tmp_path, ended_process):
    write_lock(tmp_path, pid=ended_process)
    lock = SetLock(tmp_path)
    assert lock.acquire() is None
    assert json.loads((tmp_path / LOCK_FILE).read_text())["pid"] == os.getpid()


def test_a_lock_of_our_own_number_from_an_earlier_life_is_taken_over(tmp_path):
    write_lock(tmp_path)
    assert SetLock(tmp_path).acquire() is None


def test_a_process_that_runs_and_one_on_another_computer_keep_their_lock(tmp_path, ended_process):
    write_lock(tmp_path, pid=os.getppid())
    assert SetLock(tmp_path).acquire().pid == os.getppid()
    write_lock(tmp_path, pid=ended_process, host="another")
    assert SetLock(tmp_path).acquire().host == "another"


@pytest.mark.parametrize("content", [b"", b"{", b"[1]", b'{"pid": 1e999}', b"\xff", b"[" * 9000])
def test_a_lock_that_says_nothing_is_believed_only_while_it_may_be_being_written(tmp_path, content):
    file = tmp_path / LOCK_FILE
    file.write_bytes(content)
    assert SetLock(tmp_path).acquire().pid == 0
    long_ago = file.stat().st_mtime - 60
    os.utime(file, (long_ago, long_ago))
    assert SetLock(tmp_path).acquire() is None


def test_a_lock_taken_over_by_another_is_not_released(tmp_path):
    lock = SetLock(tmp_path)
    lock.acquire()
    write_lock(tmp_path, host="another")
    lock.release()
    assert (tmp_path / LOCK_FILE).exists()


@pytest.mark.parametrize("number", [errno.EACCES, errno.EROFS, errno.ENOSPC])
def test_a_folder_that_may_not_be_written_to_gives_no_lock_and_no_error(
    tmp_path, monkeypatch, number
):
    def refuse(*args, **kwargs):
        raise OSError(number, "no")

    monkeypatch.setattr(os, "open", refuse)
    lock = SetLock(tmp_path)
    assert lock.acquire() is None
    assert not lock.held
    lock.release()


def test_only_numbers_of_running_processes_run(ended_process):
    assert process_runs(os.getpid())
    assert not process_runs(ended_process)
    assert not any(process_runs(number) for number in (0, -1, 2**40))
