"""Files on disk: one step, links and modes kept, foreign changes noticed."""

from __future__ import annotations

import os
import stat

import pytest

from sketcher.errors import FileError
from sketcher.part import atomic
from sketcher.part.edits.draft import Draft
from sketcher.part.file_text import write
from sketcher.part.kinds import settle_sides
from sketcher.part.store import changed_on_disk, load, open_file, save
from sketcher.part.value import Part
from tests.refusals import refused


def plate() -> Part:
    draft = Draft(Part(name="Plate"))
    draft.line((0.0, 0.0), (40.0, 0.0))
    draft.circle((10.0, 10.0), 3.0)
    return draft.done()


def test_what_is_saved_is_loaded(tmp_path) -> None:
    path = tmp_path / "plate.profile.json"
    known = save(plate(), path)
    stored = open_file(path)
    assert stored.part == plate()
    assert stored.digest == known
    assert os.listdir(tmp_path) == ["plate.profile.json"]


def test_a_side_that_is_not_stored_stays_open_until_it_is_searched(tmp_path) -> None:
    draft = Draft(plate())
    name = draft.bind("offset", ["e1", "p3"], "10")
    path = tmp_path / "plate.profile.json"
    save(draft.done(), path)
    assert load(path).bindings[name].side is None
    save(settle_sides(load(path)), path)
    assert load(path).bindings[name].side in ("left", "right")


def test_a_link_is_followed_and_the_mode_kept(tmp_path) -> None:
    real = tmp_path / "real.profile.json"
    save(Part(), real)
    real.chmod(0o640)
    link = tmp_path / "link.profile.json"
    link.symlink_to(real)
    save(plate(), link)
    assert link.is_symlink()
    assert load(real) == plate()
    assert stat.S_IMODE(real.stat().st_mode) == 0o640


def test_a_new_file_has_the_usual_mode(tmp_path) -> None:
    path = tmp_path / "new.profile.json"
    mask = os.umask(0o027)
    try:
        save(plate(), path)
    finally:
        os.umask(mask)
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_a_foreign_change_is_not_overwritten(tmp_path) -> None:
    path = tmp_path / "plate.profile.json"
    known = save(plate(), path)
    other = write(Part(name="Other"))
    path.write_text(other, encoding="utf-8")
    assert changed_on_disk(path, known)
    with refused(str(path), FileError):
        save(plate(), path, known)
    assert path.read_text(encoding="utf-8") == other
    assert save(plate(), path) == known  # asked for without looking


def test_saving_over_what_is_known_goes_on(tmp_path) -> None:
    path = tmp_path / "plate.profile.json"
    known = save(plate(), path)
    known = save(Part(name="Next"), path, known)
    path.unlink()
    save(plate(), path, known)  # a file that is gone is made again
    assert load(path).name == "Plate"


@pytest.mark.parametrize("failing", ["fsync", "replace", "fdopen"])
def test_a_failed_write_leaves_the_old_file(tmp_path, monkeypatch, failing: str) -> None:
    path = tmp_path / "plate.profile.json"
    save(plate(), path)

    def fail(*args: object, **kwargs: object) -> None:
        if failing == "fdopen":
            os.close(args[0])
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(atomic.os, failing, fail)
        with refused(str(path), FileError):
            save(Part(name="Lost"), path)
    assert load(path) == plate()
    assert os.listdir(tmp_path) == ["plate.profile.json"]


def test_places_that_cannot_be(tmp_path) -> None:
    for path in (tmp_path, tmp_path / "no" / "x.json", "bad\0name", tmp_path / ("n" * 300)):
        with pytest.raises(FileError):
            load(path)
        with pytest.raises(FileError):
            save(plate(), path)


def test_a_large_file_is_not_read_whole(tmp_path) -> None:
    path = tmp_path / "large"
    path.write_bytes(b" " * 50)
    with refused(str(path), FileError):
        atomic.read_bytes(path, 49)


def test_a_number_that_is_none_is_not_saved(tmp_path) -> None:
    path = tmp_path / "plate.profile.json"
    save(plate(), path)
    bad = plate().having(points={**plate().points, "p1": (float("nan"), 0.0)})
    with pytest.raises(FileError):
        save(bad, path)
    assert load(path) == plate()
