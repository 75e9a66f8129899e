"""Identity of images: a value with a printed name, taken apart in one place."""

from __future__ import annotations

import pickle

import pytest

from sketcher.part.image_id import ImageId, marks, read_image_id
from sketcher.part.value import CircleCurve, GridPattern, LineCurve, Mirror, Part, frozen
from sketcher.part.whole import whole

NAMES = [
    ("e1", ImageId("e1")), ("e1'", ImageId("e1", 1)), ("e1''", ImageId("e1", 2)),
    ("e1'''", ImageId("e1", 3)), ("h1#3", ImageId("h1", 0, 3)), ("h1#12''", ImageId("h1", 2, 12)),
]


@pytest.mark.parametrize(("name", "image"), NAMES)
def test_a_name_is_printed_and_read(name: str, image: ImageId) -> None:
    assert str(image) == image.name == name
    assert read_image_id(name) == image
    assert pickle.loads(pickle.dumps(image)) == image


def test_images_about_two_axes() -> None:
    drawn = ImageId("h1", 0, 3)
    first, second = drawn.reflected(0), drawn.reflected(1)
    both = first.reflected(1)
    assert [i.mirrors for i in (drawn, first, second, both)] == [0, 1, 2, 3]
    assert second.reflected(0) == both
    assert first.reflected(0) == both.reflected(1).reflected(0) == drawn
    # one reflection turns a curve over, two turn it about the crossing of the axes
    assert [i.turned_over for i in (drawn, first, second, both)] == [False, True, True, False]
    assert ImageId("h1").drawn
    assert not drawn.drawn
    assert drawn.same_image(ImageId("h2", 0, 3))
    assert not drawn.same_image(first)
    assert sorted((both, drawn, first, ImageId("h1")), key=lambda i: i.away) == [
        ImageId("h1"), drawn, first, both]
    assert [marks(n) for n in range(3)] == ["", "'", "''"]


def test_every_piece_has_the_name_of_its_image() -> None:
    part = Part(
        points=frozen({"c": (10.0, 10.0), "o": (0.0, 0.0), "x": (50.0, 0.0), "y": (0.0, 50.0)}),
        curves=frozen({"h": CircleCurve("c", 2.0), "ax": LineCurve(("o", "x"), "axis"),
                       "ay": LineCurve(("o", "y"), "axis")}),
        mirrors=(Mirror("ax", ("h",)), Mirror("ay", ("h",))),
        patterns=frozen({"g": GridPattern(("h",), ("6", "6"), (2, 1))}))
    pieces = whole(part)
    assert {p.id for p in pieces} == {
        "h", "ax", "ay", "h#1", "h'", "h#1'", "h''", "h#1''", "h'''", "h#1'''"}
    for piece in pieces:
        assert piece.image == read_image_id(piece.id)
        assert piece.source == piece.image.source
        if piece.source == "h":  # the first axis is level, the second plumb
            x, y = piece.curve.center
            assert (y < 0.0, x < 0.0) == (bool(piece.image.mirrors & 1),
                                          bool(piece.image.mirrors & 2))
