"""What is asked before a part with findings leaves the program; going on is never the default."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.board.board import Board
from sketcher.board.window_port import Host
from sketcher.inspect.findings import Finding
from sketcher.inspect.release import (
    NEVER_CUT,
    NEVER_DRAWN,
    left_out,
    release_cut,
    release_marking_out,
    release_sheet,
    stamp_codes,
)
from sketcher.inspect.undrawn import undrawn


def accepted_for_cutting(board: Board, host: Host) -> frozenset[str] | None:
    """Return the codes of findings with which the part shall be cut; None for not at all.

    Raises
    ------
    ExportError
        When no cutter can make the part; nothing is asked then.
    """
    inspection = board.bench.derived.inspection()
    findings = inspection.against_cutting
    release_cut(inspection, frozenset(finding.code for finding in findings) - NEVER_CUT)
    opening = (f"{'' if inspection.sound else 'This part is not sound. '}"
               "It would be cut with these findings:")
    return _asked(host, "Export for cutting", opening, findings, "Cut it all the same")


def accepted_for_marking_out(board: Board, host: Host, title: str, yes: str) -> bool:
    """Tell whether the part shall be marked out by hand, whatever its findings.

    Parameters
    ----------
    board : Board
    host : Host
    title, yes : str
        Of the question: what it is about, and what going on is called.

    Raises
    ------
    ExportError
        When no cutter can make the part; nothing is asked then.
    """
    inspection = board.bench.derived.inspection()
    findings = inspection.findings
    release_marking_out(inspection, frozenset(finding.code for finding in findings) - NEVER_CUT)
    opening = "This part is not sound. It would be marked out with these findings:"
    return _asked(host, title, opening, findings, yes) is not None


def accepted_for_paper(board: Board, host: Host) -> tuple[str, ...] | None:
    """Return the codes for which the sheet shall be stamped; None for no sheet at all.

    Raises
    ------
    ExportError
        When there is nothing to draw; nothing is asked then.
    """
    from sketcher.drafting.center_findings import center_findings

    inspection = board.bench.derived.inspection()
    codes = frozenset(finding.code for finding in inspection.findings)
    release_sheet(inspection, codes - NEVER_DRAWN)
    stamp, gone = stamp_codes(inspection), not_drawn(board)
    on_paper = center_findings(board.part)
    opening = ("This part is not sound. Its sheet is stamped across with these findings:" if stamp
               else "The sheet prints what the part measures, not what these say:"
               if inspection.findings else "The sheet would be marked for these:")
    if gone:
        opening = f"{opening[:-1]}, and shows nothing of {gone}:"
    findings = (*inspection.findings, *on_paper)
    accepted = _asked(host, "The sheet", opening, findings, "Make it all the same")
    return None if accepted is None else stamp


def accepted_as_made(host: Host, lacks: Sequence[str]) -> bool:
    """Ask whether a sheet leaves by which alone the part cannot be made."""
    opening = "Nobody can make the part by this sheet alone:"
    return not lacks or bool(host.ask_despite("The sheet", opening, list(lacks),
                                              "Export it all the same"))


def not_drawn(board: Board) -> str:
    """Return what the sheet leaves out, by count, kind, size and place; empty for nothing."""
    inspection = board.bench.derived.inspection()
    return undrawn(inspection) if left_out(inspection) else ""


def _asked(
    host: Host, title: str, opening: str, findings: Sequence[Finding], yes: str
) -> frozenset[str] | None:
    if not findings:
        return frozenset()
    lines = [f"{finding.code}: {finding.text}" for finding in findings]
    if not host.ask_despite(title, opening, lines, yes):
        return None
    return frozenset(finding.code for finding in findings)
