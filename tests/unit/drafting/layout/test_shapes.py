"""What is judged is what is drawn: the ink of a place is that of the dimension drawn there."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sketcher.drafting.features import shown_pieces
from sketcher.drafting.layout.all_places import places_of
from sketcher.drafting.layout.ink import ELBOW, EXTENSION, KINDS, LEADER
from sketcher.drafting.layout.leader_places import LeaderPlaces
from sketcher.drafting.layout.shapes import ink_of
from sketcher.drafting.lettering import em
from sketcher.drafting.primitives import Stroke
from sketcher.drafting.sizes import Sizes
from sketcher.drafting.view_contents import contents_of
from sketcher.part import store
from sketcher.shipped import shipped
from sketcher.solve import solve

SHORTER = 0.6  # pieces are judged 0.3 mm shorter at both ends, so that they may touch


def lengths(batch, place: int) -> np.ndarray:
    pieces, kinds, _ = batch.only(place)
    size = np.hypot(pieces[:, 2] - pieces[:, 0], pieces[:, 3] - pieces[:, 1])
    return np.bincount(kinds, size, KINDS)


@pytest.mark.parametrize("practice", ["ISO", "ASME"])
@pytest.mark.parametrize("name", ["gate-strap", "shift-arm", "shelf-bracket"])
def test_judged_as_drawn(name: str, practice: str) -> None:
    part = solve(store.load(shipped("demo_parts", f"{name}.profile.json"))).part
    part = part.having(drawing=replace(part.drawing, practice=practice))
    asked = contents_of(part, shown_pieces(part), 1.0, 3.5).dimensioning
    assert asked is not None
    seen = 0
    for one in places_of(asked.wanted, asked.ground, asked.sizes):
        options = one.stage(0)
        assert options is not None
        for k in range(0, len(options.own), 3):
            drawn = one.draw(options.place(k))
            # Lost corners are part of the ground: there whatever place is taken.
            drawn = replace(drawn, items=tuple(
                i for i in drawn.items
                if not isinstance(i, Stroke) or i.curve not in asked.ground.corners))
            said = ink_of([drawn], [asked.sizes.lettering(one.one.wording)])
            assert said.boxes[0] == pytest.approx(options.batch.boxes[k], abs=1e-6)
            judged, real = lengths(options.batch, k), lengths(said, 0)
            count = np.bincount(options.batch.only(k)[1], minlength=KINDS)
            most = SHORTER * np.maximum(count, 1) + 1e-6
            if isinstance(one, LeaderPlaces):
                most[[LEADER, ELBOW]] = SHORTER + 1e-6
            assert (np.abs(judged - real) <= most).all(), (drawn.id, judged, real)
            assert (judged[EXTENSION] > 0.0) == (real[EXTENSION] > 0.0)
            seen += 1
    assert seen > 60


@pytest.mark.parametrize("height", [2.5, 3.5, 5.0, 7.0])
def test_parentheses_stand_clear_of_their_dimension_line(height: float) -> None:
    """Read from the font itself: how far its parentheses reach down."""
    import font_source_sans_pro
    from fontTools.pens.boundsPen import BoundsPen
    from fontTools.ttLib import TTFont

    font = TTFont(font_source_sans_pro.font_files_ttf["SourceSansPro"])
    glyphs = font.getGlyphSet()
    pen = BoundsPen(glyphs)
    glyphs[font.getBestCmap()[ord("(")]].draw(pen)
    below = -pen.bounds[1] / font["head"].unitsPerEm * em(height)
    assert Sizes("ISO", height).clear - below > 0.45
