"""Whatever a part's file holds, a command does its work or says one line, and is done in time.

Files are demo parts and random plates, spoiled in structure and bytes (`tests/proof/mutants.py`).
Each goes through a random command, by the command's own `main`. Exit status 0 or 1
is an answer; 2 comes with exactly one line on stderr and nothing else; 3 is a fault. Nothing may
take over 2 s of the processor, a drawing over 4 s.
"""

from __future__ import annotations

from pathlib import Path
from time import process_time

from tests.proof.command import command
from tests.proof.mutants import spoiled
from tests.proof.proof import Proof
from tests.proof.tally import Case

MOST = 2.0
MOST_SHEET = 4.0
"""A drawing's dimensions are laid out by a search, which has a bound of its own."""
COMMANDS = {
    "inspect": ("inspect", "{file}"),
    "inspect --json": ("inspect", "{file}", "--json"),
    "solve": ("solve", "{file}"),
    "solve --out": ("solve", "{file}", "--out", "{folder}/out.profile.json"),
    "order": ("order", "{file}"),
    "export --cut": ("export", "{file}", "--cut", "{folder}/out.dxf"),
    "export --record": ("export", "{file}", "--cut", "{folder}/a.dxf", "--record",
                        "{folder}/out.csv"),
    "export --sheet": ("export", "{file}", "--sheet", "{folder}/out.svg"),
}
OFTEN = (6, 6, 4, 4, 6, 6, 4, 1)
"""A drawing takes as long as twenty of the others."""


def one_file(case: Case) -> None:
    path = case.folder / "part.profile.json"
    path.write_bytes(spoiled(case.random))
    case.tally.count("files")
    name = case.random.choices(list(COMMANDS), OFTEN)[0]
    tell(case, name, COMMANDS[name], path)


def tell(case: Case, name: str, words: tuple[str, ...], path: Path) -> None:
    """Run one command on the file and judge its manners."""
    how = f"case {case.number}: {name}"
    most = MOST_SHEET if "sheet" in name else MOST
    before = sorted(path.parent.iterdir())
    argv = [word.format(file=path, folder=case.folder) for word in words]
    took: list[float] = []
    # A busy machine lends a process less of its caches and of its clock: the best of three counts.
    while not took or (min(took) > most and len(took) < 3):
        began = process_time()
        said = command(*argv)
        took.append(process_time() - began)
    case.tally.worst(f"{name}, s", min(took))
    if min(took) > most:
        case.tally.fault("slow", f"{how}: {min(took):.1f} s")
    case.tally.count(f"exit {said.status}")
    if said.status not in (0, 1, 2):
        case.tally.fault("exception", f"{how}: {said.err}")
    elif said.status == 2 and (len(said.lines) != 1 or said.out):
        case.tally.fault("lines", f"{how}: {len(said.lines)} lines: {said.err}{said.out[:80]}")
    elif (said.status == 0 and said.err) or len(said.lines) > 1:
        case.tally.fault("lines", f"{how}: status {said.status}: {said.err}")
    elif said.status == 2 and sorted(path.parent.iterdir()) != before:
        case.tally.fault("half written", f"{how}: {said.err}")


PROOF = Proof(
    "files", "a spoiled file: exit 0, 1 or 2, one line on 2, none over 2 s (a drawing: 4 s)",
    "files",
    ("exception", "lines", "half written", "slow", "hung"), whole=20_000, short=20,
    case=one_file,
    minutes=10.0,
)
