"""``sketcher import``: report, record, exit statuses, and what it refuses."""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path

import ezdxf
import pytest

from sketcher import cli
from sketcher.part.store import load

Corner = tuple[float, float]


def drawing(path: Path, *plates: tuple[Corner, float, float], unit: int = 4,
            gap: float = 0.0, holes: float = 9.0) -> Path:
    """Write rectangles with two holes each; the first corner of each may be open by a gap."""
    document = ezdxf.new("R2000")
    document.header["$INSUNITS"] = unit
    document.layers.add("NOTES").off()
    space = document.modelspace()
    for (x, y), wide, high in plates:
        at = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high), (x, y + gap)]
        for start, end in pairwise(at):
            space.add_line(start, end)
        space.add_circle((x + wide / 4, y + high / 4), holes / 2)
        space.add_circle((x + wide / 2, y + high / 3), holes)
    space.add_text("as agreed", dxfattribs={"layer": "NOTES"})
    document.saveas(path)
    return path


PLATE = ((0.0, 0.0), 120.0, 75.0)
SMALL = ((200.0, 0.0), 60.0, 45.0)


def run(capfd: pytest.CaptureFixture[str], *args: object) -> tuple[int, str, str]:
    status = cli.main(["import", *map(str, args)])
    out, err = capfd.readouterr()
    return status, out, err


def test_a_plate_becomes_a_bound_part(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    source, out = drawing(tmp_path / "in.dxf", PLATE), tmp_path / "out.profile.json"
    status, told, err = run(capfd, source, "--out", out)
    assert (status, err) == (0, "")
    assert "in: millimetres; the header says millimetres, and its values agree" in told
    assert "layer NOTES: 1 TEXT" in told
    assert "120 x 75 mm" in told
    assert "bound, nothing redundant" in told
    assert load(out).unit == "mm"
    assert cli.main(["inspect", str(out)]) == 0


def test_the_record_says_it_to_a_program(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    """Area: 120 x 75 less pi 4.5² and pi 9², by hand."""
    source, out = drawing(tmp_path / "in.dxf", PLATE, gap=0.01), tmp_path / "out.profile.json"
    status, told, _ = run(capfd, source, "--out", out, "--json")
    record = json.loads(told)
    assert (status, record["version"], record["source"]) == (0, 1, "in")
    assert record["unit"]["value"] == "mm"
    assert sum(record["unit"]["scores"].values()) == pytest.approx(1.0, abs=1e-3)
    [part] = record["parts"]
    assert part["file"] == str(out)
    assert (part["freedoms"], part["doubled"], part["findings"]) == (0, [], [])
    assert part["area"] == pytest.approx(120 * 75 - 318.0862562, abs=390 * 0.01)
    assert part["size"] == pytest.approx([120.0, 75.0], abs=0.02)
    [gap] = [each for each in part["repairs"] if each["kind"] == "gap"]
    assert gap["at"] == pytest.approx([0.0, 0.0], abs=0.02)
    assert (gap["ids"], gap["taken"]) == ([1, 4], True)
    assert set(part["not_round"]) <= {each["binding"] for each in part["values"]}


def test_a_repair_that_is_refused_is_left_as_drawn(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    source = drawing(tmp_path / "in.dxf", PLATE, gap=0.01)
    for number, keep in enumerate(("gap", "gap-1-4")):
        status, told, _ = run(capfd, source, "--out", tmp_path / f"{number}.profile.json",
                              "--keep", keep)
        assert status == 1
        assert "1 gap: kept as drawn: gap-1-4" in told
        assert "  open at (0, 0" in told


def test_several_outlines_become_several_parts_by_falling_area(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    source = drawing(tmp_path / "in.dxf", SMALL, PLATE)
    status, told, _ = run(capfd, source, "--out", tmp_path / "out.profile.json", "--json")
    record = json.loads(told)
    assert status == 0
    assert [Path(part["file"]).name for part in record["parts"]] == [
        "out-1.profile.json", "out-2.profile.json"]
    assert record["parts"][0]["area"] > record["parts"][1]["area"]
    assert not (tmp_path / "out.profile.json").exists()


def test_a_doubtful_unit_is_asked_and_answered(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    source, out = drawing(tmp_path / "in.dxf", PLATE, unit=1), tmp_path / "out.profile.json"
    status, told, _ = run(capfd, source, "--out", out)
    assert status == 1
    assert "the header says inches, but as millimetres" in told
    assert "Say --unit mm or --unit in; taken meanwhile: mm" in told
    status, told, _ = run(capfd, source, "--out", out, "--unit", "in", "--force")
    assert (status, load(out).unit) == (0, "in")
    assert "question" not in told


def test_nothing_is_replaced_unasked(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    source, out = drawing(tmp_path / "in.dxf", SMALL, PLATE), tmp_path / "out.profile.json"
    second = tmp_path / "out-2.profile.json"
    second.write_text('{"format": "part-profile", "version": 1}')
    status, _, err = run(capfd, source, "--out", out)
    assert (status, len(err.splitlines())) == (2, 1)
    assert "out-2.profile.json" in err
    assert not (tmp_path / "out-1.profile.json").exists()
    assert run(capfd, source, "--out", out, "--force")[0] == 0


def test_an_axis_is_asked_of_the_parts_that_have_it(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    document = ezdxf.new("R2000")
    document.header["$INSUNITS"] = 4
    # A rectangle has two axes, an isosceles triangle one (elementary geometry).
    for corners in ([(0, 0), (90, 0), (90, 40), (0, 40)], [(200, 0), (250, 0), (225, 40)]):
        document.modelspace().add_lwpolyline(corners, close=True)
    source, out = tmp_path / "in.dxf", tmp_path / "out.profile.json"
    document.saveas(source)
    status, told, err = run(capfd, source, "--out", out, "--axis", "x2", "--json")
    assert (status, err) == (0, "")
    assert [part["axis"] for part in json.loads(told)["parts"]] == [["x2"], ["x1"]]
    status, _, err = run(capfd, source, "--out", out, "--axis", "x3", "--force")
    assert (status, len(err.splitlines())) == (2, 1)
    assert "no part has an axis x3; give none, or one of its own: x1, x2" in err


@pytest.mark.parametrize(("args", "says"), [
    (("--keep", "gap-9-9"), "--keep gap-9-9: no repair has this name"),
    (("--axis", "nowhere"), "--axis: the part has no axis nowhere"),
    (("--layers", "0,EDGES"), "--layers EDGES: the file has no such layer"),
    (("--layers", ","), "--layers: names no layer"),
    (("--gap", "0"), "--gap 0: is not above zero"),
    (("--gap", "wide"), "--gap"),
    (("--chord", "-1"), "--chord -1: is not above zero"),
    (("--grid", "5°"), "--grid"),
    (("--out", "plate.dxf"), "plate.dxf: is no name for a part"),
])
def test_a_wish_that_cannot_be_met_is_one_line(
    tmp_path: Path, capfd: pytest.CaptureFixture[str], args: tuple[str, str], says: str
) -> None:
    source, out = drawing(tmp_path / "in.dxf", PLATE), tmp_path / "out.profile.json"
    status, told, err = run(capfd, source, "--out", out, f"{args[0]}={args[1]}")
    assert (status, told, len(err.splitlines())) == (2, "", 1)
    assert says in err
    assert not out.exists()


@pytest.mark.parametrize("content", [b"", b"no drawing"])
def test_a_file_that_is_no_drawing_is_one_line(
    tmp_path: Path, capfd: pytest.CaptureFixture[str], content: bytes
) -> None:
    source, out = tmp_path / "in.dxf", tmp_path / "out.profile.json"
    source.write_bytes(content)
    status, _, err = run(capfd, source, "--out", out)
    assert (status, len(err.splitlines())) == (2, 1)
    assert run(capfd, tmp_path / "none.dxf", "--out", out)[0] == 2


def test_lengths_may_have_a_unit_of_their_own(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    source = drawing(tmp_path / "in.dxf", PLATE, gap=0.2)
    status, _, _ = run(capfd, source, "--out", tmp_path / "a.profile.json")
    assert status == 1
    status, _, _ = run(capfd, source, "--out", tmp_path / "b.profile.json", "--gap", "0.01 in")
    assert status == 0


@pytest.mark.parametrize("suffix", [".svg", ".pdf", ".png"])
def test_the_picture_is_made_of_each_part(
    tmp_path: Path, capfd: pytest.CaptureFixture[str], suffix: str
) -> None:
    source, picture = drawing(tmp_path / "in.dxf", SMALL, PLATE), tmp_path / f"seen{suffix}"
    status, _, err = run(capfd, source, "--out", tmp_path / "out.profile.json",
                         "--picture", picture)
    assert (status, err) == (0, "")
    assert picture.stat().st_size > 1000
    assert (tmp_path / f"seen-2{suffix}").exists() == (suffix != ".pdf")


def test_a_picture_takes_no_other_file_away(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    source, other = drawing(tmp_path / "in.dxf", PLATE), tmp_path / "other.svg"
    other.write_text('<svg xmlns="http://www.w3.org/2000/svg"/>')
    out = tmp_path / "out.profile.json"
    for picture in (other, tmp_path / "seen.dxf"):
        status, _, err = run(capfd, source, "--out", out, "--picture", picture)
        assert (status, len(err.splitlines()), out.exists()) == (2, 1, False)
