"""A mangled DXF is taken in or refused in one sentence, never with a traceback.

Lines of a sound DXF are cut off, dropped, doubled, swapped, or given another code or value.
"""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path
from random import Random

from tests.damage.original import original, originals
from tests.damage.spoiled_dxf import spoiled, write
from tests.damage.taking import taken_in
from tests.proof.proof import Proof
from tests.proof.tally import Case

RECIPES: tuple[tuple[str, ...], ...] = (("polylines",), ("blocks",), ("hidden",), ())
VALUES = ("", "0", "-1", "1e308", "-1e308", "nan", "inf", "1e-320", "x", "é", "\x00", "99999999999",
          "ENDSEC", "EOF", "LINE", "SPLINE", "LWPOLYLINE", "INSERT", "0.0.0")


@cache
def sound(number: int) -> tuple[str, ...]:
    """The lines of a sound file, of its entities and blocks above all."""
    parts = originals()
    origin = original(parts[number % len(parts)])
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "sound.dxf"
        write(spoiled(origin, RECIPES[number % len(RECIPES)]), path)
        return tuple(path.read_text(encoding="utf-8").splitlines())


def mangled(lines: list[str], random: Random) -> list[str]:
    """One to three things done to a file, most of them where its curves are."""
    first = next((k for k, line in enumerate(lines) if line == "BLOCKS"), 0)
    for _ in range(random.randint(1, 3)):
        if len(lines) < 4:
            break
        low = first if first < len(lines) - 2 and random.random() < 0.8 else 0
        at = random.randrange(low, len(lines) - 1)
        match random.randrange(7):
            case 0:
                lines[at] = random.choice(VALUES)
            case 1:
                del lines[at]
            case 2:
                lines.insert(at, random.choice(VALUES))
            case 3:
                lines[at], lines[at + 1] = lines[at + 1], lines[at]
            case 4:
                end = min(at + random.randint(2, 40), len(lines))
                lines[at:at] = lines[at:end]
            case 5:
                del lines[at:at + random.randint(2, 40)]
            case _:
                if random.random() < 0.3:
                    del lines[at:]
                else:
                    lines[at] = str(random.randint(-5, 1100))
    return lines


def one_file(case: Case) -> None:
    """Mangle one file and take it in."""
    lines = mangled(list(sound(case.number % 28)), case.random)
    path = case.folder / "mangled.dxf"
    path.write_text("\n".join(lines), encoding="utf-8")
    out = case.folder / "out.profile.json"
    found = taken_in(path, out)
    case.tally.count("files")
    case.tally.count(f"exit {found.code}")
    case.tally.worst("seconds", found.seconds)
    if found.traceback:
        case.tally.fault("traceback", f"case {case.number}: {found.said[-300:]}")
    elif found.code not in (0, 1, 2):
        case.tally.fault("exit", f"case {case.number}: {found.code}")
    if found.code == 2 and len(found.said.strip().splitlines()) != 1:
        case.tally.fault("words", f"case {case.number}: {found.said[:300]!r}")
    if found.code == 2 and list(case.folder.glob("out*")):
        case.tally.fault("left over", f"case {case.number}")


PROOF = Proof(
    "mangled", "a DXF with lines cut, dropped, swapped or changed is taken in or refused in a line",
    "files", ("traceback", "exit", "words", "left over"), whole=300, short=6, case=one_file,
    limit=120.0, minutes=4.0,
)
