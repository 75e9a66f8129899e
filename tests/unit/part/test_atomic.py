"""A file after it was written over: what stays of it, what is refused, what a kill leaves."""

from __future__ import annotations

import errno
import os
import signal
import socket
import stat
import struct
import subprocess
import sys
from pathlib import Path

import pytest

from sketcher.errors import FileError
from sketcher.part import atomic, leftovers
from sketcher.part.atomic import read_bytes, write_bytes
from sketcher.part.leftovers import Temporary, clear_folder, journal_of
from tests.seldom import some_of

MOST = 1_000_000
OLD, NEW = b"old\n" * 300, b"new content\n" * 500

pytestmark = pytest.mark.skipif(os.name != "posix", reason="links, owners and FIFOs of POSIX")


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "plate.profile.json"
    path.write_bytes(OLD)
    return path


# What stays.


def test_every_name_of_a_file_keeps_its_content(file: Path) -> None:
    other = file.with_name("other name")
    os.link(file, other)
    write_bytes(file, NEW)
    assert other.read_bytes() == NEW
    assert other.samefile(file)
    assert sorted(os.listdir(file.parent)) == ["other name", "plate.profile.json"]


@pytest.mark.skipif(os.geteuid() != 0, reason="only root can give a file away")
def test_owner_group_and_mode_stay(file: Path) -> None:
    os.chown(file, 12345, 54321)
    file.chmod(0o4640)
    write_bytes(file, NEW)
    status = file.stat()
    assert (status.st_uid, status.st_gid, stat.S_IMODE(status.st_mode)) == (12345, 54321, 0o4640)
    assert file.read_bytes() == NEW


def test_a_file_that_cannot_be_given_to_its_owner_is_written_into(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = file.stat().st_ino

    def refused(*args: object) -> None:
        raise PermissionError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(atomic.os, "fchmod", refused)
    write_bytes(file, NEW)
    assert file.read_bytes() == NEW
    assert file.stat().st_ino == before
    assert os.listdir(file.parent) == [file.name]


def test_an_access_list_and_own_attributes_stay(file: Path) -> None:
    # Layout of the attribute: linux/posix_acl_xattr.h. Owner rw, user 12345 rw, group r, mask rw.
    entries = ((1, 6, 0xFFFFFFFF), (2, 6, 12345), (4, 4, 0xFFFFFFFF), (16, 6, 0xFFFFFFFF),
               (32, 0, 0xFFFFFFFF))
    acl = struct.pack("<I", 2) + b"".join(struct.pack("<HHI", *entry) for entry in entries)
    try:
        os.setxattr(file, "system.posix_acl_access", acl)
        os.setxattr(file, "user.origin", b"sheet 12")
    except (AttributeError, OSError):
        pytest.skip("no extended attributes here")
    write_bytes(file, NEW)
    assert os.getxattr(file, "system.posix_acl_access") == acl
    assert os.getxattr(file, "user.origin") == b"sheet 12"


def test_what_the_folder_gives_to_new_files_is_not_given_to_an_old_one(file: Path) -> None:
    entries = ((1, 7, 0xFFFFFFFF), (2, 7, 12345), (4, 5, 0xFFFFFFFF), (16, 7, 0xFFFFFFFF),
               (32, 5, 0xFFFFFFFF))
    acl = struct.pack("<I", 2) + b"".join(struct.pack("<HHI", *entry) for entry in entries)
    try:
        os.setxattr(file.parent, "system.posix_acl_default", acl)
    except (AttributeError, OSError):
        pytest.skip("no extended attributes here")
    write_bytes(file, NEW)
    assert os.listxattr(file) == []


def test_nobody_else_sees_the_content_of_a_private_file_while_it_is_saved(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file.chmod(0o600)
    seen: list[int] = []
    fsync = os.fsync

    def look(handle: int) -> None:
        seen.append(stat.S_IMODE(os.fstat(handle).st_mode))
        fsync(handle)

    monkeypatch.setattr(atomic.os, "fsync", look)
    write_bytes(file, NEW)
    assert seen[0] == 0o600


# What is refused.


def special(folder: Path, kind: str) -> Path:
    path = folder / f"x-{kind}"
    if kind == "FIFO":
        os.mkfifo(path)
    elif kind == "socket":
        with socket.socket(socket.AF_UNIX) as made:
            made.bind(str(path))
    elif kind == "folder":
        path.mkdir()
    else:
        path.symlink_to("/dev/null")
    return path


@pytest.mark.parametrize("kind", ["FIFO", "socket", "folder", "device"])
def test_what_is_no_file_is_neither_read_nor_replaced(tmp_path: Path, kind: str) -> None:
    path = special(tmp_path, kind)
    before = path.stat()
    for use in (lambda: read_bytes(path, MOST), lambda: write_bytes(path, NEW)):
        with pytest.raises(FileError) as told:
            use()  # a FIFO must not be waited for
        assert kind in told.value.problem
        assert told.value.place == str(path)
    assert path.stat().st_ino == before.st_ino
    assert path.stat().st_mode == before.st_mode
    assert os.listdir(tmp_path) == [path.name]


def test_a_file_that_nobody_may_write_is_refused_even_for_root(file: Path) -> None:
    file.chmod(0o444)
    with pytest.raises(FileError) as told:
        write_bytes(file, NEW)
    assert str(told.value).count(str(file)) == 1
    assert told.value.problem == "the file is read-only"
    assert file.read_bytes() == OLD


def test_a_link_that_goes_round_is_one_error(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.symlink_to(tmp_path / "a")
    for use in (lambda: read_bytes(path, MOST), lambda: write_bytes(path, NEW)):
        with pytest.raises(FileError):
            use()


# What an end in the middle leaves.


def test_a_disk_that_fills_up_leaves_the_old_file(file: Path) -> None:
    code = ("import resource, sys; from sketcher.part.atomic import write_bytes\n"
            "resource.setrlimit(resource.RLIMIT_FSIZE, (2000, 2000))\n"
            "write_bytes(sys.argv[1], b'n' * 4000)\n")
    for links in (1, 2):
        if links == 2:
            os.link(file, file.with_name("second name"))
        done = subprocess.run([sys.executable, "-c", code, str(file)], capture_output=True,
                              text=True, check=False, timeout=60)
        assert done.stderr.splitlines()[-1].startswith("sketcher.errors.FileError")
        assert file.read_bytes() == OLD
        assert len(os.listdir(file.parent)) == links


def test_a_disk_that_fills_up_while_a_file_is_written_into(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    os.link(file, file.with_name("second name"))
    write_into = atomic._write_into

    def breaks_off(target: str, data: bytes) -> None:
        if data == NEW:
            write_into(target, data[:1000])
            raise OSError(errno.ENOSPC, "No space left on device")
        write_into(target, data)

    monkeypatch.setattr(atomic, "_write_into", breaks_off)
    with pytest.raises(FileError, match="unchanged"):
        write_bytes(file, NEW)
    assert file.read_bytes() == OLD
    assert len(os.listdir(file.parent)) == 2

    def breaks_off_for_good(target: str, data: bytes) -> None:
        write_into(target, data[:1000])
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(atomic, "_write_into", breaks_off_for_good)
    with pytest.raises(FileError) as told:
        write_bytes(file, NEW)
    assert journal_of(str(file)) in told.value.remedy
    assert read_bytes(file, MOST) == NEW  # from beside it
    monkeypatch.undo()
    write_bytes(file, OLD)
    assert file.read_bytes() == read_bytes(file, MOST) == OLD
    assert len(os.listdir(file.parent)) == 2


def killed_at_line(path: Path, line: int) -> bool:
    """Save in a child that is killed at so many executed lines; return whether it came so far."""
    files = {atomic.__file__, leftovers.__file__}
    left = line

    def step(frame, event, arg):  # type: ignore[no-untyped-def]
        nonlocal left
        if frame.f_code.co_filename not in files:
            return None
        if event == "line":
            left -= 1
            if left == 0:
                os.kill(os.getpid(), signal.SIGKILL)
        return step

    child = os.fork()
    if child == 0:
        try:
            sys.settrace(step)
            write_bytes(path, NEW)
        finally:
            os._exit(0)
    return os.WIFSIGNALED(os.waitpid(child, 0)[1])


@pytest.mark.filterwarnings("ignore::DeprecationWarning")
@pytest.mark.parametrize("links", some_of([1, 2], lambda links: links == 1))
def test_killed_at_any_line_nothing_is_lost_and_the_next_save_clears_up(
    file: Path, links: int
) -> None:
    if links == 2:
        os.link(file, file.with_name("second name"))
    line, between = 1, 0
    while killed_at_line(file, line):
        content = read_bytes(file, MOST)
        assert content in (OLD, NEW), line
        between += len(os.listdir(file.parent)) > links
        write_bytes(file, OLD)
        assert file.read_bytes() == OLD
        assert len(os.listdir(file.parent)) == links, (line, os.listdir(file.parent))
        line += 1
    assert line > 40
    assert between > 5  # kills that left something over


def test_another_file_is_not_taken_for_what_was_being_saved(file: Path) -> None:
    Path(journal_of(str(file))).write_bytes(NEW)
    assert read_bytes(file, MOST) == OLD  # put there since, by somebody else
    file.write_bytes(NEW[:700])
    assert read_bytes(file, MOST) == NEW


# Left-over temporary files.


def test_what_a_dead_program_left_over_is_removed(file: Path) -> None:
    for token in ("0123abcd", "89ef4567"):
        file.with_name(f"{file.name}.{token}.new").write_bytes(b"half")
    kept = [file.with_name(name) for name in (
        "other.json.0123abcd.new", f"{file.name}.0123abcd", f"{file.name}.mine.new",
        f"{file.name}.0123ABCD.new",
    )]
    for path in kept:
        path.write_bytes(b"a person's")
    write_bytes(file, NEW)
    assert sorted(os.listdir(file.parent)) == sorted([file.name, *(path.name for path in kept)])


def test_what_a_running_program_is_filling_stays(file: Path) -> None:
    held = Temporary.beside(str(file), 0o600)
    try:
        write_bytes(file, NEW)
        assert Path(held.path).exists()
    finally:
        os.close(held.handle)
    write_bytes(file, NEW)
    assert os.listdir(file.parent) == [file.name]


def test_where_the_disk_knows_no_locks_age_decides(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class NoLocks:
        LOCK_EX, LOCK_NB = 2, 4

        @staticmethod
        def flock(handle: int, how: int) -> None:
            raise OSError(errno.ENOLCK, "No locks available")

    monkeypatch.setattr(leftovers, "LOCKS", NoLocks)
    young, aged = (file.with_name(f"{file.name}.{token}.new") for token in ("0" * 8, "1" * 8))
    for path in (young, aged):
        path.write_bytes(b"half")
    long_ago = aged.stat().st_mtime - 2 * leftovers.OLD
    os.utime(aged, (long_ago, long_ago))
    write_bytes(file, NEW)
    assert sorted(os.listdir(file.parent)) == sorted([file.name, young.name])


def test_a_folder_of_the_programs_own_is_cleared_of_all(tmp_path: Path) -> None:
    for name in ("a.profile.json.0123abcd.new", "b.note.json.89ef4567.new", "kept.profile.json"):
        (tmp_path / name).write_bytes(b"")
    clear_folder(tmp_path)
    assert os.listdir(tmp_path) == ["kept.profile.json"]


@pytest.mark.parametrize("letter", ["n", "ü"])
def test_a_name_as_long_as_the_file_system_takes(tmp_path: Path, letter: str) -> None:
    most = os.pathconf(tmp_path, "PC_NAME_MAX")
    for short in range(15):
        name = letter * ((most - short) // len(letter.encode()))
        path = tmp_path / name
        write_bytes(path, OLD)
        os.link(path, tmp_path / "second name")
        write_bytes(path, NEW)
        assert read_bytes(path, MOST) == NEW
        assert sorted(os.listdir(tmp_path)) == sorted([name, "second name"])
        path.unlink()
        (tmp_path / "second name").unlink()


def test_long_names_that_begin_alike_have_journals_of_their_own(tmp_path: Path) -> None:
    most = os.pathconf(tmp_path, "PC_NAME_MAX")
    one, two = (str(tmp_path / ("n" * (most - 1) + end)) for end in "ab")
    assert journal_of(one) != journal_of(two)
