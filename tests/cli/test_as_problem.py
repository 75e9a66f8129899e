"""``sketcher order FILE --as-problem DIR``: handout, key and its construction."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pdfplumber
import pytest

from sketcher.cli import main
from sketcher.part.store import load
from tests import forked
from tests.demo_parts import FOLDER

HOOK = FOLDER / "practice" / "09-door-hook.profile.json"
LINK = FOLDER / "practice" / "05-drag-link.profile.json"
FILES = ["05-drag-link-handout.pdf", "05-drag-link-key.pdf", "05-drag-link-key.profile.json"]


def run(*args: object) -> tuple[int, str, str]:
    done = forked.run(["sketcher", *map(str, args)])
    return done.returncode, done.stdout, done.stderr


def text_of(path: Path) -> str:
    with pdfplumber.open(path) as pdf:
        return "\n".join(page.extract_text() for page in pdf.pages)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that was not there, with the problem of the link."""
    place = tmp_path_factory.mktemp("problems") / "link"
    status, out, errors = run("order", LINK, "--as-problem", place)
    assert (status, errors) == (0, "")
    assert [line.partition(": ")[0] for line in out.splitlines()] == [
        str(place / FILES[k]) for k in (0, 2, 1)]
    return place


def test_three_files_are_written(made: Path) -> None:
    assert sorted(path.name for path in made.iterdir()) == FILES


def test_the_handout_has_every_number_and_no_construction(made: Path) -> None:
    with pdfplumber.open(made / FILES[0]) as pdf:
        assert len(pdf.pages) == 1
        assert (round(pdf.pages[0].width), round(pdf.pages[0].height)) == (842, 595)  # A4 in points
    said = text_of(made / FILES[0])
    for number in ("R22", "R14", "Ø25", "Ø14", "105", "Problem:", "millimetres", "The datum is"):
        assert number in said
    for inner in ("p1", "c1", "t2", "e1", "b3", "1.676", "(0, 0)"):
        assert inner not in said.split()


def test_the_key_is_the_solved_part_and_its_construction(made: Path) -> None:
    key = load(made / FILES[2])
    assert key.notes == ()
    assert key.points["c2"] == pytest.approx((105.0, 0.0), abs=1e-9)
    assert "Construction order" in text_of(made / FILES[1])
    assert "c2" in text_of(made / FILES[1])


def test_hand_ins_are_marked_by_the_key(made: Path, tmp_path: Path) -> None:
    (tmp_path / "in").mkdir()
    text = LINK.read_text(encoding="utf-8")
    (tmp_path / "in" / "right.profile.json").write_text(text, encoding="utf-8")
    wrong = text.replace('"value": "105"', '"value": "107"')
    (tmp_path / "in" / "wrong.profile.json").write_text(wrong, encoding="utf-8")
    status, out, _ = run("mark", made / FILES[2], tmp_path / "in", "--out", tmp_path / "out",
                         "--tables-only", "--jobs", 1, "--json")
    assert status == 0
    told = {each["number"]: each["deductions"] for each in json.loads(out)["hand-ins"]}
    assert told["right"] == []
    (deduction,) = told["wrong"]
    assert (deduction["found"], deduction["wanted"]) == ("107", "105")


def test_made_again_it_replaces_its_own_but_no_key_that_was_changed(
    made: Path, tmp_path: Path
) -> None:
    assert run("order", LINK, "--as-problem", made)[0] == 0
    other = tmp_path / "05-drag-link.profile.json"
    changed = json.loads(LINK.read_text(encoding="utf-8"))
    changed["bindings"]["b3"]["value"] = "110"
    other.write_text(json.dumps(changed), encoding="utf-8")
    before = (made / FILES[0]).read_bytes()
    status, out, errors = run("order", other, "--as-problem", made)
    assert (status, out) == (2, "")
    assert errors == (f"sketcher: {made / FILES[2]}: is a part; choose another name, or replace it"
                      " with --force\n")
    assert (made / FILES[0]).read_bytes() == before
    assert run("order", other, "--as-problem", tmp_path / "new")[0] == 0
    assert run("order", LINK, "--as-problem", tmp_path / "new", "--force")[0] == 0
    assert load(tmp_path / "new" / FILES[2]) == load(made / FILES[2])


def test_json_says_what_was_written(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["order", str(HOOK), "--as-problem", str(tmp_path), "--json"]) == 0
    told = json.loads(capfd.readouterr().out)
    assert sorted(Path(path).name for path in told["wrote"]) == [
        "09-door-hook-handout.pdf", "09-door-hook-key.pdf", "09-door-hook-key.profile.json"]
    assert all(Path(path).is_file() for path in told["wrote"])
    assert told["steps"]


def test_from_standard_input_the_part_gives_the_name(tmp_path: Path) -> None:
    subprocess.run([sys.executable, "-m", "sketcher", "order", "-", "--as-problem", str(tmp_path)],
                   input=LINK.read_bytes(), capture_output=True, check=True, timeout=120)
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        name.removeprefix("05-") for name in FILES]


def test_a_part_with_findings_is_refused_and_nothing_is_written(tmp_path: Path) -> None:
    latch = FOLDER / "latch-plate.profile.json"
    status, out, errors = run("order", latch, "--as-problem", tmp_path / "none")
    assert (status, out) == (2, "")
    assert errors.startswith(f"sketcher: {latch}: is no problem to set: ")
    assert errors.count("\n") == 1
    assert not (tmp_path / "none").exists()


def test_a_loose_part_is_refused(tmp_path: Path) -> None:
    told = json.loads(LINK.read_text(encoding="utf-8"))
    del told["bindings"]["b4"]
    (tmp_path / "link.profile.json").write_text(json.dumps(told), encoding="utf-8")
    status, _, errors = run("order", tmp_path / "link.profile.json", "--as-problem", tmp_path)
    assert status == 2
    assert "is no key: something is loose" in errors


def test_a_file_in_the_place_of_the_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("")
    status, _, errors = run("order", LINK, "--as-problem", tmp_path / "taken")
    assert status == 2
    assert errors.startswith(f"sketcher: {tmp_path / 'taken'}: ")
    assert "--as-problem" in errors
