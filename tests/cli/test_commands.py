"""Every command as a user runs it: a process of its own, no mocks."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from sketcher.commands import COMMANDS
from sketcher.part.store import load, save
from sketcher.part.value import Binding
from tests import forked
from tests.plates import bound, plate
from tests.rough import HOLE, holed_plate

ROOT = Path(__file__).resolve().parents[2]
DEMOS = ROOT / "demo_parts"
STRAP = DEMOS / "gate-strap.profile.json"
BRACKET = DEMOS / "shelf-bracket.profile.json"


def run(*args: object, **options: object) -> subprocess.CompletedProcess[str]:
    """Run the program and keep what it says; with options in a Python of its own."""
    if not options:
        return forked.run(["sketcher", *map(str, args)])
    env = {**os.environ, "CI": "1", **options.pop("env", {})}  # type: ignore[dict-item]
    return subprocess.run(
        [sys.executable, "-m", "sketcher", *map(str, args)],
        capture_output=True, text=True, timeout=120, env=env, check=False, **options,  # type: ignore[call-overload]
    )


def one_line(done: subprocess.CompletedProcess[str]) -> str:
    """The one line of an error."""
    assert "Traceback" not in done.stderr
    lines = done.stderr.splitlines()
    assert len(lines) == 1, done.stderr
    return lines[0]


@pytest.fixture
def loose(tmp_path: Path) -> Path:
    """A part whose height is not said."""
    part = bound()
    bindings = dict(part.bindings)
    del bindings["b7"]
    save(part.having(bindings=bindings), tmp_path / "loose.profile.json")
    return tmp_path / "loose.profile.json"


@pytest.fixture
def clashing(tmp_path: Path) -> Path:
    """A part with two widths."""
    part = bound()
    bindings = {**part.bindings, "b8": Binding("run", ("p4", "p3"), "41")}
    save(part.having(bindings=bindings), tmp_path / "clash.profile.json")
    return tmp_path / "clash.profile.json"


# inspect


def test_inspect_of_a_sound_part() -> None:
    done = run("inspect", STRAP)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("Gate strap: sound\n")


def test_inspect_as_json() -> None:
    done = run("inspect", STRAP, "--json")
    told = json.loads(done.stdout)
    assert (done.returncode, told["state"], told["freedoms"]) == (0, "bound", 0)
    assert told["profile"]["closed"]
    assert all(abs(row["residual"]) < 1e-9 * 122 for row in told["dimensions"] if row["drives"])


def test_inspect_prints_in_the_parts_unit() -> None:
    done = run("inspect", BRACKET)
    assert "Dimensions (in, degrees)" in done.stdout


def test_inspect_of_a_loose_part(loose: Path) -> None:
    done = run("inspect", loose)
    assert done.returncode == 1
    assert "1 freedom" in done.stdout
    assert "plumb" in done.stdout


def test_inspect_of_clashing_bindings(clashing: Path) -> None:
    done = run("inspect", clashing, "--json")
    told = json.loads(done.stdout)
    assert (done.returncode, told["state"]) == (1, "clashing")
    assert any({"b6", "b8"} <= set(clash) for clash in told["clashes"])


# solve


def test_solve_writes_exact_geometry_that_stays(tmp_path: Path) -> None:
    out = tmp_path / "solved.profile.json"
    done = run("solve", STRAP, "--out", out)
    assert done.returncode == 0
    assert "bound" in done.stdout
    part = load(out)
    assert part.points["p3"][0] == pytest.approx(60.0, abs=1e-9)
    again = run("solve", out, "--out", tmp_path / "again.profile.json")
    assert again.returncode == 0
    for name, at in load(tmp_path / "again.profile.json").points.items():
        assert at == pytest.approx(part.points[name], abs=1e-9)


def test_solve_without_out_writes_nothing(tmp_path: Path) -> None:
    done = run("solve", STRAP, cwd=tmp_path)
    assert done.returncode == 0
    assert list(tmp_path.iterdir()) == []


def test_set_a_parameter_and_a_dimension(tmp_path: Path) -> None:
    out = tmp_path / "x.profile.json"
    done = run("solve", STRAP, "--set", "wall=10", "--set", "b6 = 25.4 mm", "--out", out)
    assert done.returncode == 0
    part = load(out)
    assert part.parameters["wall"] == "10"
    assert part.bindings["b6"].value == "25.4 mm"
    assert part.points["p3"][0] == pytest.approx(58.0, abs=1e-9)  # (96 + 2 * 10) / 2
    assert part.points["p4"][1] == pytest.approx(25.4, abs=1e-9)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ("wall", "NAME=VALUE"),
        ("=3", "NAME=VALUE"),
        ("wal=3", "no parameter or dimension named 'wal'"),
        ("b3=4", "no parameter or dimension named 'b3'"),
        ("wall=3+", "wall"),
        ("wall=nonsense", "nonsense"),
        ("wall=width", "circle"),
        ("b6=9/32", "9/32 in"),
    ],
)
def test_set_that_makes_no_sense(change: str, says: str, tmp_path: Path) -> None:
    done = run("solve", STRAP, "--set", change, "--out", tmp_path / "x.profile.json")
    assert done.returncode == 2
    assert says in one_line(done)
    assert list(tmp_path.iterdir()) == []


def test_set_the_same_name_twice() -> None:
    done = run("solve", STRAP, "--set", "wall=3", "--set", "wall=4")
    assert done.returncode == 2
    assert "twice" in one_line(done)


def test_a_clash_writes_nothing(clashing: Path, tmp_path: Path) -> None:
    out = tmp_path / "x.profile.json"
    done = run("solve", clashing, "--out", out)
    assert done.returncode == 1
    assert "b8" in done.stdout
    assert not out.exists()
    assert one_line(done)


def test_a_loose_part_is_solved_and_says_so(loose: Path) -> None:
    done = run("solve", loose)
    assert done.returncode == 0
    assert "1 freedom left; loose: p3, p4" in done.stdout


# order


def test_order_numbers_its_steps() -> None:
    done = run("order", STRAP)
    assert done.returncode == 0
    numbers = [int(n) for n in re.findall(r"^ *(\d+)\. ", done.stdout, re.MULTILINE)]
    assert numbers == list(range(1, len(numbers) + 1))
    assert len(numbers) >= 15


def test_order_of_clashing_bindings(clashing: Path) -> None:
    done = run("order", clashing)
    assert done.returncode == 1
    assert "b8" in one_line(done)


# export


@pytest.mark.parametrize("option", [(), ("--pieces",)])
def test_export(option: tuple[str, ...], tmp_path: Path) -> None:
    done = run("export", STRAP, "--cut", tmp_path / "strap.dxf", *option)
    assert (done.returncode, done.stderr) == (0, "")
    assert "1 outside and 4 inside contours" in done.stdout
    assert done.stdout.count("caution:") == 4
    assert "local codes" in done.stdout
    content = (tmp_path / "strap.dxf").read_bytes()
    assert re.match(rb"(999\n.*\n)+  0\nSECTION\n", content)


def test_export_refuses_and_names_the_finding(tmp_path: Path) -> None:
    part = bound()
    points = {**part.points, "s1": (10.0, 10.0), "s2": (20.0, 10.0)}
    curves = {**part.curves, "stub": plate(points, {"stub": ("s1", "s2")}).curves["stub"]}
    bindings = {**part.bindings, "b8": Binding("fixed", ("s1",)), "b9": Binding("fixed", ("s2",))}
    save(part.having(points=points, curves=curves, bindings=bindings),
         tmp_path / "stub.profile.json")
    done = run("export", tmp_path / "stub.profile.json", "--cut", tmp_path / "x.dxf")
    assert done.returncode == 1
    assert "stub" in one_line(done)
    assert not (tmp_path / "x.dxf").exists()


def test_export_does_not_write_over_the_part(tmp_path: Path) -> None:
    save(bound(), tmp_path / "a.profile.json")
    before = (tmp_path / "a.profile.json").read_bytes()
    done = run("export", tmp_path / "a.profile.json", "--cut", tmp_path / "a.profile.json")
    assert done.returncode == 2
    assert str(tmp_path / "a.profile.json") in one_line(done)
    assert (tmp_path / "a.profile.json").read_bytes() == before


# demo


def test_demo_does_all_of_it(tmp_path: Path) -> None:
    folder = tmp_path / "all of it"
    done = run("demo", "--folder", folder, "--headless")
    assert (done.returncode, done.stderr) == (0, "")
    names = {path.name for path in folder.iterdir()}
    assert names == {"gate-strap.profile.json", "gate-strap.dxf", "inspection.txt",
                     "inspection.json", "inspection.csv", "inspection.html", "order.txt"}
    assert all(path.stat().st_size for path in folder.iterdir())
    assert str(folder) in done.stdout
    told = json.loads((folder / "inspection.json").read_text(encoding="utf-8"))
    for row in told["dimensions"]:
        assert f"  {row['id']} " in done.stdout
    assert done.stdout.count("tangent (bound)") == sum(
        joint["state"] == "tangent" and joint["bound"] for joint in told["joints"])
    assert "caution:" in done.stdout


def test_demo_into_a_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("")
    done = run("demo", "--folder", tmp_path / "taken", "--headless")
    assert done.returncode == 2
    assert "taken" in one_line(done)


# what can go wrong around them


def test_no_command_without_a_screen() -> None:
    env = {"QT_QPA_PLATFORM": "", "DISPLAY": "", "WAYLAND_DISPLAY": ""}
    if sys.platform != "linux":
        pytest.skip("other systems always have a screen")
    done = run(env=env)
    assert done.returncode == 2
    assert "no screen" in one_line(done)


@pytest.mark.parametrize("command", ["inspect", "solve", "order"])
def test_a_missing_file(command: str) -> None:
    done = run(command, "nowhere.profile.json")
    assert done.returncode == 2
    assert "nowhere.profile.json" in one_line(done)


def test_a_folder_in_place_of_a_file(tmp_path: Path) -> None:
    assert run("inspect", tmp_path).returncode == 2
    done = run("export", STRAP, "--cut", tmp_path)
    assert done.returncode == 2
    assert one_line(done)


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read all")
def test_no_permission(tmp_path: Path) -> None:
    save(bound(), tmp_path / "a.profile.json")
    (tmp_path / "a.profile.json").chmod(0)
    done = run("inspect", tmp_path / "a.profile.json")
    assert done.returncode == 2
    assert "a.profile.json" in one_line(done)


def test_a_read_only_place(tmp_path: Path) -> None:
    done = run("solve", STRAP, "--out", tmp_path / "none" / "x.profile.json")
    assert done.returncode == 2
    assert "none" in one_line(done)


@pytest.mark.parametrize("args", [("sing",), ("inspect",), ("export", "x"), ("solve", "a", "b")])
def test_a_command_that_makes_no_sense_is_one_line(args: tuple[str, ...]) -> None:
    done = run(*args)
    assert done.returncode == 2
    assert "--help" in one_line(done)


def test_a_reader_that_goes_away() -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "sketcher", "inspect", str(STRAP)],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        said = process.stderr.read()
        assert process.wait(60) == 141
    assert said == b""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs /dev/full")
def test_a_full_disk() -> None:
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "sketcher", "inspect", str(STRAP)], stdout=full,
            stderr=subprocess.PIPE, text=True, timeout=60, check=False,
        )
    assert done.returncode == 2
    assert "Traceback" not in done.stderr
    assert len(done.stderr.splitlines()) == 1


def test_output_that_cannot_show_every_sign() -> None:
    done = run("inspect", STRAP, env={"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"})
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize("command", ["", *COMMANDS])
def test_help_teaches(command: str) -> None:
    done = run(*filter(None, [command]), "--help")
    assert done.returncode == 0
    assert len(done.stdout.splitlines()) > 8
    assert max(map(len, done.stdout.splitlines())) <= 100
    if command not in {"", "demo", "open"}:
        assert "Exit status:" in done.stdout


def test_commands_import_no_qt_and_inspect_no_ezdxf() -> None:
    probe = (
        "import sys; from sketcher.cli import main; main(['inspect', sys.argv[1]]); "
        "bad = [m for m in sys.modules if m.split('.')[0] in "
        "{'PySide6', 'shiboken6', 'ezdxf', 'shapely'}]; sys.exit(str(bad) if bad else 0)"
    )
    done = subprocess.run([sys.executable, "-c", probe, str(STRAP)], capture_output=True,
                          text=True, timeout=60, check=False)
    assert done.returncode == 0, done.stderr


def test_a_fault_of_the_program_is_told_in_one_line() -> None:
    probe = (
        "import sys, sketcher.cli as cli\n"
        "def broken(): raise ZeroDivisionError('two\\nlines')\n"
        "cli._parser = broken\nsys.exit(cli.main([]))"
    )
    done = subprocess.run([sys.executable, "-c", probe], capture_output=True, text=True,
                          timeout=60, check=False)
    assert done.returncode == 3
    assert "fault in the program: ZeroDivisionError: two lines" in one_line(done)


@pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals")
def test_work_longer_than_a_second_is_told_on_a_terminal() -> None:
    import pty

    probe = (
        "import time, sketcher.terminal as terminal\n"
        "with terminal.progress('solving Strap'): time.sleep(1.4)\n"
        "with terminal.progress('quick'): pass\n"
    )
    ours, theirs = pty.openpty()
    done = subprocess.run([sys.executable, "-c", probe], stderr=theirs, timeout=60, check=False)
    os.close(theirs)
    said = os.read(ours, 4096).decode()
    os.close(ours)
    assert done.returncode == 0
    assert "solving Strap: 1 s" in said
    assert "quick" not in said
    assert said.endswith("\r")


def test_version() -> None:
    done = run("--version")
    assert (done.returncode, done.stdout.split()[0]) == (0, "sketcher")


# Sides in doubt.


@pytest.fixture
def doubtful(tmp_path: Path) -> Path:
    """A sketch that leaves open on which side of its center line a hole lies."""
    save(holed_plate(0.2), tmp_path / "doubtful.profile.json")
    return tmp_path / "doubtful.profile.json"


def test_a_doubt_is_told_and_written_with_its_mark(doubtful: Path, tmp_path: Path) -> None:
    out = tmp_path / "out.profile.json"
    done = run("solve", doubtful, "--out", out)
    assert done.returncode == 1
    assert HOLE in done.stdout
    assert "(50, 25)" in done.stdout
    assert "(30, 25)" in done.stdout
    told = run("inspect", out, "--json")
    assert told.returncode == 1
    assert [f["code"] for f in json.loads(told.stdout)["findings"]] == ["doubtful"]
    assert run("export", out, "--cut", tmp_path / "out.dxf").returncode != 0


@pytest.mark.parametrize(("said", "x", "side"), [("--confirm", 50.0, "right"),
                                                 ("--flip", 30.0, "left")])
def test_a_doubt_is_settled_either_way(
    doubtful: Path, tmp_path: Path, said: str, x: float, side: str
) -> None:
    out = tmp_path / "out.profile.json"
    assert run("solve", doubtful, said, HOLE, "--out", out).returncode == 0
    assert load(out).points["k1"] == pytest.approx((x, 25.0))
    assert load(out).bindings[HOLE].side == side
    assert run("inspect", out).returncode == 0


def test_flipping_twice_is_as_before_and_what_is_sure_is_not_confirmed(
    doubtful: Path, tmp_path: Path
) -> None:
    out = tmp_path / "out.profile.json"
    assert run("solve", doubtful, "--flip", HOLE, "--flip", HOLE, "--out", out).returncode == 0
    assert load(out).points["k1"] == pytest.approx((50.0, 25.0))
    for wrong in (("--confirm", HOLE), ("--confirm", "zz"), ("--flip", "zz"), ("--flip", "b1")):
        done = run("solve", out, *wrong)
        assert done.returncode == 2
        one_line(done)
