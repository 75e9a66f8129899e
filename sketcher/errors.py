"""One tree of errors; each names the place, the problem and the remedy."""

from __future__ import annotations


class SketcherError(Exception):
    """Something a person can mend.

    Parameters
    ----------
    place : str
        Where it is: ``curves.a1.center``, a command's option, a file's path.
    problem : str
        What is wrong there, in one clause.
    remedy : str
        What to do about it; may be empty where the problem says it all.
    """

    def __init__(self, place: str, problem: str, remedy: str = "") -> None:
        self.place = place
        self.problem = problem
        self.remedy = remedy
        super().__init__(place, problem, remedy)

    @property
    def reason(self) -> str:
        """Problem and remedy without the place, for the field where the input stands."""
        return f"{self.problem}; {self.remedy}" if self.remedy else self.problem

    def __str__(self) -> str:
        return f"{self.place}: {self.reason}" if self.place else self.reason


class FileError(SketcherError, ValueError):
    """A file that cannot be read or written."""


class QuantityError(SketcherError, ValueError):
    """A length, an angle or an expression that cannot be understood."""


class GeometryError(SketcherError, ArithmeticError):
    """A construction that has no result: parallel lines that should meet, a radius of zero."""


class EditError(SketcherError, ValueError):
    """An edit that the part does not allow."""


class ExportError(SketcherError, RuntimeError):
    """A part that must not leave the program as it stands."""
