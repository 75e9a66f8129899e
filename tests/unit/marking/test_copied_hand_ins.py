"""Copies are told by what two who draw one paper by themselves do not have in common.

The hand-ins are written here by hand; which of them are copies follows from how they are made.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from pathlib import Path

import ezdxf
import pytest

from sketcher.exchange.dxf_content import FileEntity
from sketcher.exchange.dxf_cut import FORMS, CutForm, write_cut
from sketcher.exchange.sheet_file import write_sheet
from sketcher.geometry.curves import Circle, Curve, Line
from sketcher.geometry.evaluate import moved
from sketcher.inspect.inspection import inspect_part
from sketcher.inspect.sketched import solve_sketch
from sketcher.marking.comparing import KeyReady
from sketcher.marking.copied_hand_ins import Alike, Traces, copied, traces_of
from sketcher.marking.hand_in import HandCurve, HandIn, LayerRole
from sketcher.marking.hand_in_file import read_hand_in
from sketcher.marking.rubric import Rubric
from sketcher.solve import solve_with
from tests.plates import bound
from tests.ready_keys import demo_solved, key_ready

EMPTY = Path("nowhere.dxf")
ODD = (13.847261539, 7.291553187)


@cache
def key() -> KeyReady:
    return KeyReady(solve_sketch(bound()).part, Rubric())


def outline(dx: float = 0.0, dy: float = 0.0) -> list[Curve]:
    """The key as somebody draws it from a datum of his own."""
    return [moved(piece.curve, dx, dy) for piece in key().explainer.key.pieces]


def hand_in(curves: Iterable[Curve], *more: tuple[Curve, LayerRole]) -> HandIn:
    placed = [(curve, "outline") for curve in curves] + list(more)
    return HandIn("a.dxf", tuple(HandCurve(curve, number, role)  # type: ignore[arg-type]
                                 for number, (curve, role) in enumerate(placed, 1)), "mm")


def traces(one: HandIn) -> Traces:
    return traces_of(one, EMPTY, key().compare(one))


def test_the_same_drawing_from_the_same_round_datum_is_no_copy() -> None:
    assert copied([traces(hand_in(outline())), traces(hand_in(outline())),
                   traces(hand_in(outline(10.0, 2.5)))]) == ()


def test_the_same_odd_datum_is() -> None:
    one, other = traces(hand_in(outline(*ODD))), traces(hand_in(reversed(outline(*ODD))))
    alone = traces(hand_in(outline(ODD[0] + 1e-6, ODD[1])))
    [found] = copied([one, alone, other])
    assert (found.one, found.other) == (0, 2)
    assert "neither the key nor a rounded value gives" in found.reasons[0]


def test_odd_ends_of_leftovers_are_and_ends_on_the_key_are_not() -> None:
    odd: Curve = Line((3.14159265, 2.71828183), (5.77215665, 1.41421356))
    near: Curve = Line((3.14159265, 2.71828283), (5.77215665, 1.41421356))
    on_key = Line((0.0, 0.0), outline()[0].end)  # type: ignore[union-attr]
    lines = (odd, odd, near, on_key, on_key)
    drawn = [hand_in(outline(), (line, "construction")) for line in lines]
    assert [(each.one, each.other) for each in copied(list(map(traces, drawn)))] == [(0, 1)]


def test_what_much_of_a_class_has_came_from_the_teacher() -> None:
    shared = frozenset({(1, 1), (2, 2), (3, 3)})
    assert len(copied([Traces(places=shared)] * 3)) == 3
    assert copied([Traces(places=shared)] * 6) == ()


def test_the_same_file_under_two_names_is(tmp_path: Path) -> None:
    for name, text in (("1.dxf", "x"), ("2.dxf", "x"), ("3.dxf", "y"), ("4.dxf", "x")):
        (tmp_path / name).write_text(text)
    empty = HandIn("a.dxf", ())
    assert copied([traces_of(empty, tmp_path / f"{n}.dxf") for n in (1, 2, 3, 4)]) == (
        Alike(0, 1, ("the same file, byte for byte",)),
        Alike(0, 3, ("the same file, byte for byte",)))


@pytest.mark.parametrize(("steps", "flagged"), [
    ([1, 1, 1, 1, 1, 1, 1, 1], False),  # counted off without a gap
    ([1, 3, 1, 3, 1, 3, 1, 3], False),  # so many for each type, as a program counts them off
    ([1, 9, 2, 14, 1, 3, 40, 1], True),  # drawn, deleted and drawn again
])
def test_handles_tell_where_a_drawing_was_mended(steps: list[int], flagged: bool) -> None:
    entities, handle = {}, 0x40
    for number, step in enumerate(steps, 1):
        kind = "CIRCLE" if number % 2 == 0 else "LINE"
        entities[number] = FileEntity(number, kind, handle=f"{handle:X}")
        handle += step
    one = replace(hand_in(outline()), entities=entities)
    found = copied([traces_of(one, EMPTY), traces_of(one, EMPTY)])
    assert bool(found) == flagged


@pytest.mark.parametrize(("off", "flagged"), [(2, True), (3, False)])
def test_the_same_handles_tell_only_beside_the_same_places(off: int, flagged: bool) -> None:
    # 4 corners and 4 centers: 2 of 8 elsewhere leave three quarters alike, 3 leave less
    entities, handle = {}, 0x40
    for number, step in enumerate([1, 9, 2, 14, 1, 3, 40, 1], 1):
        entities[number] = FileEntity(number, "LINE" if number < 5 else "CIRCLE",
                                      handle=f"{handle:X}")
        handle += step
    holes = [Circle((5.0 * n, 10.0), 1.0) for n in range(1, 5)]
    elsewhere = [Circle((5.0 * n, 10.0 + 2.0 * (n <= off)), 1.0) for n in range(1, 5)]
    one, other = (replace(hand_in([*outline(), *round_ones]), entities=entities)
                  for round_ones in (holes, elsewhere))
    assert bool(copied([traces_of(one, EMPTY), traces_of(other, EMPTY)])) == flagged


def written(folder: Path) -> tuple[tuple[Path, ...], ...]:
    """Sheets and cutting files of two parts and of two variants of one, by this program."""
    strap, gusset = demo_solved("gate-strap"), demo_solved("roof-gusset")
    variants = [solve_with(strap.part, {}, {"b20": size}) for size in ("18", "22")]
    sheets, cuts = [], []
    for number, each in enumerate((strap, gusset, *variants)):
        sheets.append(folder / f"{number}.sheet.dxf")
        write_sheet(each.part, sheets[-1])
        cuts.append(folder / f"{number}.dxf")
        write_cut(inspect_part(each.part, each.report), cuts[-1], pieces=True)
    return tuple(sheets), tuple(cuts)


def test_drawings_that_one_program_wrote_of_other_parts_are_no_copies(
    tmp_path_factory: pytest.TempPathFactory
) -> None:
    for files in written(tmp_path_factory.mktemp("written")):
        found = [traces_of(read_hand_in(path), path) for path in files]
        assert copied(found) == ()


@pytest.mark.parametrize("form", FORMS)
def test_two_who_drew_one_part_right_by_themselves_are_no_copies(
    form: CutForm, tmp_path: Path
) -> None:
    strap = demo_solved("gate-strap")
    other = solve_with(strap.part, {}, {"b20": "22"})
    for solution, number, flagged in ((strap, 0, False), (other, 1, True)):
        path = tmp_path / f"{number}.dxf"
        write_cut(inspect_part(solution.part, solution.report), path, pieces=True, form=form)
        drawn = read_hand_in(path)
        found = traces_of(drawn, path, key_ready("gate-strap").compare(drawn))
        # the files are the same byte for byte, which tells nothing where they are right
        assert bool(copied([found, found])) == flagged


def test_a_mended_drawing_with_one_line_moved_and_saved_again_is(tmp_path: Path) -> None:
    drawing = ezdxf.new("R2010")
    space = drawing.modelspace()
    at = [(0, 0), (80, 0), (80, 30), (60, 50), (30, 60), (0, 40)]
    for number, (start, end) in enumerate(zip(at, [*at[1:], at[0]], strict=True)):
        for spare in range(number):  # drawn and deleted again
            space.delete_entity(space.add_line((spare, 1), (spare, 2)))
        space.add_line(start, end)
    drawing.saveas(tmp_path / "1.dxf")
    again = ezdxf.readfile(tmp_path / "1.dxf")
    line = again.modelspace()[2]
    line.dxf.start, line.dxf.end = (81, 30), (61, 50)
    again.saveas(tmp_path / "2.dxf")
    fresh = ezdxf.new("R2010")
    for start, end in zip(at, [*at[1:], at[0]], strict=True):
        fresh.modelspace().add_line(start, end)
    fresh.saveas(tmp_path / "3.dxf")
    found = copied([traces_of(read_hand_in(path), path) for path in sorted(tmp_path.iterdir())])
    assert [(each.one, each.other, len(each.reasons)) for each in found] == [(0, 1, 1)]
    assert "handles" in found[0].reasons[0]
