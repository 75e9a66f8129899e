"""What is asked before a part with findings leaves the program; going on is never the default."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.board.board import Board
from sketcher.board.window_port import Host
from sketcher.inspect.findings import Finding
from sketcher.inspect.release import NEVER_CUT, left_out, release_cut


def accepted_for_cutting(board: Board, host: Host) -> frozenset[str] | None:
    """Return the codes of findings with which the part shall be cut; None for not at all.

    Raises
    ------
    ExportError
        When no cutter can make the part; nothing is asked then.
    """
    inspection = board.bench.derived.inspection()
    codes = frozenset(finding.code for finding in inspection.findings)
    release_cut(inspection, codes - NEVER_CUT)
    opening = "This part is not sound. It would be cut with these findings:"
    return _asked(host, "Export for cutting", opening, inspection.findings, "Cut it all the same")


def accepted_for_paper(board: Board, host: Host) -> frozenset[str] | None:
    """Return the codes of findings with which the sheet shall be made; None for not at all."""
    return _asked(host, "The sheet", "The sheet shows the plate alone, without:",
                  not_drawn(board), "Go on without them")


def not_drawn(board: Board) -> tuple[Finding, ...]:
    """Return the findings that tell what the sheet leaves out."""
    return left_out(board.bench.derived.inspection())


def _asked(
    host: Host, title: str, opening: str, findings: Sequence[Finding], yes: str
) -> frozenset[str] | None:
    if not findings:
        return frozenset()
    lines = [f"{finding.code}: {finding.text}" for finding in findings]
    if not host.ask_despite(title, opening, lines, yes):
        return None
    return frozenset(finding.code for finding in findings)
