"""Recovery files: written, found after a crash, removed after a clean close."""

from __future__ import annotations

import json
import os
import subprocess
import sys

import pytest

from sketcher.errors import FileError
from sketcher.part.autosave import (
    NOTE_SUFFIX,
    RecoveryFolder,
    is_running,
    key_of_file,
    started_at,
)
from sketcher.part.store import save
from sketcher.part.value import Part


def dead_pid() -> int:
    """Number of a process that has ended."""
    done = subprocess.run(
        [sys.executable, "-c", "import os; print(os.getpid())"], capture_output=True, check=True
    )
    return int(done.stdout)


def pretend(folder: RecoveryFolder, key: str, **changes: object) -> None:
    path = folder.folder / f"{key}{NOTE_SUFFIX}"
    path.write_text(json.dumps(json.loads(path.read_text()) | changes))


def test_a_killed_program_leaves_its_part(tmp_path) -> None:
    folder = RecoveryFolder(tmp_path / "recovery")
    key = folder.key(tmp_path / "plate.profile.json")
    folder.keep(key, Part(name="Draft"), tmp_path / "plate.profile.json", "abc")
    assert folder.left_behind() == ()  # its program runs: it is this one
    pretend(folder, key, pid=dead_pid())
    (tmp_path / "recovery" / f"{key}.profile.json.0123abcd.new").write_bytes(b"half")
    (found,) = folder.left_behind()
    assert found.part().name == "Draft"
    assert found.original == (tmp_path / "plate.profile.json").resolve()
    assert found.digest == "abc"
    folder.discard(found.key)
    assert folder.all() == ()
    assert os.listdir(folder.folder) == []


TELLS_START = pytest.mark.skipif(
    started_at(os.getpid()) is None, reason="this system tells no start times"
)


@TELLS_START
def test_a_number_that_another_program_has_by_now_is_not_mistaken(tmp_path) -> None:
    folder = RecoveryFolder(tmp_path)
    key = folder.key("a")
    folder.keep(key, Part(name="Draft"), "a")
    pretend(folder, key, pid=os.getppid(), started=started_at(os.getppid()))
    assert folder.left_behind() == ()
    pretend(folder, key, started="1")
    assert [found.part().name for found in folder.left_behind()] == ["Draft"]


@TELLS_START
def test_an_earlier_run_of_the_same_number_is_not_taken_for_this_one(tmp_path) -> None:
    folder = RecoveryFolder(tmp_path)
    key = folder.key("a")
    folder.keep(key, Part(name="Draft"), "a")
    assert folder.left_behind() == ()
    pretend(folder, key, started="1")
    assert [found.part().name for found in folder.left_behind()] == ["Draft"]


def test_a_copy_knows_whether_its_file_is_still_the_version_that_it_came_from(tmp_path) -> None:
    folder, path = RecoveryFolder(tmp_path / "recovery"), tmp_path / "plate.profile.json"
    version = save(Part(name="Saved"), path)
    key = folder.key(path)

    def stands(digest: str | None) -> str:
        folder.keep(key, Part(name="Draft"), path, digest)
        (found,) = folder.all()
        return found.original_is

    assert stands(version) == "same"
    assert stands(None) == "other"  # nobody noted which it was
    save(Part(name="Saved since"), path)
    assert stands(version) == "other"
    path.unlink()
    assert stands(version) == "gone"
    os.mkfifo(path)
    assert stands(version) == "other"  # and it is not waited for
    folder.keep(key, Part(name="Draft"))
    assert folder.all()[0].original_is == "none"


def test_two_programs_on_one_file_keep_a_copy_each(tmp_path) -> None:
    folder = RecoveryFolder(tmp_path / "recovery")
    code = ("import sys; from sketcher.part.autosave import RecoveryFolder\n"
            "from sketcher.part.value import Part\n"
            "folder = RecoveryFolder(sys.argv[1])\n"
            "folder.keep(folder.key('a'), Part(name='Theirs'), 'a')\n")
    subprocess.run([sys.executable, "-c", code, str(folder.folder)], check=True)
    folder.keep(folder.key("a"), Part(name="Mine"), "a")
    assert sorted(found.part().name for found in folder.all()) == ["Mine", "Theirs"]
    folder.discard(folder.key("a"))
    assert [found.part().name for found in folder.left_behind()] == ["Theirs"]


def test_a_note_without_a_part_goes(tmp_path) -> None:
    folder = RecoveryFolder(tmp_path)
    folder.keep("k", Part())
    (tmp_path / "k.profile.json").unlink()
    assert folder.left_behind() == ()
    assert os.listdir(tmp_path) == []


def test_one_file_has_one_key_by_every_name(tmp_path) -> None:
    folder = RecoveryFolder(tmp_path)
    (tmp_path / "link").symlink_to(tmp_path / "real")
    assert key_of_file(tmp_path / "link") == key_of_file(tmp_path / "real")
    assert folder.key(tmp_path / "link") == folder.key(tmp_path / "real")
    assert folder.key(None, "window 1") != folder.key(None, "window 2")


def test_the_newest_comes_first(tmp_path) -> None:
    folder = RecoveryFolder(tmp_path)
    for name, time in (("old", 1.0), ("new", 3.0), ("middle", 2.0)):
        folder.keep(folder.key(name), Part(name=name), name)
        pretend(folder, folder.key(name), time=time)
    assert [found.part().name for found in folder.all()] == ["new", "middle", "old"]


@pytest.mark.parametrize("note", [b"", b"{", b"[]", b'{"pid": "x"}', b"\xff", b"[" * 100_000])
def test_a_broken_note_does_not_hide_the_part(tmp_path, note: bytes) -> None:
    folder = RecoveryFolder(tmp_path)
    key = folder.key(None)
    folder.keep(key, Part(name="Kept"))
    (tmp_path / f"{key}{NOTE_SUFFIX}").write_bytes(note)
    (found,) = folder.left_behind()
    assert found.part().name == "Kept"
    assert found.original is None


def test_a_missing_folder_holds_nothing(tmp_path) -> None:
    assert RecoveryFolder(tmp_path / "none").all() == ()
    RecoveryFolder(tmp_path / "none").discard("x")


def test_a_folder_that_cannot_be_made_is_one_error(tmp_path) -> None:
    (tmp_path / "file").write_text("")
    folder = RecoveryFolder(tmp_path / "file" / "recovery")
    with pytest.raises(FileError):
        folder.keep("k", Part())


def test_processes() -> None:
    assert is_running(os.getpid())
    assert is_running(os.getppid())
    assert not is_running(dead_pid())
    assert not is_running(0)
    assert not is_running(-1)
