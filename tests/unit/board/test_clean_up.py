"""The clean-up in hand: shows each defect first, mends one or all, and breaks no binding."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from sketcher.board.steps.solver_cache import default_solver
from sketcher.errors import SketcherError
from sketcher.geometry.loops import find_loops
from sketcher.interrupt import Stopped
from sketcher.part.edits.draft import Draft
from sketcher.part.store import load
from sketcher.part.value import ArcCurve, CircleCurve, LineCurve, Part
from sketcher.part.whole import whole
from tests.demo_parts import SOUND as DEMO_PARTS
from tests.later import Later
from tests.shaped import Hands, wing


def spoiled() -> Part:
    """The wing with a stub, a twin of e1 and a lone speck."""
    draft = Draft(wing())
    draft.line("p2", (75, -9), name="stub")
    draft.line((0, 0), (60, 0), name="twin")
    draft.circle((10, 5), 1e-6, name="speck")
    return draft.done()


def sound(part: Part) -> bool:
    return find_loops([(p.id, p.curve) for p in whole(part) if p.role == "outline"]).sound


def test_every_defect_is_shown_before_it_is_mended() -> None:
    hands = Hands(spoiled())
    hands.use("clean up")
    tool = hands.board.tool
    assert [d.kind for d in tool.defects] == ["speck", "doubled", "stub"]  # type: ignore[attr-defined]
    seen = []
    for _ in range(3):
        shown = hands.board.preview
        # The curve that goes and its reflection, and nothing that the solver only touched.
        assert [ghost.mood for ghost in shown.curves] == ["leaves", "leaves"]
        assert shown.words[0].text in hands.board.prompt
        seen.append(shown.lit[0])
        hands.board.key("tab")
    assert seen == ["speck", "twin", "stub"]
    hands.board.key("backspace")
    assert "3 of 3" in hands.board.prompt


def test_one_is_mended_at_a_time_and_undone() -> None:
    hands = Hands(spoiled())
    before = hands.part
    hands.use("clean up")
    hands.press(67.5, -4.5)  # the stub's middle
    assert hands.board.preview.lit == ("stub",)
    hands.board.key("enter")
    assert hands.part.curves.keys() == before.curves.keys() - {"stub"}
    hands.board.bench.undo()
    assert hands.part is before
    assert len(hands.board.tool.defects) == 3  # type: ignore[attr-defined]


def test_all_are_mended_in_one_step() -> None:
    hands = Hands(spoiled())
    before = hands.part
    hands.use("clean up")
    hands.board.key("a")
    assert sound(hands.part)
    assert hands.part.curves.keys() == wing().curves.keys()
    assert "Mended 3" in hands.board.bench.message.text
    assert hands.board.tool.defects == ()  # type: ignore[attr-defined]
    report = default_solver(hands.part).report
    assert (report.state, report.doubled) == ("bound", ())
    hands.board.bench.undo()
    assert hands.part is before
    hands.board.key("escape")
    assert hands.board.tool.name == "pick"


def test_a_large_part_is_looked_at_beside_the_window() -> None:
    hands, worker = Hands(spoiled()), Later()
    hands.board.bench.worker = worker  # type: ignore[assignment]
    told: list[str] = []
    hands.board.bench.notices.listen(lambda change: told.append(change.reason))
    hands.use("clean up")
    tool = hands.board.tool
    assert tool.looking  # type: ignore[attr-defined]
    assert hands.board.preview.words == ()
    hands.board.key("enter")
    assert hands.part.curves.keys() == spoiled().curves.keys()
    told.clear()
    assert len(worker.started) == 1
    worker.work()
    assert not tool.looking  # type: ignore[attr-defined]
    assert told == ["preview"]
    assert hands.board.preview.words[0].text in hands.board.prompt


def test_what_was_found_in_another_part_is_dropped() -> None:
    hands, worker = Hands(spoiled()), Later()
    hands.board.bench.worker = worker  # type: ignore[assignment]
    hands.use("clean up")
    hands.board.bench.do("Name", lambda part: part.having(name="Another"))
    (old, late, _), (new, done, _) = worker.started
    late(old.run())
    assert hands.board.tool.looking  # type: ignore[attr-defined]
    done(new.run())
    assert len(hands.board.tool.defects) == 3  # type: ignore[attr-defined]


@pytest.mark.parametrize("error", [Stopped(), SketcherError("the process", "has ended")])
def test_a_look_that_was_stopped_is_not_taken_for_nothing_found(error: BaseException) -> None:
    hands, worker = Hands(spoiled()), Later()
    hands.board.bench.worker = worker  # type: ignore[assignment]
    hands.use("clean up")
    before = hands.board.prompt
    worker.fail(error)
    assert hands.board.prompt != before
    assert "Nothing to clean up" not in hands.board.prompt
    assert (hands.board.bench.message.severity == "error") == isinstance(error, SketcherError)
    hands.board.key("enter")
    assert len(worker.started) == 1
    worker.work()
    assert len(hands.board.tool.defects) == 3  # type: ignore[attr-defined]


def test_a_fault_beside_the_window_is_not_swallowed(monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[BaseException] = []
    monkeypatch.setattr(sys, "excepthook", lambda kind, error, trace: seen.append(error))
    for tool in ("clean up", "centers"):
        hands, worker = Hands(spoiled()), Later()
        hands.board.bench.worker = worker  # type: ignore[assignment]
        hands.use(tool)
        assert hands.board.prompt  # what it needs for that is begun
        worker.fail(ZeroDivisionError(tool))
    assert [str(error) for error in seen] == ["clean up", "centers"]


def test_all_are_mended_beside_the_window_and_nothing_to_mend_is_no_step() -> None:
    hands, worker = Hands(spoiled()), Later()
    before = hands.part
    hands.board.bench.worker = worker  # type: ignore[assignment]
    hands.use("clean up")
    hands.board.key("a")
    assert [job.name for job in worker.waited][:1] == ["Clean up"]
    assert hands.part.curves.keys() == wing().curves.keys()
    # What a mend leaves alone is the very object that it was.
    assert hands.part.curves["a1"] is before.curves["a1"]
    mended = hands.part
    hands.board.key("a")
    assert hands.part is mended
    assert hands.board.bench.history.undo_name == "Clean up"
    hands.board.bench.undo()
    assert hands.part is before


def gapped(*bound: tuple[str, tuple[str, ...], str | None]) -> Part:
    """A rectangle 40 by 25 whose third side stops 0.1 short of the fourth."""
    draft = Draft(Part())
    p = [draft.point(at) for at in ((0, 0), (40, 0), (40, 25), (0.1, 25), (0, 25))]
    for a, b in ((0, 1), (1, 2), (2, 3), (4, 0)):
        draft.line(p[a], p[b])
    draft.bind("fixed", (p[0],))
    for name, kind in (("e1", "level"), ("e2", "plumb"), ("e3", "level"), ("e4", "plumb")):
        draft.bind(kind, (name,))
    draft.bind("distance", ("e1",), "40")
    draft.bind("distance", ("e2",), "25")
    for kind, of, value in bound:
        draft.bind(kind, of, value)
    return draft.done()


def test_a_closed_gap_leaves_no_freedom_and_says_nothing_twice() -> None:
    hands = Hands(gapped())
    assert hands.board.report.freedoms == 2
    hands.use("clean up")
    (found,) = hands.board.tool.defects  # type: ignore[attr-defined]
    assert (found.kind, found.size) == ("gap", pytest.approx(0.1))
    hands.board.key("enter")
    assert sound(hands.part)
    report = default_solver(hands.part).report
    assert (report.state, report.doubled) == ("bound", ())


def test_dimensions_to_the_old_ends_still_hold() -> None:
    """Both ends are dimensioned: the corner is new, what was said of the old places stays true."""
    hands = Hands(gapped(("distance", ("e3",), "39.9"), ("distance", ("e4",), "25")))
    assert hands.board.report.state == "bound"
    hands.use("clean up")
    hands.board.key("a")
    assert sound(hands.part)
    report = default_solver(hands.part).report
    assert report.converged
    assert report.clashes == ()
    values = sorted(b.value for b in hands.part.bindings.values() if b.kind == "distance")
    assert values == ["25", "25", "39.9", "40"]


def test_a_mend_that_would_break_a_binding_is_not_taken() -> None:
    """Two level lines at different heights, both dimensioned: their ends cannot be one point."""
    draft = Draft(Part())
    a, b, c, d = (draft.point(at) for at in ((0, 0), (20, 0), (20.05, 0.02), (40, 0.02)))
    draft.line(a, b)
    draft.line(c, d)
    draft.line(d, (40, 30))
    draft.line((40, 30), a)
    draft.bind("fixed", (a,))
    for name in ("e1", "e2"):
        draft.bind("level", (name,))
    for kind, point, value in (("run", b, "20"), ("run", c, "20.05"), ("rise", c, "0.02")):
        draft.bind(kind, (a, point), value)
    hands = Hands(draft.done())
    before = hands.part
    hands.use("clean up")
    tool = hands.board.tool
    number = next(k for k, f in enumerate(tool.defects) if f.kind == "gap")  # type: ignore[attr-defined]
    tool.choose(number)  # type: ignore[attr-defined]
    assert "could not hold" in hands.board.prompt
    hands.board.key("enter")
    assert hands.part is before
    assert hands.board.bench.message.severity == "error"
    hands.board.key("a")
    assert "left" in hands.board.bench.message.text


@pytest.mark.parametrize("name", ["wing", "empty"])
def test_nothing_to_do_is_said(name: str) -> None:
    hands = Hands(wing() if name == "wing" else Part())
    hands.use("clean up")
    assert hands.board.tool.defects == ()  # type: ignore[attr-defined]
    hands.board.key("enter")
    hands.board.key("a")
    assert hands.board.bench.message.severity == "done"
    assert hands.board.bench.history.can_undo is False




def seeds(part: Part) -> list[Part]:
    """The part with one thing spoiled, for a few of its curves: twin, stub, speck, gap."""
    spoiled: list[Part] = []
    names = [n for n, c in part.curves.items() if c.role == "outline"]
    for name in names[:: max(1, len(names) // 4)]:
        curve = part.curves[name]
        draft = Draft(part)
        copies = {p: draft.point(part.points[p]) for p in curve.points}
        if isinstance(curve, CircleCurve):
            draft.circle(copies[curve.center], curve.radius)
            spoiled.append(draft.done())
            continue
        ends = copies[curve.ends[0]], copies[curve.ends[1]]
        if isinstance(curve, ArcCurve):
            draft.arc(*ends, copies[curve.center], curve.turn)
        else:
            draft.line(*ends)
        spoiled.append(draft.done())
        if isinstance(curve, LineCurve):
            (ax, ay), (bx, by) = (part.points[p] for p in curve.ends)
            gap = Draft(part)
            end = gap.point((bx - 0.001 * (bx - ax), by - 0.001 * (by - ay)))
            gap.change_curve(name, ends=(curve.ends[0], end))
            spoiled.append(gap.done())
            bit = Draft(part)
            end = bit.point((bx - 1e-9 * (bx - ax), by - 1e-9 * (by - ay)))
            bit.change_curve(name, ends=(curve.ends[0], end))
            bit.line(end, curve.ends[1])
            spoiled.append(bit.done())
    return spoiled


@pytest.mark.parametrize("path", DEMO_PARTS, ids=lambda path: path.stem)
def test_spoiled_demo_parts_come_back_exactly(path: Path) -> None:
    whole_part = Hands(load(path)).part
    clean = {p.id: p.curve for p in whole(whole_part)}
    for part in seeds(whole_part):
        hands = Hands(part)
        hands.use("clean up")
        hands.board.key("a")
        assert "left" not in hands.board.bench.message.text, hands.board.bench.message
        after = {p.id: p.curve for p in whole(hands.part)}
        assert len(after) == len(clean)
        report = default_solver(hands.part).report
        assert (report.state, report.doubled) == ("bound", ())
        for name, at in whole_part.points.items():
            if name in hands.part.points:
                assert hands.part.points[name] == pytest.approx(at, abs=1e-7)
        assert sound(hands.part)


def test_a_dimension_of_the_gap_itself_goes_with_the_gap() -> None:
    hands = Hands(gapped(("run", ("p5", "p4"), "0.1"), ("distance", ("e4",), "25")))
    hands.use("clean up")
    hands.board.key("enter")
    assert sound(hands.part)
    assert "0.1" not in [binding.value for binding in hands.part.bindings.values()]
    assert len(hands.part.points) == 4
    report = default_solver(hands.part).report
    assert (report.state, report.clashes) == ("bound", ())


def test_a_stray_is_deleted_or_made_layout() -> None:
    draft = Draft(wing())
    draft.line((20.0, 5.0), (40.0, 5.0), name="stray")
    hands = Hands(draft.done())
    before = hands.part
    hands.use("clean up")
    assert hands.board.prompt.startswith("1 of 1: stray is in no closed loop (20 mm).")
    assert "Delete stray: Enter. Make stray layout: O." in hands.board.prompt
    hands.board.key("o")
    assert hands.part.curves["stray"].role == "layout"
    assert hands.board.prompt.startswith("Nothing to clean up")
    hands.board.bench.undo()
    assert hands.part is before
    hands.board.key("enter")
    assert "stray" not in hands.part.curves


def test_a_stray_that_only_comes_near_something_can_still_go() -> None:
    """It ends near an image of a pattern, which no edit can join to it."""
    draft = Draft(wing())
    draft.line((20.0, 5.0), (38.0, 7.9), name="near")  # the hole there begins at 8
    hands = Hands(draft.done())
    hands.use("clean up")
    tool = hands.board.tool
    found = tool.defects  # type: ignore[attr-defined]
    assert [(d.kind, d.step is None) for d in found] == [("gap", True), ("stray", False)]
    tool.choose(1)  # type: ignore[attr-defined]
    hands.board.key("o")
    assert hands.part.curves["near"].role == "layout"
    assert tool.defects == ()  # type: ignore[attr-defined]
