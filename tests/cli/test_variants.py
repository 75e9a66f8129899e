"""``sketcher variants``, and ``sketcher mark`` by the keys that it has made."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pdfplumber
import pytest

from tests import forked
from tests.demo_parts import FOLDER
from tests.read_back import rows

STRAP = FOLDER / "gate-strap.profile.json"
VARY = ("--vary", "wall=10..12:0.5", "--vary", "b20=17..21:1", "--seed", "5")


def run(*args: object) -> tuple[int, str, str]:
    done = forked.run(["sketcher", *map(str, args)])
    return done.returncode, done.stdout, done.stderr


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Variants of four students, one of whose numbers is no name for a file."""
    place = tmp_path_factory.mktemp("variants")
    (place / "roster.csv").write_text("number,name\n07,\nA12,\n9/b,\n3,\n")
    status, out, errors = run("variants", STRAP, "--roster", place / "roster.csv",
                              "--out", place / "out", *VARY, "--jobs", 2)
    assert (status, errors) == (0, "")
    assert out.startswith("4 variants, of 25 draws that there are, by seed 5\n")
    return place


def test_each_number_has_a_key_and_a_handout_with_its_values(folder: Path) -> None:
    table = rows(folder / "out" / "variants.csv")
    assert list(table[0]) == ["number", "variant", "key", "handout", "wall", "b20"]
    assert [row["number"] for row in table] == ["07", "A12", "9/b", "3"]
    assert len({(row["wall"], row["b20"]) for row in table}) == 4
    assert len({row["variant"] for row in table}) == 4
    for row in table:
        key = json.loads((folder / "out" / row["key"]).read_bytes())
        wall, across = float(row["wall"]), float(row["b20"])
        hole, rim = key["curves"]["h1"]["radius"], key["curves"]["a3"]
        end, center = (key["points"][name] for name in (rim["ends"][0], rim["center"]))
        radius = ((end[0] - center[0]) ** 2 + (end[1] - center[1]) ** 2) ** 0.5
        assert 2.0 * hole == pytest.approx(across, abs=1e-9)
        assert radius - hole == pytest.approx(wall, abs=1e-9)
        with pdfplumber.open(folder / "out" / row["handout"]) as pdf:
            words = pdf.pages[0].extract_text()
        assert f"{row['number']} {row['variant']}" in words
        assert f"Ø{row['b20']}" in words


def test_another_order_of_the_roster_and_one_less_change_nothing(folder: Path) -> None:
    (folder / "other.csv").write_text("number\n3\n9/b\n07\n")
    status, out, _ = run("variants", STRAP, "--roster", folder / "other.csv",
                         "--out", folder / "again", *VARY, "--jobs", 1, "--json")
    assert status == 0
    before = {row["number"]: row for row in rows(folder / "out" / "variants.csv")}
    after = rows(folder / "again" / "variants.csv")
    assert [row["number"] for row in after] == ["3", "9/b", "07"]
    assert all(row == before[row["number"]] for row in after)
    for row in after:
        assert (folder / "again" / row["key"]).read_bytes() == (
            folder / "out" / row["key"]).read_bytes()
    told = json.loads(out)
    assert [(each["number"], each["variant"]) for each in told["variants"]] == [
        (row["number"], row["variant"]) for row in after]
    assert len(told["refused"]) + 3 <= told["tried"]


def test_hand_ins_are_marked_by_the_key_of_their_number(folder: Path) -> None:
    table = {row["number"]: row for row in rows(folder / "out" / "variants.csv")}
    hand_ins = folder / "in"
    hand_ins.mkdir()
    whose = next(number for number in ("07", "A12", "9/b") if all(
        table[number][each] != table["3"][each] for each in ("wall", "b20")))
    for name, number in (("7-mine", "07"), ("A12-mine", "A12"), ("3-of-another", whose)):
        shutil.copy(folder / "out" / table[number]["key"], hand_ins / f"{name}.profile.json")
    status, out, errors = run("mark", "--variants", folder / "out" / "variants.csv", hand_ins,
                              "--out", folder / "marked")
    assert (status, errors) == (0, "")
    assert "handed in nothing:\n  9/b\n" in out
    marks = {row["number"]: row["points"] for row in rows(folder / "marked" / "marks.csv")}
    assert (marks["07"], marks["A12"], marks["9/b"]) == ("100", "100", "")
    told = [row for row in rows(folder / "marked" / "deductions.csv")
            if row["rule"] == "wrong-value"]
    assert {row["file"] for row in told} == {"3-of-another.profile.json"}
    assert len(told) == 2
    assert f"3-of-another.profile.json: has the values of number {whose}\n" in out
    with pdfplumber.open(folder / "marked" / "A12-mine.marked.pdf") as pdf:
        assert table["A12"]["variant"] in pdf.pages[0].extract_text()


@pytest.mark.parametrize(("words", "said"), [
    (("--vary", "wal=10..14:1"), "--vary wal=10..14:1: no parameter or dimension named 'wal'"),
    (("--vary", "wall=11..12:1", "--force"), "--vary: gives 2 different variants for 4 students"),
    (("--vary", "wall=10..14:1", "--least", "-1"), "--least -1: is below zero"),
    (("--vary", "wall=10..14:1", "--jobs", "0"), "--jobs 0: is less than one process"),
    (VARY, "07.profile.json: is a part; choose another folder, or replace it with --force"),
])
def test_what_cannot_be_varied_is_one_line(
    folder: Path, words: tuple[str, ...], said: str
) -> None:
    status, out, errors = run("variants", STRAP, "--roster", folder / "roster.csv",
                              "--out", folder / "out", *words)
    assert (status, out) == (2, "")  # and nothing is replaced
    assert len(errors.splitlines()) == 1
    assert said in errors
