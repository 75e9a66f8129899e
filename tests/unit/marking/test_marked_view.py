"""What a picture of marking takes from a comparison, on hand-ins drawn by plain trigonometry."""

from __future__ import annotations

import pickle
from dataclasses import replace

import pytest

from sketcher.exchange.dxf_content import FileDimension, FileEntity
from sketcher.geometry.curves import Line
from sketcher.marking.hand_in import HandCurve
from sketcher.marking.marked_view import MarkedView, marked_view
from tests.ready_keys import key_ready
from tests.unit.marking.by_hand import handed, shelf_bracket

ACROSS = Line((-0.5, 1.0), (9.5, 1.0))
"""A center line 10 in long."""
PATTERN = (2.0, -0.5, 0.0, -0.5)
RUN = FileDimension(901, "linear", "DIM", ((0.0, 0.0), (4.0, 0.0)), (0.0, -1.0), (2.0, -1.0), "4",
                    extension_gap=0.0625, text_height=0.125)


@pytest.fixture(scope="module")
def shown() -> MarkedView:
    drawn = handed(shelf_bracket(), "in")
    hand_in = replace(
        drawn, curves=(*drawn.curves, HandCurve(ACROSS, 900, "center")), factor=1.0,
        entities={900: FileEntity(900, "LINE", dashes=PATTERN)}, dimensions=(RUN,))
    return marked_view(key_ready("shelf-bracket").compare(hand_in))


def test_center_lines_come_dash_by_dash(shown: MarkedView) -> None:
    """Three repeats of 3 in fit in 10 in: 1 in and half a dash are left at each end, by hand."""
    dashes = shown.hand["center"]
    spans = [(dash.start[0] - ACROSS.start[0], dash.end[0] - ACROSS.start[0]) for dash in dashes]
    longs = [span for span in spans if span[1] - span[0] > 0.1]
    assert longs == [pytest.approx(span) for span in ((0.0, 1.5), (2.5, 4.5), (5.5, 7.5),
                                                      (8.5, 10.0))]
    dots = [0.5 * (a + b) for a, b in spans if b - a < 0.1]
    assert dots == [pytest.approx(at, abs=0.01) for at in (2.0, 5.0, 8.0)]


def test_a_length_is_drawn_with_its_extension_lines(shown: MarkedView) -> None:
    lines = {(line.start, line.end) for line in shown.hand["dimension"]}
    assert ((0.0, -1.0), (4.0, -1.0)) in lines
    assert ((0.0, -0.0625), (0.0, -1.0)) in lines
    (text,) = shown.texts
    assert (text.text, text.at, text.height) == ("4", pytest.approx((2.0, -1.0)), 0.125)


def test_the_picture_goes_to_another_process(shown: MarkedView) -> None:
    assert pickle.loads(pickle.dumps(shown)) == shown
