"""What may leave with findings: none by itself, some by their name, some never.

A part with a finding is cut or drawn only when somebody who knows of it says so by its code. What
no cutter can make stays refused however it is named; a sheet of it is stamped across, with the
codes, so that nobody takes it for a drawing. What lies detached is left out where it is named.

So a loose part, or a fold (a horn of no width; some shapes have one), can be cut by somebody who
knows of it: with ``--despite`` on the command line, after a question that tells the findings in the
window, where going on is never the default. `NEVER_CUT` is what no cutter can make: an outline that
is open, stray, doubled or crosses itself, and bindings that do not hold. Naming ``detached`` writes
the plate alone, cut and sheet; without it both are refused, for neither is what was drawn.

What the material forbids stands in the way of the cut alone: the part is sound and its sheet leaves
unstamped. PVC and the like are refused however they are named, for the file would go to a machine
that burns and to people who breathe beside it; a plastic of an unknown kind can be accepted by
somebody who has asked what it is.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from typing import TYPE_CHECKING

from sketcher.errors import EditError, ExportError
from sketcher.inspect.findings import CODES, Finding
from sketcher.inspect.suited_processes import cut_findings

if TYPE_CHECKING:
    from sketcher.inspect.inspection import Inspection
    from sketcher.inspect.stock import Process

NEVER_OF_MATERIAL = frozenset({"toxic-fumes", "no-conductor"})
"""Codes of what the material forbids: no drawing mends it."""

NEVER_CUT = NEVER_OF_MATERIAL | {
    "empty", "clash", "unsolved", "unreached", "gap", "overrun", "open", "half", "stray", "speck",
    "overlap", "crossing", "axis-crossing", "off-axis"}
"""Codes of findings with which no cutter can make the part."""

NEVER_DRAWN = frozenset({"empty"})
"""Codes of findings with which there is nothing to draw."""

NOT_DRAWN = frozenset({"detached"})
"""Codes of findings that tell of something which the sheet leaves out."""

NOT_STAMPED = frozenset({"reference-differs", "center-line"})
"""Codes of findings with which the sheet is true: a reference that differs prints as measured."""

UNBUILDABLE = "unbuildable"
"""Code of a sheet that does not say all that it takes to make the part."""


def named_codes(given: Iterable[str]) -> frozenset[str]:
    """Return the codes of findings in texts such as ``loose`` and ``loose,fold``.

    Raises
    ------
    EditError
        When one of them is no finding's code.
    """
    names = [name.strip() for text in given for name in text.split(",")]
    for name in names:
        if name not in CODES:
            raise EditError(f"--despite {name}", "no finding has this code",
                            f"there are {', '.join(sorted(set(CODES) - NEVER_CUT))}")
    return frozenset(names)


def keeps_from_cutting(
    inspection: Inspection, despite: Collection[str] = (), process: Process | None = None
) -> tuple[Finding, ...]:
    """Return the findings with which a part must not be cut, less those that are named.

    The material may suit one process alone: without one it has to suit any of the inspection's.
    """
    against = inspection.against_cutting if process is None else (
        *inspection.findings, *cut_findings(inspection.part.material.name, (process,)))
    return _in_the_way(against, despite, NEVER_CUT)


def _in_the_way(
    findings: Iterable[Finding], despite: Collection[str], never: Collection[str]
) -> tuple[Finding, ...]:
    """Return the findings that nobody has accepted, and those that nobody can."""
    return tuple(finding for finding in findings
                 if finding.code in never or finding.code not in despite)


def release_cut(
    inspection: Inspection, despite: Collection[str] = (), process: Process | None = None
) -> None:
    """Let a part go to the cutter, or raise.

    Parameters
    ----------
    inspection : Inspection
        Of the solved part.
    despite : collection of str
        Codes of findings that are known and accepted.
    process : "laser" or "plasma", optional
        By which it is cut, where that is known.

    Raises
    ------
    ExportError
        With every code that stands in the way.
    """
    kept = keeps_from_cutting(inspection, despite, process)
    if kept:
        raise _refusal(inspection.part.name, "cut", kept, NEVER_CUT, "")


def release_marking_out(inspection: Inspection, despite: Collection[str] = ()) -> None:
    """Let a part be marked out by hand, or raise `ExportError` with every code in the way.

    The same holds as for cutting, but for the material: no heat comes near it.
    """
    kept = _in_the_way(inspection.findings, despite, NEVER_CUT)
    if kept:
        raise _refusal(inspection.part.name, "marked out", kept, NEVER_CUT, "")


def release_sheet(
    inspection: Inspection, despite: Collection[str] = (), on_paper: Sequence[Finding] = ()
) -> None:
    """Let a part go on paper, or raise `ExportError` with every code that is not named.

    Parameters
    ----------
    inspection : Inspection
        Of the solved part.
    despite : collection of str
        Codes of findings that are known and accepted.
    on_paper : sequence of Finding
        Findings of the sheet alone.
    """
    kept = _in_the_way((*inspection.findings, *on_paper), despite, NEVER_DRAWN)
    if kept:
        stamped = any(finding.code not in NOT_STAMPED for finding in kept)
        measured = any(finding.code == "reference-differs" for finding in kept)
        raise _refusal(inspection.part.name, "drawn", kept, NEVER_DRAWN,
                       "and the sheet is stamped with it" if stamped else
                       "and the sheet prints what the part measures" if measured else "")


def release_made(name: str, lacks: Sequence[str], despite: Collection[str] = ()) -> None:
    """Let a sheet that is made leave, or raise `ExportError` where the part cannot be made by it.

    Parameters
    ----------
    name : str
        Of the part.
    lacks : sequence of str
        What the sheet does not say, or says falsely.
    despite : collection of str
        Codes that are accepted, `UNBUILDABLE` among them or not.
    """
    if lacks and UNBUILDABLE not in despite:
        more = f" (and {len(lacks) - 1} more)" if len(lacks) > 1 else ""
        raise ExportError(name, f"not drawn: {UNBUILDABLE}: {lacks[0]}{more}",
                          "dimension it, or say it in a note; or name what is accepted: "
                          f"--despite {UNBUILDABLE}")


def stamp_codes(inspection: Inspection) -> tuple[str, ...]:
    """Return the codes for which the sheet of a part is stamped; none for a part that is sound."""
    return tuple(dict.fromkeys(finding.code for finding in inspection.findings
                               if finding.code not in NOT_STAMPED))


def left_out(inspection: Inspection) -> tuple[Finding, ...]:
    """Return the findings that tell what the sheet leaves out.

    The holes of a half that is not mirrored lie in no plate, so that all but one are left out.
    """
    codes = NOT_DRAWN | ({"half"} if inspection.profile.detached else frozenset())
    return tuple(finding for finding in inspection.findings if finding.code in codes)


def _refusal(
    name: str, done: str, findings: Sequence[Finding], refused: frozenset[str], then: str
) -> ExportError:
    codes = list(dict.fromkeys(finding.code for finding in findings))
    never = [_named(code, findings) for code in codes if code in refused]
    if never:
        of_material = next((code for code in codes if code in NEVER_OF_MATERIAL), "")
        mend = CODES[of_material].mend.rstrip(".") if of_material else "mend it and export again"
        return ExportError(name, f"cannot be {done}: {' | '.join(never)}",
                           mend[:1].lower() + mend[1:])
    told = " | ".join(_told(code, findings) for code in codes)
    accepted = f"name what is accepted{', ' if then else ''}{then}"
    return ExportError(name, f"not {done}: {told}",
                       f"mend it, or {accepted}: --despite {','.join(codes)}")


def _told(code: str, findings: Sequence[Finding]) -> str:
    """The first finding of a code in words, and how many more there are."""
    texts = _texts(code, findings)
    more = f" (and {len(texts) - 1} more)" if len(texts) > 1 else ""
    return f"{code}: {texts[0]}{more}"


def _named(code: str, findings: Sequence[Finding]) -> str:
    """The same as a sentence that ends with the word by which the inspection lists it."""
    texts = _texts(code, findings)
    more = f", and {len(texts) - 1} more" if len(texts) > 1 else ""
    return f"{texts[0]} ({code}{more})"


def _texts(code: str, findings: Sequence[Finding]) -> list[str]:
    return [finding.text for finding in findings if finding.code == code]
