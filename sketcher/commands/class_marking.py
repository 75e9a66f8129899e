"""``sketcher mark``: the hand-ins of a class against a key."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from sketcher.errors import EditError
from sketcher.terminal import (
    DONE,
    FINDINGS,
    Command,
    add_jobs,
    add_json,
    check_jobs,
    print_json,
    progress,
)

if TYPE_CHECKING:
    from sketcher.marking.class_run import ClassProgress
    from sketcher.marking.class_worker import Marked
    from sketcher.marking.copied_hand_ins import Alike
    from sketcher.marking.roster import ClassList
    from sketcher.marking.rubric import Rubric
    from sketcher.part.value import Part

LESSON = """\
Lays each hand-in of FOLDER, a part file or a DXF of any origin, on the key and tells what is wrong
with it: one deduction for each fault, however much hangs on it. Where a hand-in lies, in which unit
it is, and the order and the names of its layers cost nothing; what a file does not show is told and
never deducted.

OUT gets marks.csv (a line a hand-in), deductions.csv (a line a deduction), a marked sheet for each
hand-in (NAME.marked.pdf: the key grey, the hand-in dark, a ringed number at each fault) and the
report of the class (class.pdf). Hand-ins that look like copies of each other are told, and nothing
is deducted for it.

--rubric says what each rule costs; --save-rubric writes one with all rules, to be edited, and needs
nothing else. --roster is a CSV table with the columns number, name and group, and file where a
hand-in is not named by its number: a hand-in belongs to the longest number that its name begins
with. --variants is the table that 'sketcher variants' wrote: each hand-in is marked by the key of
its number, and KEY may be left out; without --roster it says who is in the class.

What the layers of a DXF are for is told by their names, line types and what they hold; where that
does not tell, the report names the layer, and "layers" in the rubric answers for the whole class.

Names stay on this machine. --numbers-only leaves names of students and of files out of everything
that is written. --columns adds empty columns to marks.csv for what only a person can judge; once
they are filled in, marks.csv is replaced only with --force.

A hand-in that cannot be read, fits nowhere on the key, takes longer than a minute or brings the
program down is listed with the reason; the others are marked all the same.

Exit status: 0 all are marked, 1 some could not be, 2 the key, the rubric, the roster or the place
of the results cannot be used."""


def _options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("key", metavar="KEY.profile.json", nargs="?",
                        help="the part as the paper has it")
    parser.add_argument("folder", metavar="FOLDER", nargs="?", help="the hand-ins")
    parser.add_argument("--out", metavar="OUT", help="the folder that the results go to")
    parser.add_argument("--rubric", metavar="NAME.rubric.json", help="what each rule costs")
    parser.add_argument("--save-rubric", metavar="NAME.rubric.json",
                        help="write the rubric with all its rules there")
    parser.add_argument("--roster", metavar="ROSTER.csv", help="who is in the class")
    parser.add_argument("--variants", metavar="VARIANTS.csv",
                        help="a key of its own for each number")
    parser.add_argument("--numbers-only", action="store_true",
                        help="write no name of a student or a file")
    parser.add_argument("--columns", metavar="A,B", default="",
                        help="more columns of marks.csv, to be filled in by hand")
    parser.add_argument("--tables-only", action="store_true",
                        help="no marked sheets and no report: the tables alone")
    add_jobs(parser)
    add_json(parser, "all of it", ", at full precision")
    parser.add_argument("--force", action="store_true", help="replace what is there")


def _mark(args: argparse.Namespace) -> int:
    from sketcher.exchange.outputs import Outputs
    from sketcher.marking.class_files import planned_files, put_class, put_report
    from sketcher.marking.class_keys import variant_codes
    from sketcher.marking.class_run import run_class
    from sketcher.marking.class_worker import Task
    from sketcher.marking.copied_hand_ins import copied
    from sketcher.marking.roster import class_list, read_roster
    from sketcher.marking.sheet_maker import SheetMaker

    _sort_places(args)
    rubric = _rubric(args)
    if args.save_rubric is not None:
        _save_rubric(args, rubric)
        if args.folder is None:
            return DONE
    _check(args)
    columns = _columns(args.columns)
    sources = [each for each in (args.key, args.rubric, args.roster, args.variants) if each]
    listed = args.roster or args.variants  # the table of variants has everybody's number
    roster = None if listed is None else read_roster(listed)
    hand_ins = class_list(args.folder, roster, sources)
    names = not args.numbers_only
    outputs = Outputs((*sources, *(entry.path for entry in hand_ins.entries)), args.force)
    files = planned_files(outputs, args.out, hand_ins.entries, names)
    keys = _keys(args)
    codes = {} if args.variants is None else variant_codes(args.variants)
    maker = SheetMaker(names, codes)
    task = Task(keys, rubric) if args.tables_only else Task(keys, rubric, maker, maker.of_ungraded)
    with _Line() as line:
        results = run_class(hand_ins.entries, task, args.jobs, line.tell)
    alike = copied([one.traces for one in results])
    put_class(outputs, files, results, hand_ins, names, columns)
    if not args.tables_only:
        with progress("drawing the report of the class"):
            put_report(outputs, files, results, next(iter(keys.values())), rubric, alike, names)
    written = outputs.write()
    if args.json:
        print_json("marks", _told(results, hand_ins, alike, written, names))
    else:
        print(*_report(results, hand_ins, alike, written, roster is not None), sep="\n")
    return FINDINGS if any(one.marks.ungraded for one in results) else DONE


def _sort_places(args: argparse.Namespace) -> None:
    """Take the one place that is given beside --variants as the folder."""
    if args.variants is not None and args.folder is None:
        args.key, args.folder = None, args.key


def _check(args: argparse.Namespace) -> None:
    """Tell what is missing or cannot be, before anything is read."""
    if args.folder is None or (args.key is None and args.variants is None):
        raise EditError("mark", "needs a key and a folder of hand-ins",
                        "write sketcher mark KEY.profile.json FOLDER --out OUT")
    if args.out is None:
        raise EditError("--out", "is not given", "name a folder for the results")
    check_jobs(args)


def _rubric(args: argparse.Namespace) -> Rubric:
    from sketcher.marking.rubric import Rubric
    from sketcher.marking.rubric_file import load_rubric

    return Rubric() if args.rubric is None else load_rubric(args.rubric)


def _save_rubric(args: argparse.Namespace, rubric: Rubric) -> None:
    from sketcher.exchange.outputs import Outputs
    from sketcher.marking.rubric_file import RUBRIC, rubric_text

    outputs = Outputs((), args.force)
    path = outputs.add("--save-rubric", args.save_rubric, RUBRIC)
    outputs.put(path, rubric_text(rubric).encode("utf-8"))
    outputs.write()
    if not args.json:
        print(f"saved to {path}")


def _keys(args: argparse.Namespace) -> Mapping[str, Part]:
    """Return the key of each number; the one for all others has the empty text."""
    from sketcher.marking.class_keys import solved_key, variant_keys

    keys: dict[str, Part] = {}
    if args.variants is not None:
        with progress("reading the variants"):
            keys.update(variant_keys(args.variants))
    elif args.key is not None:
        with progress(f"reading {args.key}"):
            keys[""] = solved_key(args.key)
    return keys


def _columns(text: str) -> tuple[str, ...]:
    """Return the titles that --columns names.

    Raises
    ------
    EditError
        For one that the table has already.
    """
    from sketcher.marking.mark_tables import MARK_COLUMNS

    titles = tuple(filter(None, (each.strip() for each in text.split(","))))
    seen = set(MARK_COLUMNS)
    for title in titles:
        if title in seen:
            raise EditError(f"--columns {text}", f"the table has a column {title!r} already",
                            "name others")
        seen.add(title)
    return titles


class _Line:
    """One line on a terminal that says how far the class is; elsewhere nothing."""

    def __init__(self) -> None:
        self._width = 0

    def __enter__(self) -> _Line:
        return self

    def tell(self, so_far: ClassProgress) -> None:
        """Say which hand-in is done, and how long it will take."""
        if not sys.stderr.isatty():
            return
        self._show(f"marked {so_far.done} of {so_far.of}{so_far.left_words}: "
                   f"{so_far.last.file}"[:100])

    def __exit__(self, *_: object) -> None:
        if self._width:
            self._show("")
            print("\r", end="", file=sys.stderr, flush=True)

    def _show(self, text: str) -> None:
        print(f"\r{text:<{self._width}}", end="", file=sys.stderr, flush=True)
        self._width = len(text)


def _report(
    results: Sequence[Marked], hand_ins: ClassList, alike: Sequence[Alike],
    written: Sequence[Path], rostered: bool,
) -> Iterator[str]:
    """Yield what a person reads: the class in a line, then all that was not as usual."""
    from statistics import fmean, median

    from sketcher.marking.asked_layers import asked_layers
    from sketcher.marking.mark_tables import number
    from sketcher.marking.marks import faulty_rules

    points = [one.marks.points for one in results if not one.marks.ungraded]
    yield f"{len(points)} of {len(results)} hand-ins marked"
    if points:
        mean, middle = round(fmean(points), 1), median(points)
        yield (f"  points: mean {number(mean)}, median {number(middle)}, "
               f"from {number(min(points))} to {number(max(points))}")
    yield from _under("not marked:", (
        f"{one.entry.file}: {one.marks.ungraded}" for one in results if one.marks.ungraded))
    yield from _under("marked, but the sheet could not be drawn:", (
        f"{one.entry.file}: {one.fault.splitlines()[-1]}"
        for one in results if one.fault and not one.marks.ungraded))
    yield from _under("a fault of the program, look at these by hand; nothing was deducted:", (
        f"{one.entry.file}: {name}: {one.marks.undecided[name]}"
        for one in results for name in faulty_rules(one.marks)))
    yield from _under("look like copies, told to you and not deducted for:", (
        f"{results[each.one].entry.file} and {results[each.other].entry.file}: "
        f"{'; '.join(each.reasons)}" for each in alike))
    yield from _under("have another's values, told to you and not deducted for:", (
        f"{one.entry.file}: has the values of number {one.values_of}"
        for one in results if one.values_of))
    yield from _under('say in the rubric what these layers are for, under "layers":', (
        f'{json.dumps(each.layer, ensure_ascii=False)}: "{each.role}" is what was taken in '
        f"{each.hand_ins} of the hand-ins, as {each.reason}"
        for each in asked_layers(one.questions for one in results)))
    yield from _under("handed in more than once:", _several(results))
    yield from _under("in nobody's number:", (
        one.entry.file for one in results if rostered and not one.entry.listed))
    yield from _under("handed in nothing:", (
        entry.label() for entry in hand_ins.absent))
    yield from _under("passed over, neither DXF nor part file:", hand_ins.passed_over)
    sheets = sum(path.name.endswith(".marked.pdf") for path in written)
    others = [str(path) for path in written if not path.name.endswith(".marked.pdf")]
    yield f"wrote {', '.join(others)}" + (f" and {sheets} marked sheets" if sheets else "")


def _under(title: str, lines: Iterator[str] | Sequence[str]) -> Iterator[str]:
    there = [f"  {line}" for line in lines]
    if there:
        yield title
        yield from there


def _several(results: Sequence[Marked]) -> Iterator[str]:
    files: dict[str, list[str]] = {}
    for one in results:
        if one.entry.listed:
            files.setdefault(one.entry.number, []).append(one.entry.file)
    for who, theirs in files.items():
        if len(theirs) > 1:
            yield f"{who}: {', '.join(theirs)}"


def _told(
    results: Sequence[Marked], hand_ins: ClassList, alike: Sequence[Alike],
    written: Sequence[Path], names: bool,
) -> dict[str, object]:
    from sketcher.marking.asked_layers import asked_layers
    from sketcher.marking.mark_tables import class_record, shown_files

    shown = shown_files([one.entry for one in results], names)
    files = [shown[one.entry.path] for one in results]
    return {
        "hand-ins": class_record(results, hand_ins.absent, names),
        "copies": [{"files": [files[each.one], files[each.other]], "reasons": list(each.reasons)}
                   for each in alike],
        "values of another": [{"file": file, "number": one.values_of}
                              for file, one in zip(files, results, strict=True) if one.values_of],
        "layers": [{"layer": each.layer, "taken for": each.role, "hand-ins": each.hand_ins,
                    "reason": each.reason}
                   for each in asked_layers(one.questions for one in results)],
        "passed over": list(hand_ins.passed_over) if names else len(hand_ins.passed_over),
        "wrote": [os.fspath(path) for path in written],
    }


COMMAND = Command("mark", "mark the hand-ins of a class against a key", LESSON, _options, _mark,
                  rank=5)
