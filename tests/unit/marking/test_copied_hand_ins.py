"""Copies are told by what two who draw one paper by themselves do not have in common.

The hand-ins are written here by hand; which of them are copies follows from how they are made.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from sketcher.exchange.dxf_content import FileEntity
from sketcher.geometry.curves import Circle, Curve, Line
from sketcher.inspect.sketched import solve_sketch
from sketcher.marking.comparing import KeyReady
from sketcher.marking.copied_hand_ins import Alike, Traces, copied, traces_of
from sketcher.marking.hand_in import HandCurve, HandIn, LayerRole
from sketcher.marking.rubric import Rubric
from tests.plates import bound

EMPTY = Path("nowhere.dxf")
ODD = (13.847261539, 7.291553187)


@cache
def key() -> KeyReady:
    return KeyReady(solve_sketch(bound()).part, Rubric())


def outline(dx: float = 0.0, dy: float = 0.0) -> list[Curve]:
    """The key as somebody draws it from a datum of his own."""
    drawn: list[Curve] = []
    for piece in key().explainer.key.pieces:
        curve = piece.curve
        if isinstance(curve, Circle):
            drawn.append(Circle((curve.center[0] + dx, curve.center[1] + dy), curve.radius))
        else:
            assert isinstance(curve, Line)
            drawn.append(Line((curve.start[0] + dx, curve.start[1] + dy),
                              (curve.end[0] + dx, curve.end[1] + dy)))
    return drawn


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
