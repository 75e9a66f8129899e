"""The sheet of every plate stands the marks of an instructor, by both practices.

Random plates are bound as on paper and exported as PDF, SVG and DXF; only the written files are
read (`tests/sheet_marks`). Each rule is a kind of fault.
"""

from __future__ import annotations

import json

from tests.proof.proof import Proof
from tests.proof.tally import Case
from tests.sheet_marks.deductions import COSTS
from tests.sheet_marks.dimensioned_plates import dimensioned_plate
from tests.sheet_marks.written_files import marked

PRACTICES = ("ISO", "ASME")
AT_WORK = frozenset({
    "title-block", "lettering", "leader-angle", "in-the-air", "dimension-crossing", "plus-covered",
    "through-hole", "text-on-line", "over-center-line", "writers-differ", "extension-gap",
})
"""Rules that sheets do not keep everywhere yet: counted, not a fault."""
HELD = tuple(rule for rule in COSTS if rule not in AT_WORK)


def one_plate(case: Case) -> None:
    """Export one plate by both practices and mark what was written."""
    plate = dimensioned_plate(case.random)
    path = case.folder / f"plate-{case.number}.profile.json"
    path.write_text(json.dumps(plate.tree(f"Plate {case.number}")), encoding="utf-8")
    for practice in PRACTICES:
        found = marked(path, practice, case.folder)
        if "doubtful" in found.refused:
            case.tally.count("plates that leave a side open")
            continue
        if found.refused:
            case.tally.fault("refused", f"case {case.number} {practice}: {found.refused}")
            continue
        case.tally.count("sheets")
        case.tally.count("sheets with nothing to mark", int(not found.faults))
        case.tally.worst("points lost", 100 - found.points)
        for fault in found.faults:
            if fault.rule in AT_WORK:
                case.tally.count(f"{fault.rule} (at work)")
            else:
                case.tally.fault(fault.rule, f"case {case.number} {practice}: {fault}")


PROOF = Proof(
    "sheets", "an instructor finds nothing to mark on the sheets of 300 random plates",
    "sheets", ("refused", *HELD), whole=300, short=2, case=one_plate, limit=120.0, minutes=12.0,
)
