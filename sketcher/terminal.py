"""What the commands share: exit statuses, a line on stderr, the way from a file to a solution."""

from __future__ import annotations

import argparse
import json
import sys
import threading
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from sketcher.errors import EditError, FileError, QuantityError, SketcherError

if TYPE_CHECKING:
    from sketcher.exchange.outputs import Form
    from sketcher.inspect.findings import Finding
    from sketcher.inspect.inspection import Inspection
    from sketcher.inspect.stock import Process
    from sketcher.part.atomic import Put
    from sketcher.part.value import Part
    from sketcher.solve.solve_report import Solution, SolveReport

DONE, FINDINGS, UNUSABLE, FAULT, STOPPED, PIPE_GONE = 0, 1, 2, 3, 130, 141
"""Exit statuses; the last two are 128 plus the number of the signal."""


@dataclass(frozen=True, slots=True)
class Command:
    """One command of the program.

    Parameters
    ----------
    name : str
        The word that calls it.
    summary : str
        What it does, for the list of all commands.
    lesson : str
        What its help says, exit statuses included.
    options : callable
        Adds its arguments to a parser.
    run : callable
        Takes the parsed arguments, returns the exit status.
    rank : int
        Where it stands in the list of all commands: the order of the work.
    """

    name: str
    summary: str
    lesson: str
    options: Callable[[argparse.ArgumentParser], None]
    run: Callable[[argparse.Namespace], int]
    rank: int


JSON_VERSION = 1
"""Of what ``--json`` prints: a key that goes, or means something else, is a new version."""

PROCESSES: tuple[Process, ...] = ("laser", "plasma")
"""As of `sketcher.inspect.stock`, which takes long to load."""

STREAM = "-"
"""In place of a file: standard input, or standard output."""


def add_json(parser: argparse.ArgumentParser, words: str, more: str = "") -> None:
    """Add the option by which a command prints JSON in place of lines.

    `words` say what of, `more` in which form.
    """
    parser.add_argument("--json", action="store_true", help=f"print {words} as JSON{more}")


def add_process(
    parser: argparse._ActionsContainer, words: str, required: bool = False
) -> None:
    """Add the option that names what cuts the plate."""
    parser.add_argument("--process", choices=PROCESSES, required=required, help=words)


def print_json(command: str, content: Mapping[str, object]) -> None:
    """Print what a command found, with the names of its form and of its version first."""
    print(json_text(command, content))


def json_text(form: str, content: Mapping[str, object]) -> str:
    """Return what is told as JSON, with the names of its form and of its version first."""
    told = {"format": f"part-profile-{form}", "version": JSON_VERSION, **content}
    return json.dumps(told, indent=1, ensure_ascii=False, allow_nan=False)


def minded(findings: Iterable[Finding]) -> Iterator[str]:
    """Yield findings with which something was exported all the same."""
    for finding in findings:
        yield f"  mind: {finding.code}: {finding.text}"


@dataclass(frozen=True, slots=True)
class ExportWork:
    """One output of one part, to be made.

    Parameters
    ----------
    args : argparse.Namespace
        All that was given on the command line.
    inspection : Inspection
        Of the solved part.
    despite : collection of str
        Codes of findings that are accepted.
    place : str
        Where the output goes.
    put : callable
        Takes place and content.
    facts : dict
        What ``--json`` tells of the output beside its lines; filled in by who makes it.
    shared : dict
        What one output of the part has made and another one takes.
    """

    args: argparse.Namespace
    inspection: Inspection
    despite: Collection[str]
    place: str
    put: Put
    facts: dict[str, object] = field(default_factory=dict)
    shared: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ExportOutput:
    """Something that ``sketcher export`` makes of a part, by an option of its own.

    Parameters
    ----------
    option : str
        Its name without dashes; its value is the place of the file.
    metavar : str
        How the place is written in the help.
    help : str
        What it is, for the help.
    form : callable
        Returns what the file is and what it may replace unasked.
    title : str
        Over its options in the help.
    options : callable
        Takes a parser and the output's group in it, adds the options that go with it to the group,
        and groups of its own to the parser; each option begins with no value, so that one given
        without this output is told.
    make : callable
        Makes it; yields what is to be told, a line each.
    goes_with : tuple of str
        Names of those options as the parser keeps them, and of others that it goes by too.
    rank : int
        Where it stands in the help and in what is told.
    """

    option: str
    metavar: str
    help: str
    form: Callable[[], Form]
    title: str
    options: Callable[[argparse.ArgumentParser, argparse._ActionsContainer], None]
    make: Callable[[ExportWork], Iterable[str]]
    goes_with: tuple[str, ...]
    rank: int


def add_changes(parser: argparse.ArgumentParser) -> None:
    """Add the option that gives parameters and dimensions another value for one run."""
    parser.add_argument("--set", metavar="NAME=VALUE", action="append", default=[], dest="changes",
                        help="another value for a parameter, or for a dimension by its id; may be "
                             "given more than once")


def add_jobs(parser: argparse.ArgumentParser) -> None:
    """Add the option that says how many processes a command uses."""
    parser.add_argument("--jobs", metavar="N", type=int,
                        help="processes to use; without it one for each processor")


def check_jobs(args: argparse.Namespace) -> None:
    """Refuse to work with less than one process."""
    if args.jobs is not None and args.jobs < 1:
        raise EditError(f"--jobs {args.jobs}", "is less than one process", "give 1 or more")


def say(error: object, status: int) -> int:
    """Print one line on stderr, whatever the text; return the status."""
    print("sketcher: " + " ".join(str(error).split()), file=sys.stderr)
    return status


def reasons(report: SolveReport) -> Iterator[str]:
    """Yield what keeps a part from being bound, and what is redundant, a line each."""
    for clash in report.clashes:
        yield f"cannot all hold: {', '.join(clash)}"
    if report.freedoms:
        points = ", ".join(loose.point for loose in report.loose)
        ways = f"{report.freedoms} freedom{'' if report.freedoms == 1 else 's'}"
        yield f"{ways} left; loose: {points}"
    if report.doubled:
        yield f"redundant, and they agree: {', '.join(report.doubled)}"


def solved(
    path: str, changes: Sequence[str] = (), others: Sequence[str] = (), sure: Sequence[str] = ()
) -> Solution:
    """Read and solve a part, then with other sides, with doubts confirmed, with changed values.

    Parameters
    ----------
    path : str
        Or `STREAM` for what comes from standard input.
    changes : sequence of str
        NAME=VALUE for parameters and dimensions.
    others : sequence of str
        Bindings that are meant on their other side.
    sure : sequence of str
        Bindings whose side, which is in doubt, is the one that is meant.
    """
    from sketcher.inspect.sketched import solve_sketch
    from sketcher.part.edits.confirm_side import confirm_side
    from sketcher.part.edits.turn_side import turn_side
    from sketcher.quantity.parameters import evaluate_all
    from sketcher.solve import solve_with

    with progress(f"reading {path}"):
        part = _read(path)
    parameters, values = _changes(part, changes)
    evaluate_all({**part.parameters, **parameters}, part.unit)  # so that an error names them
    with progress(f"solving {part.name}"):
        solution = solve_sketch(part)
        for name in others:
            solution = solve_sketch(turn_side(solution.part, name).part)
        for name in sure:
            solution = replace(solution, part=confirm_side(solution.part, name).part)
        if changes:
            solution = solve_with(solution.part, parameters, values)
        return solution


def _read(path: str) -> Part:
    """Read a part from a file, or from standard input."""
    from sketcher.part import file_text
    from sketcher.part.store import load

    if not path:
        raise FileError("FILE", "is empty", "name a part, or - for standard input")
    if path != STREAM:
        return load(path)
    try:
        return file_text.read(sys.stdin.buffer.read(file_text.MAX_BYTES + 1))
    except SketcherError as error:
        place = f"standard input: {error.place}" if error.place else "standard input"
        raise FileError(place, error.problem, error.remedy) from None


def _changes(part: Part, changes: Sequence[str]) -> tuple[dict[str, str], dict[str, str]]:
    """Sort NAME=VALUE into parameters and dimensions."""
    from sketcher.part.check import check_written
    from sketcher.part.kinds import KINDS

    parameters: dict[str, str] = {}
    values: dict[str, str] = {}
    for change in changes:
        name, equals, value = (piece.strip() for piece in change.partition("="))
        if not equals or not name or not value:
            raise EditError(f"--set {change}", "is not NAME=VALUE", "write it like --set wall=8")
        if name in parameters or name in values:
            raise EditError(f"--set {change}", f"'{name}' is set twice", "say it once")
        if name in part.parameters:
            parameters[name] = value
        elif name in part.bindings and KINDS[part.bindings[name].kind].quantity is not None:
            values[name] = value
        else:
            dimensions = (name for name, b in part.bindings.items()
                          if KINDS[b.kind].quantity is not None)
            known = [*part.parameters, *dimensions]
            raise EditError(f"--set {change}", f"no parameter or dimension named '{name}'",
                            f"there are {', '.join(known) or 'none'}")
    check_written(part, part.having(
        parameters={**part.parameters, **parameters},
        bindings={**part.bindings, **{name: replace(part.bindings[name], value=value)
                                      for name, value in values.items()}}))
    return parameters, values


def option_count(option: str, text: str | None, least: int, remedy: str) -> int | None:
    """Return the whole number that an option gives.

    Raises
    ------
    EditError
        When it is none, below `least`, or of more than nine digits; `remedy` ends it.
    """
    if text is None:
        return None
    # isdigit alone takes raised and foreign digits, and int no text without an end
    if text.isascii() and text.isdigit() and len(text) <= 9 and int(text) >= least:
        return int(text)
    raise EditError(f"--{option} {text}", f"is not a whole number, {least} or more", remedy)


def option_length(option: str, text: str | None, unit: str) -> float | None:
    """Return the length that an option gives, in `unit` where it names none.

    Raises
    ------
    SketcherError
        When it is none, or not above zero.
    """
    from sketcher.quantity.parse import names_in
    from sketcher.quantity.written import evaluate_written

    if text is None:
        return None
    try:
        value = evaluate_written(text, "length", unit, place=f"--{option}")
    except QuantityError:
        with suppress(QuantityError):
            if text.strip() and names_in(text, unit):  # an option knows no parameters
                raise EditError(f"--{option} {text}", "is no length",
                                f"write it like --{option} 0.1") from None
        raise
    if value <= 0.0:
        raise EditError(f"--{option} {text}", "is not above zero",
                        f"write a length like --{option} 0.1, or leave it out")
    return value


@contextmanager
def progress(what: str) -> Iterator[None]:
    """Say on a terminal what is going on when it takes longer than a second, and how far it is."""
    if not sys.stderr.isatty():
        yield
        return
    from sketcher.progress import told_to

    over, shares = threading.Event(), [0.0]
    thread = threading.Thread(target=_count, args=(what, over, shares), daemon=True)
    thread.start()
    try:
        with told_to(lambda share: shares.__setitem__(0, share)):
            yield
    finally:
        over.set()
        thread.join()


def _count(what: str, over: threading.Event, shares: list[float]) -> None:
    seconds = 0
    while not over.wait(1.0):
        seconds += 1
        done = f", {100.0 * shares[0]:.0f} %" if shares[0] else ""
        print(f"\r{what}: {seconds} s{done} ", end="", file=sys.stderr, flush=True)
    if seconds:
        print("\r" + " " * (len(what) + 18) + "\r", end="", file=sys.stderr, flush=True)
