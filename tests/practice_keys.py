"""The practice problems as they are handed out and marked; each is made once in a process."""

from __future__ import annotations

from functools import cache

from sketcher.drafting.page import Page
from sketcher.exchange.pdf import pdf_bytes
from sketcher.inspect.sketched import solve_sketch
from sketcher.lesson.practice import practice_problems
from sketcher.marking.comparing import KeyReady
from sketcher.marking.hand_in import HandCurve, HandIn
from sketcher.marking.handout import handout_of, sound_problem
from sketcher.marking.marks import Marks, marked
from sketcher.marking.rubric import Rubric
from sketcher.part.value import Part
from sketcher.part.whole import whole
from sketcher.solve.solve_report import Solution, SolveReport


@cache
def practice_solved(name: str) -> Solution:
    """A problem's key as it is solved."""
    return solve_sketch(next(p.key for p in practice_problems() if p.name == name))


@cache
def handout_page(name: str) -> Page:
    """The drawing that is handed out."""
    return handout_of(sound_problem(practice_solved(name), name), name).page


def handout_pdf(name: str) -> bytes:
    """What is handed out."""
    return pdf_bytes([handout_page(name)])


def shown_texts(name: str) -> list[str]:
    """The dimensions of the drawing, of which is read back that they say all of the part."""
    return [dim.text for dim in handout_page(name).dimensions]


@cache
def practice_key(name: str) -> KeyReady:
    """A problem's key by the usual rubric; nobody changes it."""
    return KeyReady(practice_solved(name).part, Rubric())


def marked_by_key(name: str, part: Part, report: SolveReport) -> Marks:
    """The marks of a part that is handed in for a problem."""
    curves = tuple(HandCurve(piece.curve, number) for number, piece in enumerate(
        (p for p in whole(part) if p.role == "outline"), 1))
    key = practice_key(name)
    hand_in = HandIn("drawn.profile.json", curves, part.unit, part=part, report=report)
    return marked(key.compare(hand_in), key.rubric)
