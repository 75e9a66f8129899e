"""``--vary NAME=FROM..TO:STEP``: which values it means, as they will stand in the part."""

from __future__ import annotations

import pytest

from sketcher.errors import SketcherError
from sketcher.marking.varied_values import draw_space
from sketcher.part.value import Binding, CircleCurve, Part

MM = Part(
    parameters={"wall": "12", "edge": "6 mm", "pitch": "27.5°"},
    points={"p": (0.0, 0.0), "q": (40.0, 0.0)}, curves={"h": CircleCurve("p", 5.0)},
    bindings={"b1": Binding("diameter", ("h",), "10"), "b2": Binding("run", ("p", "q"), "40"),
              "b3": Binding("distance", ("p", "q"), None, drives=False),
              "b4": Binding("level", ("p", "q"))})
INCH = MM.having(unit="in", parameters={})


@pytest.mark.parametrize(("part", "option", "texts"), [
    (MM, "wall=10..14:1", "10 11 12 13 14"),
    (MM, " wall = 10 .. 14 : 1.5", "10 11.5 13"),
    (MM, "b1=.1..0.3:0.1", "0.1 0.2 0.3"),  # by sums of floats the last would be left out
    (MM, "b1=wall-2..2*wall:6", "10 16 22"),
    (MM, "b1=1/2 in..3/4 in:1/8 in", "1/2 in|5/8 in|3/4 in"),
    (MM, "edge=5..7:1", "5 mm|6 mm|7 mm"),  # it goes on being a length
    (MM, "pitch=20..21°:0.5", "20°|20.5°|21°"),
    (MM, "wall=7..7:1", "7"),
    (INCH, "b1=1/4..1/2:1/16", "1/4 5/16 3/8 7/16 1/2"),
    (INCH, "b1=1 1/2..2:1/4", "1 1/2|1 3/4|2"),
    (INCH, "b1=.5..1:.25", ".50 .75 1.00"),
    (INCH, "b1=6 mm..8 mm:1 mm", "6 mm|7 mm|8 mm"),
])
def test_a_range_is_written_as_it_is_typed(part: Part, option: str, texts: str) -> None:
    [varied] = draw_space(part, [option]).varied
    assert varied.texts == tuple(texts.split("|" if "|" in texts else " "))
    assert varied.is_parameter == (varied.name in part.parameters)


@pytest.mark.parametrize(("option", "said"), [
    ("wall", "is not NAME=FROM..TO:STEP"),
    ("wall=10..14", "is not NAME=FROM..TO:STEP"),
    ("=10..14:1", "is not NAME=FROM..TO:STEP"),
    ("wal=10..14:1", "no parameter or dimension named 'wal'; there are wall, edge, pitch, b1, b2"),
    ("b4=10..14:1", "no parameter or dimension named 'b4'"),
    ("b3=10..14:1", "'b3' is a reference dimension"),
    ("wall=10..14:0", "its step is not above zero"),
    ("wall=14..10:1", "ends before it begins"),
    ("wall=10..14:1e-9", "take a larger step"),
    ("wall=10..(14:1", "the parenthesis at character 1 stays open"),
    ("b1=10..14°:1", "mixes a length and an angle"),
    ("b1=10..thick:1", "no parameter named 'thick'"),
])
def test_what_is_no_range_is_told_with_the_option(option: str, said: str) -> None:
    with pytest.raises(SketcherError) as caught:
        draw_space(MM, [option])
    assert caught.value.place == f"--vary {option}"
    assert said in str(caught.value)


def test_every_value_goes_with_every_other() -> None:
    space = draw_space(MM, ["wall=1..3:1", "b1=5..6:1"])
    draws = [tuple(space.draw(index).items()) for index in range(space.count)]
    assert len(set(draws)) == space.count == 6
    assert space.parted({"wall": "3", "b1": "6"}) == ({"wall": "3"}, {"b1": "6"})
    with pytest.raises(SketcherError, match="'wall' is varied twice"):
        draw_space(MM, ["wall=1..3:1", "wall=1..3:1"])
