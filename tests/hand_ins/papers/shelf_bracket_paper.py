"""The shelf bracket: inches, a rounded and a bevelled corner, holes in rows."""

from __future__ import annotations

from math import radians, tan

from tests.hand_ins.strokes import Plate, Ring, Straight
from tests.hand_ins.trigonometry import corner
from tests.hand_ins.written_paper import Paper, PaperValue, Values


def construct(v: Values) -> Plate:
    wide, high, arm, web = v["b8"], v["b9"], v["b10"], v["b11"]
    toe = corner("toe", complex(wide, 0.0), 0.0, 90.0, v["b12"])
    throat = corner("throat", complex(web, arm), 180.0, 90.0, v["b13"])
    bevel = v["b18"]
    shoulder = complex(web, high - bevel * tan(radians(v["b19"])))
    top = complex(web - bevel, high)
    outer = (
        Straight("bottom", 0j, toe.start), toe, Straight("end", toe.end, complex(wide, arm)),
        Straight("arm", complex(wide, arm), throat.start), throat,
        Straight("web", throat.end, shoulder), Straight("bevel", shoulder, top),
        Straight("top", top, complex(0.0, high)), Straight("back", complex(0.0, high), 0j))
    first = complex(v["b21"], v["b22"])
    rows = tuple((Ring(f"row hole {i}{j}", first + complex(i * v["n1.step.0"],
                                                           j * v["n1.step.1"]),
                       v["b20"] / 2.0),) for j in range(2) for i in range(2))
    return Plate((outer, *rows, (Ring("wall hole", complex(v["b24"], high - v["b25"]),
                                      v["b23"] / 2.0),)))


PAPER = Paper("shelf-bracket", "in", (*(PaperValue(name, amount) for name, amount in {
    "b8": 5.5, "b9": 5.0, "b10": 2.25, "b11": 2.0, "b12": 0.5, "b13": 0.75, "b18": 0.625,
    "b20": 9.0 / 32.0, "b21": 2.75, "b22": 9.0 / 16.0, "b23": 0.375, "b24": 1.0, "b25": 1.25,
    "n1.step.0": 1.5, "n1.step.1": 1.125}.items()), PaperValue("b19", 45.0, "angle")), construct)
