"""Which cutters a material suits, and what stands against cutting it: a matter of the cut alone.

A plate of PVC is drawn, printed and sound like any other; only its cutting file is refused, for it
goes to a machine that burns. So these findings are kept apart from those of the part, as those of
center lines are (`sketcher.drafting.center_findings`). What is to be sawn, milled or cut by water
leaves on the sheet or as a full-size template.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from sketcher.inspect.findings import Finding
from sketcher.inspect.words import NO_MATERIAL
from sketcher.part.materials import DANGEROUS, PlateMaterial, plate_material

if TYPE_CHECKING:
    from sketcher.inspect.stock import Process


def suits(kind: PlateMaterial | None, process: Process) -> bool:
    """Tell whether a process can cut a material at all; of an unknown one nobody says it cannot."""
    if kind is None:
        return True
    return kind.conducts if process == "plasma" else kind.laser not in DANGEROUS


def suited(name: str, processes: Sequence[Process]) -> tuple[Process, ...]:
    """Return those of the processes that a material suits, by its name."""
    kind = plate_material(name)
    return tuple(process for process in processes if suits(kind, process))


def unsuited(name: str, processes: Sequence[Process]) -> str:
    """Return why there is no advice for any of the processes; empty where there is for one."""
    if not name.strip():
        return NO_MATERIAL
    if suited(name, processes):
        return ""
    kind = plate_material(name)
    never = "must not" if kind is not None and kind.laser in DANGEROUS else "cannot"
    return f"none: {name} {never} be cut by {' or '.join(processes)}"


def cut_findings(name: str, processes: Sequence[Process]) -> tuple[Finding, ...]:
    """Return the findings that stand against the cutting file of a plate, none against its sheet.

    Parameters
    ----------
    name : str
        Of the material; none where nobody has given one.
    processes : sequence of str
        For which the file would be.
    """
    return tuple(_against(name, processes))


def _against(name: str, processes: Sequence[Process]) -> Iterator[Finding]:
    kind = plate_material(name)
    if kind is None:
        return
    if kind.laser in DANGEROUS:
        code = "toxic-fumes" if kind.laser == "never" else "unknown-plastic"
        yield Finding(code, "material", name, "", (), None,
                      f"{name} is not to be burnt: {kind.why}")
    elif not any(suits(kind, process) for process in processes):
        yield Finding("no-conductor", "material", name, "a conductor", (), None,
                      f"{name} does not conduct, so no plasma arc holds on it")
