"""The commands: ``sketcher inspect | solve | order | export | demo | open``.

Exit status: 0 sound or done, 1 findings, 2 input that cannot be read or used, 3 a fault of the
program itself, 130 stopped by the keyboard, 141 when the reader of the output went away.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from sketcher import teach
from sketcher.errors import EditError, ExportError, FileError, SketcherError

if TYPE_CHECKING:
    from sketcher.part.value import Part
    from sketcher.solve.report import Solution, SolveReport

DONE, FINDINGS, UNUSABLE, FAULT, STOPPED, PIPE_GONE = 0, 1, 2, 3, 130, 141

DEMO_PART = "gate-strap.profile.json"
DEMO_FOLDER = "sketcher-demo"


def main(argv: list[str] | None = None) -> int:
    """Run one command and return its exit status; a person never sees a traceback.

    With SKETCHER_TRACEBACK=1 in the environment a fault of the program shows where it happened.
    """
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        status = _run(sys.argv[1:] if argv is None else argv)
        sys.stdout.flush()
    except BrokenPipeError:
        # What is still in the buffer must not raise again while the interpreter shuts down.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return PIPE_GONE
    except ExportError as error:
        return _say(error, FINDINGS)
    except SketcherError as error:
        return _say(error, UNUSABLE)
    except OSError as error:
        return _say(f"{error.filename or 'output'}: {error.strerror or error}", UNUSABLE)
    except KeyboardInterrupt:
        return _say("stopped", STOPPED)
    except Exception as error:  # the last door before a person
        if os.environ.get("SKETCHER_TRACEBACK"):
            raise
        return _say(f"fault in the program: {type(error).__name__}: {error}", FAULT)
    return status


def _say(error: object, status: int) -> int:
    print("sketcher: " + " ".join(str(error).split()), file=sys.stderr)
    return status


def _run(argv: Sequence[str]) -> int:
    args = _parser().parse_args(argv)
    command: Callable[[argparse.Namespace], int] = args.command
    return command(args)


class _Parser(argparse.ArgumentParser):
    """Says what is wrong with a command in one line."""

    def error(self, message: str) -> NoReturn:
        self.exit(UNUSABLE, f"{self.prog}: {message}; see {self.prog} --help\n")


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="sketcher", description=teach.ABOUT,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.set_defaults(command=_open, file=None)
    parser.add_argument("--version", action="version", version=f"%(prog)s {_version()}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")
    for add in (_add_inspect, _add_solve, _add_order, _add_export, _add_demo, _add_open):
        add(commands)
    return parser


def _version() -> str:
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("part-profile-sketcher")
    except PackageNotFoundError:
        return "(not installed)"


def _command(
    commands: argparse._SubParsersAction[_Parser],
    name: str, run: Callable[[argparse.Namespace], int], what: str, lesson: str,
) -> argparse.ArgumentParser:
    parser = commands.add_parser(
        name, help=what, description=f"{what[:1].upper()}{what[1:]}.\n\n{lesson}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.set_defaults(command=run)
    return parser


# inspect


def _add_inspect(commands: argparse._SubParsersAction[_Parser]) -> None:
    parser = _command(commands, "inspect", _inspect, "measure everything and say what is wrong",
                      teach.INSPECT)
    parser.add_argument("file", metavar="FILE", help="a part, NAME.profile.json")
    parser.add_argument("--json", action="store_true",
                        help="print everything as JSON, in the part's unit, at full precision")


def _inspect(args: argparse.Namespace) -> int:
    from sketcher.inspect.report import inspect_part

    solution = _solved(args.file)
    with _progress("inspecting"):
        inspection = inspect_part(solution.part, solution.report)
    if args.json:
        print(json.dumps(inspection.as_dict(), indent=1, ensure_ascii=False, allow_nan=False))
    else:
        print(inspection.as_text(), end="")
    return DONE if inspection.sound else FINDINGS


# solve


def _add_solve(commands: argparse._SubParsersAction[_Parser]) -> None:
    parser = _command(commands, "solve", _solve, "find the exact geometry", teach.SOLVE)
    parser.add_argument("file", metavar="FILE", help="a part, NAME.profile.json")
    parser.add_argument("--set", metavar="NAME=VALUE", action="append", default=[], dest="changes",
                        help="another value for a parameter, or for a dimension by its id; may be "
                             "given more than once")
    parser.add_argument("--out", metavar="FILE", help="write the solved part there")


def _solve(args: argparse.Namespace) -> int:
    solution = _solved(args.file, args.changes)
    part, report = solution.part, solution.report
    print(f"{part.name}: {_outcome(report)}")
    for line in _reasons(report):
        print(f"  {line}")
    if args.out and report.converged:
        from sketcher.part.store import save

        save(part, args.out)
        print(f"written to {args.out}")
    elif args.out:
        print("nothing was written", file=sys.stderr)
    return DONE if report.converged and not report.clashes else FINDINGS


def _outcome(report: SolveReport) -> str:
    if not report.converged:
        return "not solved; the geometry stays as it was"
    steps = f"{report.iterations} Newton step{'' if report.iterations == 1 else 's'}"
    worst = max((abs(off) for off in report.residuals.values()), default=0.0)
    return f"{report.state}, {len(report.residuals)} bindings hold to {worst:.1e} after {steps}"


def _reasons(report: SolveReport) -> Iterator[str]:
    for clash in report.clashes:
        yield f"cannot all hold: {', '.join(clash)}"
    if report.freedoms:
        points = ", ".join(loose.point for loose in report.loose)
        ways = f"{report.freedoms} freedom{'' if report.freedoms == 1 else 's'}"
        yield f"{ways} left; loose: {points}"
    if report.doubled:
        yield f"said twice, and they agree: {', '.join(report.doubled)}"


# order


def _add_order(commands: argparse._SubParsersAction[_Parser]) -> None:
    parser = _command(commands, "order", _order, "print the construction order in steps",
                      teach.ORDER)
    parser.add_argument("file", metavar="FILE", help="a part, NAME.profile.json")


def _order(args: argparse.Namespace) -> int:
    solution = _solved(args.file)
    if not solution.report.converged:
        why = "; ".join(["not solved", *_reasons(solution.report)])
        return _say(f"{args.file}: {why}", FINDINGS)
    print(f"{solution.part.name}: construction order")
    for line in _steps(solution.part):
        print(line)
    return DONE


def _steps(part: Part) -> Iterator[str]:
    from sketcher.solve.order import construction_order

    with _progress("ordering"):
        steps = construction_order(part)
    for step in steps:
        yield f"{step.number:3}. {step.text}"


# export


def _add_export(commands: argparse._SubParsersAction[_Parser]) -> None:
    parser = _command(commands, "export", _export, "write the cutting DXF or the sheet",
                      teach.EXPORT)
    parser.add_argument("file", metavar="FILE", help="a part, NAME.profile.json")
    parser.add_argument("--cut", metavar="OUT.dxf", help="the cutting DXF to write")
    parser.add_argument("--sheet", metavar="OUT",
                        help="the drawing to write: OUT.pdf, OUT.svg, OUT.png or OUT.dxf")
    parser.add_argument("--record", metavar="OUT",
                        help="the inspection record to write: OUT.csv or OUT.pdf")
    parser.add_argument("--measured", metavar="IN.csv",
                        help="a record with its measured column filled in")
    parser.add_argument("--pieces", action="store_true",
                        help="single lines and arcs in place of polylines")


def _export(args: argparse.Namespace) -> int:
    if not (args.cut or args.sheet):
        raise EditError("export", "says nothing to write, see 'sketcher export --help'",
                        "add --cut OUT.dxf or --sheet OUT.pdf")
    solution = _solved(args.file)
    for target in filter(None, (args.cut, args.sheet)):
        if _same_file(args.file, target):
            raise FileError(target, "is the part's own file", "choose another name")
    if args.cut:
        for line in _cut(solution, args.cut, args.pieces):
            print(line)
    return _paper(solution, args) if args.sheet or args.record else DONE


def _paper(solution: Solution, args: argparse.Namespace) -> int:
    """Write drawing and record; a part whose bindings cannot all hold is refused."""
    from sketcher.exchange.record_file import read_measured, write_record
    from sketcher.exchange.sheet_file import write_sheet

    part = solution.part
    if not solution.report.converged:
        raise ExportError(solution.part.name, "the bindings cannot all hold",
                          "see which with 'sketcher inspect'")
    measured = read_measured(part, args.measured) if args.measured else None
    if args.sheet:
        for written in write_sheet(part, args.sheet, measured):
            print(f"wrote {written}")
    if args.record:
        failed = write_record(part, args.record, measured)
        print(f"wrote {args.record}")
        for name in failed:
            print(f"{name}: outside its limits")
        return FINDINGS if failed else DONE
    return DONE


def _same_file(one: str, two: str) -> bool:
    return os.path.exists(two) and os.path.samefile(one, two)


def _cut(solution: Solution, path: str | Path, pieces: bool = False) -> Iterator[str]:
    """Write the cutting file; yield what was written and the cautions that go with it."""
    from sketcher.exchange.dxf_cut import CAUTIONS, write_cut
    from sketcher.inspect.report import inspect_part
    from sketcher.inspect.words import length

    part = solution.part
    with _progress("exporting"):
        inspection = inspect_part(part, solution.report)
        written = write_cut(inspection, path, pieces)
    yield (f"{path}: {written.outside} outside and {written.inside} inside contours, "
           f"{length(written.length, part.unit)} of cut, unit {part.unit}")
    for finding in inspection.findings:
        yield f"  mind: {finding.code}: {finding.text}"
    for caution in CAUTIONS:
        yield f"  caution: {caution}"


# demo


def _add_demo(commands: argparse._SubParsersAction[_Parser]) -> None:
    parser = _command(commands, "demo", _demo, "see all of it on a demo part", teach.DEMO)
    parser.add_argument("--folder", metavar="DIR", default=DEMO_FOLDER,
                        help=f"where to write (default: {DEMO_FOLDER} here)")
    parser.add_argument("--headless", action="store_true", help="open no window")


def _demo(args: argparse.Namespace) -> int:
    from sketcher.exchange.dxf_cut import CAUTIONS
    from sketcher.inspect.export import as_csv, as_html
    from sketcher.inspect.report import inspect_part
    from sketcher.part.atomic import write_bytes
    from sketcher.part.store import save

    folder = Path(args.folder)
    folder.mkdir(parents=True, exist_ok=True)
    solution = _solve_text(_demo_text())
    inspection = inspect_part(solution.part, solution.report)
    part_file = folder / DEMO_PART
    save(solution.part, part_file)
    texts = {
        "inspection.txt": inspection.as_text(),
        "inspection.json": json.dumps(inspection.as_dict(), indent=1, ensure_ascii=False),
        "inspection.csv": as_csv(inspection),
        "inspection.html": as_html(inspection),
        "order.txt": "\n".join(_steps(solution.part)) + "\n",
    }
    for name, text in texts.items():
        write_bytes(folder / name, text.encode("utf-8"))
    cut = folder / DEMO_PART.replace(".profile.json", ".dxf")
    list(_cut(solution, cut))
    print(inspection.as_text())
    print(f"Written to {folder.resolve()}:")
    for name in (part_file.name, *texts, cut.name):
        print(f"  {name}")
    for caution in CAUTIONS:
        print(f"caution: {caution}")
    if not args.headless and _somebody_looks():
        return _window([str(part_file)])
    return DONE if inspection.sound else FINDINGS


def _demo_text() -> bytes:
    from sketcher.shipped import shipped

    return shipped("demo_parts", DEMO_PART).read_bytes()


def _solve_text(data: bytes) -> Solution:
    from sketcher.part import text
    from sketcher.part.kinds import settle_sides
    from sketcher.solve import solve

    return solve(settle_sides(text.read(data)))


# open


def _add_open(commands: argparse._SubParsersAction[_Parser]) -> None:
    parser = _command(commands, "open", _open, "open the window", teach.OPEN)
    parser.add_argument("file", metavar="FILE", nargs="?", help="a part, NAME.profile.json")


def _open(args: argparse.Namespace) -> int:
    if not _has_screen():
        raise SketcherError("open", "there is no screen here", "the other commands need none")
    return _window([args.file] if args.file else [])


def _has_screen() -> bool:
    """Tell whether a window can be shown; Qt ends the process where it cannot."""
    if sys.platform in {"win32", "darwin"} or os.environ.get("QT_QPA_PLATFORM"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def _somebody_looks() -> bool:
    """Tell whether a person would see a window that opens by itself."""
    hidden = os.environ.get("QT_QPA_PLATFORM", "").split(":")[0] in {"offscreen", "minimal"}
    return _has_screen() and not hidden and not os.environ.get("CI")


def _window(arguments: list[str]) -> int:
    from sketcher.desk.app import run

    return run(arguments)


# What the commands share


def _solved(path: str, changes: Sequence[str] = ()) -> Solution:
    """Read and solve a part, with changed values where some are given."""
    from sketcher.part.store import load
    from sketcher.quantity.parameters import evaluate_all
    from sketcher.solve import solve, solve_with

    with _progress(f"reading {path}"):
        part = load(path)
    parameters, values = _changes(part, changes)
    evaluate_all({**part.parameters, **parameters}, part.unit)  # so that an error names them
    with _progress(f"solving {part.name}"):
        return solve_with(part, parameters, values) if changes else solve(part)


def _changes(part: Part, changes: Sequence[str]) -> tuple[dict[str, str], dict[str, str]]:
    """Sort NAME=VALUE into parameters and dimensions."""
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
        elif name in part.bindings and part.bindings[name].value is not None:
            values[name] = value
        else:
            dimensions = (name for name, b in part.bindings.items() if b.value is not None)
            known = [*part.parameters, *dimensions]
            raise EditError(f"--set {change}", f"no parameter or dimension named '{name}'",
                            f"there are {', '.join(known) or 'none'}")
    return parameters, values


@contextmanager
def _progress(what: str) -> Iterator[None]:
    """Say on a terminal what is going on when it takes longer than a second."""
    if not sys.stderr.isatty():
        yield
        return
    over = threading.Event()
    thread = threading.Thread(target=_count, args=(what, over), daemon=True)
    thread.start()
    try:
        yield
    finally:
        over.set()
        thread.join()


def _count(what: str, over: threading.Event) -> None:
    seconds = 0
    while not over.wait(1.0):
        seconds += 1
        print(f"\r{what}: {seconds} s", end="", file=sys.stderr, flush=True)
    if seconds:
        print("\r" + " " * (len(what) + 10) + "\r", end="", file=sys.stderr, flush=True)
