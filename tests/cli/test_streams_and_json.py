"""Several files, standard input and output, and what every command prints as JSON."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import ezdxf
import pytest

from sketcher.commands import COMMANDS
from tests import forked

DEMOS = Path(__file__).resolve().parents[2] / "demo_parts"
STRAP, FLANGE, LATCH = (DEMOS / f"{name}.profile.json"
                        for name in ("gate-strap", "pump-flange", "latch-plate"))


def run(*args: object) -> subprocess.CompletedProcess[str]:
    return forked.run(["sketcher", *map(str, args)])


def piped(part: Path, *args: object) -> subprocess.CompletedProcess[bytes]:
    """Run with a part on standard input, in a Python of its own."""
    return subprocess.run([sys.executable, "-m", "sketcher", *map(str, args)], timeout=120,
                          input=part.read_bytes(), capture_output=True, check=False)


def told(*args: object) -> dict[str, Any]:
    done = run(*args)
    assert done.returncode in (0, 1), done.stderr
    found = json.loads(done.stdout)
    assert found["version"] == 1
    return dict(found)


def test_several_parts_are_inspected_and_the_worst_is_the_status(tmp_path: Path) -> None:
    done = run("inspect", STRAP, FLANGE)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith(f"{STRAP}\nGate strap: sound\n")
    assert f"\n\n{FLANGE}\nPump flange: sound\n" in done.stdout
    assert run("inspect", STRAP, LATCH).returncode == 1
    gone = run("inspect", STRAP, tmp_path / "gone.profile.json", LATCH)
    assert gone.returncode == 2
    assert len(gone.stderr.splitlines()) == 1
    assert "gone.profile.json" in gone.stderr
    assert "Latch plate" in gone.stdout
    both = told("inspect", STRAP, LATCH, "--json")
    assert both["format"] == "part-profile-inspections"
    assert [part["sound"] for part in both["parts"]] == [True, False]


@pytest.mark.parametrize(("args", "form", "keys"), [
    (("inspect", STRAP), "inspection", ("sound", "holes", "cutting")),
    (("solve", STRAP), "solution", ("state", "points", "residuals")),
    (("order", STRAP), "order", ("steps",)),
])
def test_json_names_its_form_and_version_first(
    args: tuple[object, ...], form: str, keys: tuple[str, ...]
) -> None:
    found = told(*args, "--json")
    assert list(found)[:2] == ["format", "version"]
    assert found["format"] == f"part-profile-{form}"
    assert set(keys) <= set(found)


def test_every_command_but_the_window_has_json() -> None:
    for name in set(COMMANDS) - {"open"}:
        assert "--json" in run(name, "--help").stdout, name


def test_export_tells_what_a_cut_holds(tmp_path: Path) -> None:
    found = told("export", STRAP, "--cut", tmp_path / "cut.dxf", "--json")
    (part,) = found["parts"]
    space = ezdxf.readfile(tmp_path / "cut.dxf").modelspace()
    assert part["cut"]["inside"] + part["cut"]["outside"] == len(space) == part["cut"]["pierces"]
    assert part["cut"]["travel"] <= part["cut"]["travel as drawn"]
    assert found["wrote"] == [str(tmp_path / "cut.dxf")]
    assert any("caution" in line for line in part["told"])


def test_several_parts_go_to_a_folder_or_are_refused(tmp_path: Path) -> None:
    done = run("export", STRAP, FLANGE, "--cut", f"{tmp_path}/out/", "--holes", f"{tmp_path}/out/",
               "--sheet", tmp_path / "all.pdf")
    assert done.returncode == 0, done.stderr
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == [
        "gate-strap.dxf", "gate-strap.holes.csv", "pump-flange.dxf", "pump-flange.holes.csv"]
    alone = run("export", FLANGE, "--cut", tmp_path / "alone.dxf")
    assert alone.returncode == 0
    assert (tmp_path / "alone.dxf").read_bytes() == (tmp_path / "out/pump-flange.dxf").read_bytes()
    refused = run("export", STRAP, LATCH, "--cut", f"{tmp_path}/none/")
    assert refused.returncode == 1
    assert not list((tmp_path / "none").iterdir())
    one = run("export", STRAP, FLANGE, "--cut", tmp_path / "one.dxf")
    assert one.returncode == 2
    assert "folder" in one.stderr


def test_a_changed_value_is_cut_without_changing_the_file(tmp_path: Path) -> None:
    before = STRAP.read_bytes()
    plain = told("inspect", STRAP, "--json")
    name = next(row["id"] for row in plain["dimensions"] if row["kind"] == "diameter")
    wanted = next(row["wanted"] for row in plain["dimensions"] if row["id"] == name)
    done = run("export", STRAP, "--set", f"{name}={wanted + 1}", "--cut", tmp_path / "cut.dxf")
    assert done.returncode == 0, done.stderr
    radii = {round(circle.dxf.radius, 9)
             for circle in ezdxf.readfile(tmp_path / "cut.dxf").query("CIRCLE")}
    assert round(0.5 * (wanted + 1), 9) in radii
    assert STRAP.read_bytes() == before


def test_text_goes_through_pipes_and_nothing_else_does(tmp_path: Path) -> None:
    done = piped(STRAP, "export", "-", "--cut", "-")
    assert done.returncode == 0, done.stderr
    run("export", STRAP, "--cut", tmp_path / "cut.dxf")
    assert done.stdout == (tmp_path / "cut.dxf").read_bytes()
    assert b"standard output: " in done.stderr
    assert b"caution" in done.stderr
    solved = piped(STRAP, "solve", "-", "--out", "-")
    assert solved.returncode == 0
    assert b"bound" in solved.stderr
    (tmp_path / "solved.profile.json").write_bytes(solved.stdout)
    assert run("inspect", tmp_path / "solved.profile.json").returncode == 0
    bad = piped(Path(__file__), "inspect", "-")
    assert bad.returncode == 2
    assert bad.stderr.startswith(b"sketcher: standard input: ")


@pytest.mark.parametrize("options", [
    ("--cut", "-", "--holes", "-"), ("--cut", "-", "--json"),
])
def test_standard_output_holds_one_thing(options: tuple[str, ...]) -> None:
    done = run("export", STRAP, *options)
    assert done.returncode == 2
    assert done.stdout == ""
    assert len(done.stderr.splitlines()) == 1
    assert "standard output" in done.stderr
