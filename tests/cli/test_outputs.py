"""Outputs of the commands: none replaces what it should not, and nothing is written in half."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from sketcher import cli
from sketcher.part.store import load, save
from sketcher.part.value import Binding, Part
from tests.plates import plate, rectangle

FOREIGN = {
    ".dxf": b"  0\nSECTION\n  2\nENTITIES\n  0\nENDSEC\n  0\nEOF\n",
    ".pdf": b"%PDF-1.4\n%of another program\n%%EOF\n",
    ".svg": b'<svg xmlns="http://www.w3.org/2000/svg"/>',
    ".png": b"\x89PNG\r\n\x1a\n and so on",
    ".csv": b"wages,hours\n12,40\n",
}


def sample(name: str = "Sample") -> Part:
    points, lines = rectangle(40.0, 20.0)
    return replace(plate(
        points, lines, Binding("fixed", ("p1",)), Binding("level", ("pe1",)),
        Binding("level", ("pe3",)), Binding("plumb", ("pe2",)), Binding("plumb", ("pe4",)),
        Binding("run", ("p1", "p2"), "40"), Binding("rise", ("p1", "p4"), "20"),
    ), name=name)


@pytest.fixture
def part(tmp_path: Path) -> Path:
    path = tmp_path / "sample.profile.json"
    save(sample(), path)
    return path


class Said:
    """What one run of a command said, and what became of the files."""

    def __init__(self, folder: Path, capfd: pytest.CaptureFixture[str], *args: object) -> None:
        before = contents(folder)
        self.status = cli.main([str(arg) for arg in args])
        self.out, self.err = capfd.readouterr()
        self.changed = {k for k, v in contents(folder).items() if before.get(k) != v}

    @property
    def is_refused(self) -> bool:
        """One line, exit 2, no file touched."""
        lines = self.err.splitlines()
        return self.status == 2 and len(lines) == 1 and not self.changed and not self.out


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


OUTPUTS = (
    ("export", "--cut", ".dxf"), ("export", "--sheet", ".pdf"), ("export", "--sheet", ".svg"),
    ("export", "--sheet", ".png"), ("export", "--sheet", ".dxf"), ("export", "--record", ".csv"),
    ("export", "--record", ".pdf"), ("solve", "--out", ".profile.json"),
)


@pytest.mark.parametrize(("command", "option", "suffix"), OUTPUTS)
def test_an_output_replaces_its_own_kind_alone(
    part: Path, capfd: pytest.CaptureFixture[str], command: str, option: str, suffix: str
) -> None:
    folder, target = part.parent, part.with_name(f"out{suffix}")

    def run(*more: str) -> Said:
        return Said(folder, capfd, command, part, option, target, *more)

    assert run().status == 0
    assert target.exists()
    assert run().status == 0  # once more over what it wrote itself
    for there in (FOREIGN.get(suffix, b'{"format": "other"}'), part.read_bytes() + b" ",
                  b"my notes"):
        target.write_bytes(there)
        said = run()
        assert said.is_refused, (said.status, said.err, there)
        assert str(target) in said.err
        assert run("--force").status == 0
        assert target.read_bytes() != there
    target.write_bytes(b"")  # as mktemp leaves it
    assert run().status == 0


@pytest.mark.parametrize(("command", "option", "suffix"), OUTPUTS)
@pytest.mark.parametrize(
    "name", ["", "out.txt", "out", "SUFFIX", "none/outSUFFIX", "a\0SUFFIX"]
)
def test_a_name_that_cannot_be_is_one_error(
    part: Path, capfd: pytest.CaptureFixture[str], command: str, option: str, suffix: str,
    name: str, monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(part.parent)
    for force in ((), ("--force",)):
        said = Said(part.parent, capfd, command, part, option, name.replace("SUFFIX", suffix),
                    *force)
        assert said.is_refused, said.err
        assert name or option in said.err


@pytest.mark.parametrize(("command", "option"), [("export", "--template"), ("import", "--out")])
def test_what_is_no_text_does_not_go_to_standard_output(
    part: Path, capfd: pytest.CaptureFixture[str], command: str, option: str
) -> None:
    said = Said(part.parent, capfd, command, part, option, "-")
    assert said.is_refused, said.err
    assert option in said.err


@pytest.mark.parametrize(("command", "option", "suffix"), OUTPUTS)
@pytest.mark.parametrize("kind", ["fifo", "device", "folder", "read-only"])
def test_what_is_no_file_of_ones_own_is_not_replaced_by_force_either(
    part: Path, capfd: pytest.CaptureFixture[str], command: str, option: str, suffix: str,
    kind: str,
) -> None:
    target = part.with_name(f"out{suffix}")
    if kind == "fifo":
        os.mkfifo(target)
    elif kind == "folder":
        target.mkdir()
    elif kind == "device":
        target.symlink_to("/dev/full")
    else:
        target.touch(0o444)
    before = target.lstat()
    # Nor is the other output of the run written before that is known.
    with_it = ("--cut", part.with_name("first.dxf")) if option in ("--sheet", "--record") else ()
    for force in ((), ("--force",)):
        said = Said(part.parent, capfd, command, part, *with_it, option, target, *force)
        assert said.is_refused, said.err
        assert said.err.count(str(target)) == 1
    assert (target.lstat().st_ino, target.lstat().st_mode) == (before.st_ino, before.st_mode)


@pytest.mark.parametrize(("command", "option", "suffix"), OUTPUTS[:-1])
@pytest.mark.parametrize("link", [os.symlink, os.link])
def test_the_part_under_another_name_is_not_replaced(
    part: Path, capfd: pytest.CaptureFixture[str], command: str, option: str, suffix: str,
    link: object,
) -> None:
    target = part.with_name(f"out{suffix}")
    link(part, target)  # type: ignore[operator]
    for force in ((), ("--force",)):
        assert Said(part.parent, capfd, command, part, option, target, *force).is_refused


def test_a_solved_part_replaces_its_own_file_only_by_force(
    part: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    assert Said(part.parent, capfd, "solve", part, "--set", "b6=50", "--out", part).is_refused
    said = Said(part.parent, capfd, "solve", part, "--set", "b6=50", "--out", part, "--force")
    assert (said.status, said.changed) == (0, {part.name})
    assert load(part).bindings["b6"].value == "50"


def test_writing_the_same_part_again_is_no_loss(
    part: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    other = part.with_name("again.profile.json")
    for _ in range(2):
        assert Said(part.parent, capfd, "solve", part, "--out", other).status == 0
    assert Said(part.parent, capfd, "solve", part, "--set", "b6=50", "--out", other).status == 2


@pytest.mark.parametrize(
    "args",
    [
        ("--cut", "a.dxf", "--sheet", "a.dxf"),
        ("--cut", "a.dxf", "--sheet", "./a.dxf"),
        ("--sheet", "a.pdf", "--record", "a.pdf"),
        ("--cut", "a.dxf", "--sheet", "link.dxf"),
    ],
)
def test_two_outputs_in_one_file_are_refused(
    part: Path, capfd: pytest.CaptureFixture[str], args: tuple[str, ...],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(part.parent)
    Path("link.dxf").symlink_to("a.dxf")
    for force in ((), ("--force",)):
        assert Said(part.parent, capfd, "export", part, *args, *force).is_refused


def test_a_further_page_replaces_its_own_kind_alone(
    part: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    given = load(part)
    save(given.having(drawing=replace(given.drawing, inspection_page=True)), part)
    first, second = (part.with_name(name) for name in ("a.svg", "a-2.svg"))
    second.write_bytes(FOREIGN[".svg"])
    args = ("export", part, "--cut", part.with_name("a.dxf"), "--sheet", first)
    said = Said(part.parent, capfd, *args)
    assert said.is_refused
    assert str(second) in said.err
    assert Said(part.parent, capfd, *args, "--force").changed == {"a.dxf", "a.svg", "a-2.svg"}
    assert Said(part.parent, capfd, *args).status == 0


def test_a_cutting_file_and_a_drawing_do_not_replace_each_other(
    part: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    for one, two, suffix in (("--cut", "--sheet", "dxf"), ("--sheet", "--cut", "dxf"),
                             ("--sheet", "--record", "pdf"), ("--record", "--sheet", "pdf")):
        target = part.with_name(f"{one.strip('-')}.{suffix}")
        assert Said(part.parent, capfd, "export", part, one, target).status == 0
        assert Said(part.parent, capfd, "export", part, two, target).is_refused


# The record.


def test_a_record_alone_and_what_is_measured(
    part: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    record = part.with_name("r.csv")
    assert Said(part.parent, capfd, "export", part, "--record", record).changed == {"r.csv"}
    text = record.read_text("utf-8-sig").splitlines()
    row = next(k for k, line in enumerate(text) if line.endswith(",b6"))
    cells = text[row].split(",")
    cells[text[0].split(",").index("measured")] = "40.5"
    record.write_text("\n".join([*text[:row], ",".join(cells), *text[row + 1:]]), "utf-8")
    measured = record.read_bytes()
    # What somebody measured is not lost by writing an empty record over it.
    assert Said(part.parent, capfd, "export", part, "--record", record).is_refused
    assert record.read_bytes() == measured
    said = Said(part.parent, capfd, "export", part, "--measured", record, "--record", record)
    assert said.status == 1  # outside its limits
    assert "b6" in said.out
    assert "40.5" in record.read_text("utf-8-sig")


def test_measured_values_that_go_nowhere_are_refused(
    part: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    measured = part.with_name("m.csv")
    measured.write_text("id,measured\nb6,40\n")
    for args in ((), ("--cut", part.with_name("a.dxf")), ("--sheet", part.with_name("a.svg"))):
        assert Said(part.parent, capfd, "export", part, "--measured", measured, *args).is_refused
    measured.write_text("id,measured\nb6,40\nb6,41\n")
    said = Said(part.parent, capfd, "export", part, "--measured", measured,
                "--cut", part.with_name("a.dxf"), "--record", part.with_name("r.csv"))
    assert said.is_refused  # nor is the cutting file written before that is known


# Not in half.


def test_a_disk_that_is_full_says_what_is_written_already(part: Path) -> None:
    code = ("import resource, sys; from sketcher import cli\n"
            "resource.setrlimit(resource.RLIMIT_FSIZE, (40_000, 40_000))\n"
            "sys.exit(cli.main(sys.argv[1:]))\n")
    cut, sheet = part.with_name("a.dxf"), part.with_name("a.png")
    done = subprocess.run(
        [sys.executable, "-c", code, "export", str(part), "--cut", str(cut), "--sheet", str(sheet)],
        capture_output=True, text=True, check=False, timeout=100,
    )
    assert done.returncode == 2
    assert len(done.stderr.splitlines()) == 1
    assert str(sheet) in done.stderr
    assert str(cut) in done.stderr
    assert sorted(os.listdir(part.parent)) == ["a.dxf", part.name]


def test_the_demo_does_not_replace_a_part_that_was_changed(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    args = ("demo", "--headless", "--folder", tmp_path)
    assert Said(tmp_path, capfd, *args).status == 0
    assert Said(tmp_path, capfd, *args).status == 0  # the same once more
    mine = tmp_path / "gate-strap.profile.json"
    save(load(mine).having(name="Mine"), mine)
    (tmp_path / "order.txt").unlink()
    said = Said(tmp_path, capfd, *args)
    assert (said.status, said.changed) == (2, set())
    assert load(mine).name == "Mine"
    assert not (tmp_path / "order.txt").exists()
    assert Said(tmp_path, capfd, *args, "--force").status == 0
    assert load(mine).name != "Mine"


# What is read.


@pytest.mark.parametrize("command", ["inspect", "order", "solve", "export"])
@pytest.mark.parametrize("kind", ["fifo", "device", "folder", "unreadable", "nul", "round"])
def test_a_file_that_cannot_be_read_is_one_error(
    tmp_path: Path, capfd: pytest.CaptureFixture[str], command: str, kind: str
) -> None:
    path = tmp_path / "x.profile.json"
    name = str(path)
    if kind == "fifo":
        os.mkfifo(path)  # must not be waited for
    elif kind == "folder":
        path.mkdir()
    elif kind == "device":
        name = "/dev/null"
    elif kind == "nul":
        name = "x\0.profile.json"
    elif kind == "round":
        path.symlink_to(path)
    elif os.geteuid() == 0:
        pytest.skip("root may read all")
    else:
        path.touch(0o000)
    more = ("--cut", tmp_path / "a.dxf") if command == "export" else ()
    assert Said(tmp_path, capfd, command, name, *more).is_refused
