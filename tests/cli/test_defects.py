"""Every kind of defective file, through the command: one line that names the place, exit 2."""

from __future__ import annotations

from pathlib import Path

import pytest

from sketcher.cli import main
from sketcher.errors import EditError
from tests.cli.test_commands import STRAP, one_line, run
from tests.defects import DEFECTS, Defect


@pytest.mark.parametrize("defect", DEFECTS, ids=lambda defect: defect.name)
@pytest.mark.parametrize("command", ["inspect", "solve"])
def test_a_defect_is_one_line_and_exit_2(
    command: str, defect: Defect, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "bad.profile.json"
    path.write_bytes(defect.content)
    assert main([command, str(path)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert len(said.err.splitlines()) == 1
    assert said.err.startswith(f"sketcher: {path}")
    for words in defect.says:
        assert words in said.err


@pytest.mark.parametrize("defect", DEFECTS[::8], ids=lambda defect: defect.name)
def test_some_of_them_in_a_process_of_its_own(defect: Defect, tmp_path: Path) -> None:
    path = tmp_path / "bad.profile.json"
    path.write_bytes(defect.content)
    done = run("inspect", path)
    assert (done.returncode, done.stdout) == (2, "")
    assert str(path) in one_line(done)


def test_there_are_at_least_thirty_kinds() -> None:
    assert len({defect.name for defect in DEFECTS}) >= 30


def test_nothing_is_printed_of_what_cannot_be_constructed(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def refused(part: object) -> None:
        raise EditError("bindings", "b34, b35 cannot all hold", "change or drop one")

    monkeypatch.setattr("sketcher.lesson.order.construction_order", refused)
    assert main(["order", str(STRAP)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert len(said.err.splitlines()) == 1
