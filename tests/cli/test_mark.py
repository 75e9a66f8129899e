"""``sketcher mark`` and ``sketcher demo --class``, as a teacher runs them."""

from __future__ import annotations

import json
import re
import shlex
import shutil
import subprocess
from pathlib import Path

import pytest

from sketcher.part.store import save
from sketcher.part.value import Binding
from tests import forked
from tests.demo_parts import FOLDER
from tests.plates import bound
from tests.read_back import rows, words_of

STRAP = FOLDER / "gate-strap.profile.json"


def run(*args: object) -> subprocess.CompletedProcess[str]:
    return forked.run(["sketcher", *map(str, args)])


def test_the_demo_class_is_marked_by_the_command_that_it_says(tmp_path: Path) -> None:
    folder = tmp_path / "a class"
    demo = run("demo", "--class", folder)
    assert (demo.returncode, demo.stderr) == (0, "")
    class_marked = run(*shlex.split(demo.stdout.splitlines()[-1])[1:])
    assert (class_marked.returncode, class_marked.stderr) == (1, "")  # one file was cut short
    assert "12 of 13 hand-ins marked" in class_marked.stdout
    assert "\n  12-strap.dxf: " in class_marked.stdout
    assert "04-strap.dxf and 09-strap.dxf: " in class_marked.stdout
    marks = rows(folder / "marked" / "marks.csv")
    assert list(marks[0]) == ["number", "name", "file", "points", "of", "deductions", "ungraded",
                              "unit", "turned", "mirrored"]
    by_number = {row["number"]: row for row in marks}
    assert list(by_number) == [f"{number:02d}" for number in range(1, 15)]
    assert by_number["12"]["points"] == ""
    assert "not a readable DXF" in by_number["12"]["ungraded"]
    assert by_number["14"]["ungraded"] == "nothing handed in"
    assert by_number["01"]["points"] == "100"
    assert by_number["13"]["points"] == "100"  # other layer names and another datum cost nothing
    assert by_number["05"]["turned"] == "90"
    sheets = {path.name for path in (folder / "marked").glob("*.pdf")}
    assert sheets == {"class.pdf"} | {f"{number:02d}-strap.marked.pdf" for number in range(1, 14)}
    why = words_of(folder / "marked" / "12-strap.marked.pdf")
    assert "Not graded" in why
    assert "no section ENTITIES" in why
    assert "96 of 100" in words_of(folder / "marked" / "02-strap.marked.pdf")
    report = words_of(folder / "marked" / "class.pdf")
    assert "13 hand-ins, 12 graded" in report
    assert "not a readable DXF" in report
    told = rows(folder / "marked" / "deductions.csv")
    assert list(told[0]) == ["file", "rule", "points", "count", "x", "y", "found", "wanted",
                             "text"]
    for file, wanted, found in (("02-strap.dxf", "20", "22"), ("03-strap.dxf", "100", "104")):
        [row] = [row for row in told if row["file"] == file]
        assert (row["rule"], row["points"]) == ("wrong-value", "4")
        assert wanted in row["wanted"]
        assert found in row["found"]


def test_a_broken_file_among_thirty_changes_nothing_for_the_others(tmp_path: Path) -> None:
    hand_ins, key = tmp_path / "in", tmp_path / "key.profile.json"
    hand_ins.mkdir()
    part = bound()
    save(part, key)
    for number in range(1, 30):
        wide = Binding("run", ("p4", "p3"), str(40 + number % 3))
        save(part.having(bindings={**part.bindings, "b6": wide}),
             hand_ins / f"{number:02d}.profile.json")
    for out in ("without", "with"):
        done = run("mark", key, hand_ins, "--out", tmp_path / out, "--tables-only")
        assert done.returncode == (1 if out == "with" else 0), done.stdout
        broken = b"  0\nSECTION\n  2\nENTITIES\n  0\nLINE\n 10\n?"
        (hand_ins / "15-broken.dxf").write_bytes(broken)
    alone, beside = ({path.name: path.read_bytes() for path in (tmp_path / out).iterdir()}
                     for out in ("without", "with"))
    assert sorted(alone) == sorted(beside) == ["deductions.csv", "marks.csv"]
    lines = [line for line in beside["marks.csv"].splitlines() if b"15-broken.dxf" not in line]
    assert len(lines) == 30
    assert lines == alone.pop("marks.csv").splitlines()
    assert beside.pop("marks.csv").count(b"\n") == 31
    assert beside == alone
    assert alone["deductions.csv"].count(b"wrong-value") == 20


def test_numbers_only_leaves_every_name_out(tmp_path: Path) -> None:
    hand_ins = tmp_path / "in"
    hand_ins.mkdir()
    shutil.copy(STRAP, hand_ins / "7-Quill.profile.json")
    (hand_ins / "8-Rowan.dxf").write_text("8-Rowan.dxf")
    (hand_ins / "Sorrel.dxf").write_text("x")
    (tmp_path / "roster.csv").write_text("number;name;group\n7;=Quill();A\n8;Rowan;A\n9;Tansy;A\n")
    out = tmp_path / "out"
    words = ("mark", STRAP, hand_ins, "--roster", tmp_path / "roster.csv", "--out", out)
    told = run(*words, "--numbers-only", "--json")
    assert told.returncode == 1
    written = told.stdout + "".join(
        path.name + path.read_bytes().decode("latin-1") for path in out.iterdir())
    written += "".join(map(words_of, out.glob("*.pdf")))
    assert "100 of 100" in written
    assert "Not graded" in written
    for name in ("Quill", "Rowan", "Sorrel", "Tansy"):
        assert name not in written.replace(str(tmp_path), "")
    assert [(row["number"], row["file"]) for row in rows(out / "marks.csv")] == [
        ("7", "7.profile.json"), ("8", "8.dxf"), ("unlisted", "unlisted-1.dxf"), ("9", "")]
    assert [each["points"] for each in json.loads(told.stdout)["hand-ins"]] == [
        100.0, None, None, None]
    shutil.rmtree(out)
    (hand_ins / "Tansy.dxf").write_text("x")  # without a roster a name is no number either
    assert run("mark", STRAP, hand_ins, "--numbers-only", "--tables-only", "--out", out
               ).returncode == 1
    assert [row["number"] for row in rows(out / "marks.csv")] == ["7", "8", "unlisted", "unlisted"]
    assert not re.search("Sorrel|Tansy", (out / "marks.csv").read_text(encoding="utf-8-sig"))
    (hand_ins / "Tansy.dxf").unlink()
    # with names, one that a spreadsheet would take for a formula is a text
    assert run(*words, "--tables-only").returncode == 1
    assert [row["name"] for row in rows(out / "marks.csv")] == ["'=Quill()", "Rowan", "", "Tansy"]


def test_columns_that_a_teacher_filled_in_are_not_written_over(tmp_path: Path) -> None:
    hand_ins, out, key = tmp_path / "in", tmp_path / "out", tmp_path / "key.profile.json"
    hand_ins.mkdir()
    save(bound(), key)
    shutil.copy(key, hand_ins)
    words = ("mark", key, hand_ins, "--out", out, "--columns", "neatness, late", "--tables-only")
    assert run(*words).returncode == 0
    assert run(*words).returncode == 0
    text = (out / "marks.csv").read_text(encoding="utf-8-sig")
    assert text.splitlines()[0].endswith(",mirrored,neatness,late")
    (out / "marks.csv").write_text(text.replace("no,,", "no,3,"), encoding="utf-8")
    done = run(*words)
    assert done.returncode == 2
    assert "marks.csv" in done.stderr
    assert len(done.stderr.splitlines()) == 1
    assert run(*words, "--force").returncode == 0


def test_each_number_is_marked_by_its_own_key(tmp_path: Path) -> None:
    keys, hand_ins = tmp_path / "keys", tmp_path / "in"
    keys.mkdir()
    hand_ins.mkdir()
    for number, value in (("1", "22"), ("2", "20")):
        key = keys / f"{number}.profile.json"
        assert run("solve", STRAP, "--set", f"b20={value}", "--out", key).returncode == 0
        shutil.copy(key, hand_ins)
    shutil.copy(keys / "1.profile.json", hand_ins / "2-from-1.profile.json")
    shutil.copy(keys / "1.profile.json", hand_ins / "3.profile.json")
    (keys / "variants.csv").write_text(
        "number,variant,key,handout,b20\n1,a,1.profile.json,1.pdf,22\n2,b,2.profile.json,,20\n")
    done = run("mark", "--variants", keys / "variants.csv", hand_ins, "--out", tmp_path / "out",
               "--tables-only")
    assert done.returncode == 1
    assert {row["file"]: row["points"] for row in rows(tmp_path / "out" / "marks.csv")} == {
        "1.profile.json": "100", "2.profile.json": "100", "2-from-1.profile.json": "96",
        "3.profile.json": ""}
    assert "3.profile.json: its number has no key" in done.stdout


@pytest.mark.parametrize(("words", "said"), [
    ((), "needs a key and a folder"),
    (("KEY", "IN"), "--out: is not given"),
    (("KEY", "IN", "--out", "OUT", "--jobs", "0"), "--jobs 0: is less than one"),
    (("KEY", "IN", "--out", "OUT", "--columns", "points"), "has a column 'points' already"),
    (("KEY", "NONE", "--out", "OUT"), "no such file or directory"),
    (("KEY", "IN", "--out", "IN"), "is the folder of the hand-ins"),
    (("KEY", "IN", "--out", "KEY"), "KEY: "),
    (("LOOSE", "IN", "--out", "OUT"), "is no key: something is loose"),
    (("KEY", "IN", "--out", "OUT", "--rubric", "KEY"), "name: unknown key"),
    (("KEY", "IN", "--out", "OUT", "--roster", "KEY"), "has no column 'number'"),
    (("IN", "--out", "OUT", "--variants", "KEY"), "has no column 'number'"),
])
def test_what_cannot_be_marked_by_is_one_line(
    tmp_path: Path, words: tuple[str, ...], said: str
) -> None:
    hand_ins = tmp_path / "in"
    hand_ins.mkdir()
    shutil.copy(STRAP, hand_ins)
    part = bound()
    bindings = {name: each for name, each in part.bindings.items() if name != "b7"}
    save(part.having(bindings=bindings), tmp_path / "loose.profile.json")
    places = {"KEY": STRAP, "IN": hand_ins, "OUT": tmp_path / "out", "NONE": tmp_path / "none",
              "LOOSE": tmp_path / "loose.profile.json"}
    done = run("mark", *(places.get(word, word) for word in words))
    assert done.returncode == 2, done.stdout
    assert len(done.stderr.splitlines()) == 1
    assert said.replace("KEY", str(STRAP)) in done.stderr
    assert not list(tmp_path.glob("out/*"))


def test_a_rubric_is_saved_changed_and_used(tmp_path: Path) -> None:
    rubric = tmp_path / "a.rubric.json"
    assert run("mark", "--save-rubric", rubric).returncode == 0
    assert run("mark", "--save-rubric", rubric).returncode == 0
    told = json.loads(rubric.read_text(encoding="utf-8"))
    told["rules"]["wrong-value"] = {"points": 10, "cap": 30}
    rubric.write_text(json.dumps(told), encoding="utf-8")
    assert run("mark", "--save-rubric", rubric).returncode == 2
    hand_ins = tmp_path / "in"
    hand_ins.mkdir()
    assert run("solve", STRAP, "--set", "b20=22", "--out", hand_ins / "1.profile.json"
               ).returncode == 0
    done = run("mark", STRAP, hand_ins, "--out", tmp_path / "out", "--rubric", rubric,
               "--tables-only")
    assert done.returncode == 0
    assert [row["points"] for row in rows(tmp_path / "out" / "marks.csv")] == ["90"]


def test_an_option_may_stand_between_two_places(tmp_path: Path) -> None:
    """Both places are taken: what is told is that the second is empty."""
    done = run("mark", STRAP, "--out", tmp_path / "out", tmp_path)
    assert done.returncode == 2
    assert done.stderr.startswith(f"sketcher: {tmp_path}: holds no hand-in")


def test_what_follows_two_dashes_is_a_place(tmp_path: Path) -> None:
    done = run("inspect", "--json", "--", "-no-option.profile.json")
    assert done.returncode == 2
    assert done.stderr.startswith("sketcher: -no-option.profile.json: ")
