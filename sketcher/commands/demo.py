"""``sketcher demo``: all of it on a demo part."""

from __future__ import annotations

import argparse
import json
import os
import shlex
from typing import TYPE_CHECKING

from sketcher.commands.deliverables.cut_output import write_cutting
from sketcher.commands.opening import has_screen, show_window
from sketcher.commands.ordering import numbered_steps
from sketcher.terminal import DONE, FINDINGS, Command, add_json, print_json

if TYPE_CHECKING:
    from sketcher.solve.solve_report import Solution

DEMO_PART = "gate-strap.profile.json"
DEMO_FOLDER = "sketcher-demo"

LESSON = """\
Takes one of the demo parts from its rough sketch to what leaves the program, into a folder of its
own: the solved part, the inspection (text, JSON, CSV, HTML), the construction order and the cutting
DXF. Prints the table of every dimension and every tangency residual. Where there is a screen the
window then opens with the part. A part that was changed there since is replaced only with
--force.

--class DIR writes an invented class instead: a key, a rubric, a roster, and thirteen hand-ins with
faults of many kinds, one of which cannot be read. It prints what is wrong with each, and the
command that marks them."""


def _options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--folder", metavar="DIR", default=DEMO_FOLDER,
                        help=f"where to write (default: {DEMO_FOLDER} here)")
    parser.add_argument("--force", action="store_true",
                        help="replace what is there, even a part that was changed")
    parser.add_argument("--headless", action="store_true", help="open no window")
    add_json(parser, "what was written, and the inspection,")
    parser.add_argument("--class", metavar="DIR", dest="class_folder",
                        help="write a class of hand-ins to mark there, and nothing else")


def _demo(args: argparse.Namespace) -> int:
    return _demo_part(args) if args.class_folder is None else _demo_class(args)


def _demo_class(args: argparse.Namespace) -> int:
    """Write an invented class, and say how to mark it."""
    from sketcher.exchange.outputs import Form, Outputs, made_folder
    from sketcher.marking.demo_class import (
        HAND_INS,
        KEY_FILE,
        ROSTER_FILE,
        RUBRIC_FILE,
        demo_files,
        demo_hand_ins,
    )

    folder = made_folder("--class", args.class_folder, parents=True)
    made_folder("--class", folder / HAND_INS)
    hand_ins = demo_hand_ins()
    contents = {**demo_files(), **{f"{HAND_INS}/{each.file}": each.content for each in hand_ins}}
    outputs = Outputs(force=args.force)
    form = Form("a file of the demo class", (".json", ".csv", ".dxf"), lambda data: False)
    for name, content in contents.items():
        outputs.put(outputs.add("--class", folder / name, form, ask=False), content)
    written = outputs.write()
    if args.json:
        print_json("demo", {"hand-ins": [{"file": each.file, "faults": each.faults}
                                         for each in hand_ins],
                            "wrote": [str(path) for path in written]})
        return DONE
    for each in hand_ins:
        print(f"{each.file}: {each.faults}")
    words = ("sketcher", "mark", folder / KEY_FILE, folder / HAND_INS, "--rubric",
             folder / RUBRIC_FILE, "--roster", folder / ROSTER_FILE, "--out", folder / "marked")
    print("14 handed in nothing", "", "mark them with:", f"  {shlex.join(map(str, words))}",
          sep="\n")
    return DONE


def _demo_part(args: argparse.Namespace) -> int:
    from sketcher.exchange.outputs import CUTTING, PART, REPORT, Outputs, made_folder
    from sketcher.inspect.export import as_csv, as_html
    from sketcher.inspect.inspection import inspect_part
    from sketcher.part.store import SUFFIX, content
    from sketcher.shop.cautions import cautions
    from sketcher.shop.planning import plan_cut

    folder = made_folder("--folder", args.folder, parents=True)
    solution = _solve_text(_demo_text())
    inspection = inspect_part(solution.part, solution.report)
    outputs = Outputs(force=args.force)
    part_file = outputs.add("--folder", folder / DEMO_PART, PART)
    cut = outputs.add("--folder", folder / DEMO_PART.replace(SUFFIX, ".dxf"), CUTTING)
    outputs.put(part_file, content(solution.part, part_file))
    texts = {
        "inspection.txt": inspection.as_text(),
        "inspection.json": json.dumps(inspection.as_dict(), indent=1, ensure_ascii=False),
        "inspection.csv": as_csv(inspection),
        "inspection.html": as_html(inspection),
        "order.txt": "\n".join(numbered_steps(solution.part)).lstrip("\n") + "\n",
    }
    for name, text in texts.items():
        outputs.put(outputs.add("--folder", folder / name, REPORT), text.encode("utf-8"))
    list(write_cutting(inspection, plan_cut(inspection), cut, False, outputs.put))
    mind = list(cautions(0.0, solution.part.unit))
    written = outputs.write()
    if args.json:
        print_json("demo", {"inspection": inspection.as_dict(), "cautions": mind,
                            "wrote": [str(path) for path in written]})
        return DONE if inspection.sound else FINDINGS
    print(inspection.as_text())
    print(f"Written to {folder.resolve()}:")
    for name in (part_file.name, *texts, cut.name):
        print(f"  {name}")
    for caution in mind:
        print(f"caution: {caution}")
    if not args.headless and _somebody_looks():
        return show_window([str(part_file)])
    return DONE if inspection.sound else FINDINGS


def _somebody_looks() -> bool:
    """Tell whether a person would see a window that opens by itself."""
    hidden = os.environ.get("QT_QPA_PLATFORM", "").split(":")[0] in {"offscreen", "minimal"}
    return has_screen() and not hidden and not os.environ.get("CI")


def _demo_text() -> bytes:
    from sketcher.shipped import shipped

    return shipped("demo_parts", DEMO_PART).read_bytes()


def _solve_text(data: bytes) -> Solution:
    from sketcher.inspect.sketched import solve_sketch
    from sketcher.part import file_text as text

    return solve_sketch(text.read(data))


COMMAND = Command("demo", "see all of it on a demo part", LESSON, _options, _demo, rank=9)
