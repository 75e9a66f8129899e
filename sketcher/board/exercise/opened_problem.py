"""A problem as it lies on the table: its key, the sheet that is handed out, the paper's list."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from sketcher.board.exercise.attempt import paper_key
from sketcher.board.exercise.paper_key import PaperEntry
from sketcher.drafting.page import Page
from sketcher.drafting.primitives import Item, item_box, shifted
from sketcher.drafting.unsaid import unsaid
from sketcher.geometry.curves import Curve
from sketcher.lesson.practice import practice_problems
from sketcher.marking.handout import handout_of, sound_problem
from sketcher.part.value import Part
from sketcher.solve.solver import solve

AIR = 4.0
"""Millimetres around the drawing on the picture of it."""
FRAME = "sheet:"
NOTES = "sheet:note"


@dataclass(frozen=True, slots=True)
class OpenedProblem:
    """What a student works from.

    Parameters
    ----------
    name : str
        By which it is remembered; empty for a part that is none of the shipped problems.
    title : str
    goal : str
        What is learned by it; empty where nobody said.
    key : Part
        Solved.
    sheet : Page
        The handout.
    picture : Page
        The drawing of it alone.
    notes : tuple of str
        What the drawing says in words.
    entries : tuple of PaperEntry
        The paper's list.
    curves : mapping of int to Curve
        The key's features by number, in its unit.
    """

    name: str
    title: str
    goal: str
    key: Part
    sheet: Page
    picture: Page
    notes: tuple[str, ...]
    entries: tuple[PaperEntry, ...]
    curves: Mapping[int, Curve]


def shipped_problem(name: str) -> OpenedProblem:
    """Return one of the shipped problems.

    Raises
    ------
    SketcherError
        When it is not there, or cannot be set as a problem.
    """
    problem = next(each for each in practice_problems() if each.name == name)
    return set_problem(problem.key, name, problem.title, problem.goal)


def set_problem(part: Part, name: str = "", title: str = "", goal: str = "") -> OpenedProblem:
    """Return a part set as a problem.

    Parameters
    ----------
    part : Part
    name, title, goal : str
        As for `OpenedProblem`.

    Raises
    ------
    SketcherError
        When it is no key, has findings, or its sheet does not say all of it.
    """
    solution = solve(part)
    part = solution.part
    page = handout_of(sound_problem(solution, part.name), part.name).page
    key = paper_key(part)
    return OpenedProblem(name, title or part.name, goal, part, page, drawing_alone(page),
                         (*unsaid(part).notes, *part.notes), key.entries, dict(key.placed))


def drawing_alone(page: Page) -> Page:
    """Return the drawing of a page, without frame, title block and notes, cut close to it."""
    items = tuple(item for item in page.items if not item.source.startswith(FRAME))
    boxes = [item_box(item) for item in (*items, *(i for d in page.dimensions for i in d.items))]
    left, low = (min(box[k] for box in boxes) - AIR for k in (0, 1))
    right, high = (max(box[k] for box in boxes) + AIR for k in (2, 3))
    moved = tuple(replace(
        d, points=tuple((x - left, y - low) for x, y in d.points),
        place=(d.place[0] - left, d.place[1] - low),
        items=tuple(shifted(item, -left, -low) for item in d.items)) for d in page.dimensions)
    return replace(
        page, size=(right - left, high - low), items=tuple(_shifted(items, -left, -low)),
        dimensions=moved, view=None if page.view is None else page.view.shifted(-left, -low),
        details=())


def _shifted(items: Iterable[Item], dx: float, dy: float) -> Iterable[Item]:
    return (shifted(item, dx, dy) for item in items)
