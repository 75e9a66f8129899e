"""The keys of a class: one for all, or one for each number as ``variants.csv`` says."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

from sketcher.errors import FileError
from sketcher.inspect.sketched import solve_sketch
from sketcher.marking.roster import titled_rows
from sketcher.part.store import load
from sketcher.part.value import Part
from sketcher.progress import counted
from sketcher.solve.solve_report import Solution, SolveReport


def solved_key(path: str | os.PathLike[str]) -> Part:
    """Return the key that a part's file holds, solved.

    Raises
    ------
    FileError
        When it cannot be read, or is no key: a key says one part and no other.
    """
    return checked_key(solve_sketch(load(path)), str(path))


def checked_key(solution: Solution, place: str) -> Part:
    """Return a solved part that can be a key.

    Raises
    ------
    FileError
        When it is none; `place` says which part it is.
    """
    problem = _lack(solution.part, solution.report)
    if problem:
        raise FileError(place, f"is no key: {problem}",
                        "mend it first; 'sketcher inspect' tells more")
    return solution.part


def _lack(part: Part, report: SolveReport) -> str:
    """Return why a part is no key; empty when it is one."""
    if not report.converged or report.clashes:
        clash = ", ".join(report.clashes[0]) if report.clashes else ""
        return f"{clash or 'its bindings'} cannot all hold"
    if report.freedoms:
        return f"something is loose: {', '.join(each.point for each in report.loose)}"
    if part.doubts:
        return f"the side of {next(iter(part.doubts[0].sides))} is in doubt"
    if not any(curve.role == "outline" for curve in part.curves.values()):
        return "it has no outline"
    return ""


def variant_keys(path: str | os.PathLike[str]) -> Mapping[str, Part]:
    """Return the key of each number that ``variants.csv`` names; files lie beside it.

    Raises
    ------
    FileError
        When the table or a key cannot be read; names the line.
    """
    folder = Path(path).parent
    solved: dict[str, Part] = {}
    found: dict[str, Part] = {}
    for line, row in counted(_variant_rows(path)):
        number, key = row.get("number", ""), row.get("key", "")
        place = f"{path}, line {line}"
        if not number or not key:
            raise FileError(place, "lacks a number or a key", "make the variants again")
        if number in found:
            raise FileError(place, f"the number {number!r} is there twice",
                            "leave one of the two")
        if key not in solved:
            try:
                solved[key] = solved_key(folder / key)
            except FileError as error:
                raise FileError(f"{place}: {error.place}", error.problem, error.remedy) from None
        found[number] = solved[key]
    if not found:
        raise FileError(str(path), "names no key", "make the variants again")
    return found


def variant_codes(path: str | os.PathLike[str]) -> Mapping[str, str]:
    """Return the code of each number's variant, where ``variants.csv`` names one."""
    return {row["number"]: row["variant"] for _, row in _variant_rows(path)
            if row.get("number") and row.get("variant")}


def _variant_rows(path: str | os.PathLike[str]) -> list[tuple[int, dict[str, str]]]:
    """Return the lines of the table by their titles, each with its number."""
    _, rows = titled_rows(
        path, ("number", "key"), "name the table that 'sketcher variants' wrote")
    return list(rows)
