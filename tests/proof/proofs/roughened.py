"""A sketch drawn roughly ends as the part on paper, or the program says that it may not.

Every free point of a demo part and of a symmetric half is moved by 2, 5, 10 or 20 % of its size,
with the sides stored in the file and left out. The result is compared with the outline that the
paper's values give by plain trigonometry (`tests/proof/paper.py`): another outline that is called
sound, or written without a word, is silently wrong.
"""

from __future__ import annotations

import copy
import json
from functools import cache
from pathlib import Path
from typing import Any

from tests.proof import paper
from tests.proof.command import command
from tests.proof.proof import Proof
from tests.proof.tally import Case

ROUGH = (0.02, 0.05, 0.10, 0.20)
EXACT = 1e-6
"""Share of the size by which a right outline may differ: well above the solver's residuals, well
below anything that a wrong side does."""


@cache
def settled(name: str, folder: Path) -> str:
    """The part's file with its sides stored, as the program writes it from the shipped sketch."""
    rough, out = folder / "shipped.profile.json", folder / "settled.profile.json"
    rough.write_text(json.dumps(paper.file_of(name)), encoding="utf-8")
    said = command("solve", rough, "--out", out)
    assert said.status == 0, said
    return out.read_text(encoding="utf-8")


def sizes(tree: dict[str, Any]) -> float:
    places = list(tree["points"].values())
    return max(max(at[k] for at in places) - min(at[k] for at in places) for k in (0, 1))


def roughened(case: Case) -> tuple[str, dict[str, Any], str]:
    """Name of a part, its file with every free point moved, and how that was done."""
    names = list(paper.PAPERS)
    # Every name, share and way of sides comes equally often.
    name = names[case.number % len(names)]
    share = ROUGH[case.number // len(names) % len(ROUGH)]
    stored = bool(case.number // (len(names) * len(ROUGH)) % 2)
    shipped = paper.file_of(name)
    tree = json.loads(settled(name, case.folder)) if stored else copy.deepcopy(shipped)
    fixed = {end for b in tree["bindings"].values() if b["kind"] == "fixed" for end in b["of"]}
    reach = share * sizes(shipped)
    for end, (x, y) in shipped["points"].items():
        moved = [x + case.random.uniform(-reach, reach), y + case.random.uniform(-reach, reach)]
        tree["points"][end] = [x, y] if end in fixed else moved
    for curve in tree["curves"].values():
        if curve["kind"] == "circle":
            curve["radius"] *= case.random.uniform(1.0 - share, 1.0 + share)
    return name, tree, f"{name} moved by {share:.0%}, sides {'stored' if stored else 'left out'}"


def one_sketch(case: Case) -> None:
    name, tree, how = roughened(case)
    rough, out = case.folder / "rough.profile.json", case.folder / "out.profile.json"
    rough.write_text(json.dumps(tree), encoding="utf-8")
    case.tally.count("sketches")
    inspected = command("inspect", rough, "--json")
    command("solve", rough, "--out", out)
    if inspected.status not in (0, 1):
        case.tally.fault("unreadable", f"case {case.number}: {how}: {inspected.err}")
        return
    found = json.loads(inspected.out)
    held = {**tree, "points": found["points"], "curves": {
        curve: {**said, **({"radius": found["radii"][curve]} if said["kind"] == "circle" else {})}
        for curve, said in tree["curves"].items()}}
    if out.exists():
        held = json.loads(out.read_text(encoding="utf-8"))
    unsaid = out.exists() and command("inspect", out).status == 0
    judge(case, name, how, held, found, unsaid)


def judge(case: Case, name: str, how: str, held: dict[str, Any], found: dict[str, Any],
          unsaid: bool) -> None:
    """Compare what came out with the paper.

    `held` is the part's file after the solve; it went out `unsaid` when an inspection of it finds
    nothing, whatever was found in the sketch.
    """
    apart = paper.difference(paper.outline(held), wanted(name))
    right = apart <= EXACT * sizes(held)
    codes = {finding["code"] for finding in found["findings"]}
    if found["sound"]:
        told = "sound"
    else:
        told = "doubtful" if "doubtful" in codes else "unsound"
    case.tally.count(f"{'right' if right else 'wrong'} and {told}")
    if not right and told == "sound":
        case.tally.fault("silently wrong", f"case {case.number}: {how}: off by {apart:.3g}")
    elif not right and unsaid:
        case.tally.fault("written without a word", f"case {case.number}: {how}: off by {apart:.3g}")


wanted = cache(paper.right)

PROOF = Proof(
    "roughened", "a sketch 2 to 20 % off: the part on paper, or told as doubtful or unsound",
    "sketches", ("silently wrong", "written without a word"), whole=2000, short=8,
    case=one_sketch,
    minutes=7.0,
)
