"""What may leave with findings, by their codes."""

from __future__ import annotations

import pytest

from sketcher.errors import EditError, ExportError
from sketcher.inspect.findings import CODES
from sketcher.inspect.inspection import Inspection
from sketcher.inspect.release import (
    NEVER_CUT,
    keeps_from_cutting,
    named_codes,
    release_cut,
    release_sheet,
    stamp_codes,
)
from sketcher.part.value import Binding, Part
from tests.plates import looked_at, plate, rectangle


def part() -> Part:
    points, lines = rectangle(40.0, 20.0)
    return plate({**points, "c": (60.0, 10.0), "d": (80.0, 10.0)},
                 {**lines, "h": ("c", 4.0), "k": ("d", 4.0)})


@pytest.fixture
def detached_and_loose() -> Inspection:
    return looked_at(part(), freedoms=2)


def test_codes_are_named_one_by_one_or_with_commas() -> None:
    assert named_codes(["loose"]) == {"loose"}
    assert named_codes(["loose, fold", "detached"]) == {"loose", "fold", "detached"}
    assert named_codes([]) == frozenset()


@pytest.mark.parametrize("given", ["loos", "", "loose,", "Loose", "--cut"])
def test_a_code_that_there_is_not(given: str) -> None:
    with pytest.raises(EditError) as caught:
        named_codes([given])
    assert "loose" in caught.value.remedy
    assert not any(code in caught.value.remedy.split() for code in NEVER_CUT)


def test_each_finding_has_to_be_named(detached_and_loose: Inspection) -> None:
    for despite, left in (((), {"loose", "detached"}), (("loose",), {"detached"}),
                          (("detached",), {"loose"}), (("loose", "detached"), set())):
        kept = keeps_from_cutting(detached_and_loose, despite)
        assert {finding.code for finding in kept} == left
    release_cut(detached_and_loose, {"loose", "detached"})


def test_the_refusal_names_every_code_once_and_how_to_go_on(
    detached_and_loose: Inspection
) -> None:
    with pytest.raises(ExportError) as caught:
        release_cut(detached_and_loose)
    assert caught.value.problem.count("detached: ") == 1
    assert "1 more" in caught.value.problem
    assert caught.value.remedy.endswith("--despite loose,detached")


def test_what_no_cutter_can_make_has_no_way_on(detached_and_loose: Inspection) -> None:
    unsolved = looked_at(part(), converged=False)
    with pytest.raises(ExportError) as caught:
        release_cut(unsolved, CODES)
    assert caught.value.problem == ("cannot be cut: no geometry satisfies every binding; draw the "
                                    "sketch nearer to what is meant (unsolved)")
    assert caught.value.remedy == "mend it and export again"
    assert "--despite" not in str(caught.value)


def test_an_outline_that_crosses_is_refused_in_one_plain_sentence() -> None:
    points, lines = rectangle(40.0, 20.0)
    crossed = plate({**points, "c": (20.0, 10.0), "d": (24.0, 10.0)},
                    {**lines, "h": ("c", 4.0), "k": ("d", 4.0)})
    with pytest.raises(ExportError) as caught:
        release_cut(looked_at(crossed), CODES)
    assert caught.value.problem.startswith("cannot be cut: h and k cross or touch at (")
    assert caught.value.problem.endswith("), away from their ends (crossing, and 1 more)")


def test_the_sheet_minds_every_finding(detached_and_loose: Inspection) -> None:
    for despite in ((), ("loose",), ("detached",)):
        with pytest.raises(ExportError) as caught:
            release_sheet(detached_and_loose, despite)
        assert "stamped" in caught.value.remedy
    release_sheet(detached_and_loose, ("detached", "loose"))
    assert stamp_codes(detached_and_loose) == ("loose", "detached")
    points, lines = rectangle(40.0, 20.0)
    release_sheet(looked_at(plate(points, lines)))
    assert stamp_codes(looked_at(plate(points, lines))) == ()


def test_what_no_cutter_can_make_is_drawn_where_it_is_named() -> None:
    unsolved = looked_at(part(), converged=False)
    with pytest.raises(ExportError, match="not drawn: unsolved: "):
        release_sheet(unsolved)
    release_sheet(unsolved, CODES)
    empty = looked_at(Part())
    with pytest.raises(ExportError, match="cannot be drawn: "):
        release_sheet(empty, CODES)


def test_a_reference_that_differs_needs_a_name_and_no_stamp() -> None:
    points, lines = rectangle(40.0, 20.0)
    found = looked_at(plate(points, lines, Binding("distance", ("pe1",), "41", drives=False)))
    with pytest.raises(ExportError) as caught:
        release_sheet(found)
    assert caught.value.remedy.endswith(
        "and the sheet prints what the part measures: --despite reference-differs")
    release_sheet(found, {"reference-differs"})
    assert stamp_codes(found) == ()
