"""Bindings of what is selected: one action for each kind."""

from __future__ import annotations

from collections.abc import Callable

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.ledger.doubt_question import doubtful
from sketcher.board.ledger.ledger_edits import drop, make, set_driving
from sketcher.board.mending.clash_mending import offers, take
from sketcher.board.mending.measured_value import differing
from sketcher.board.toolkit.point_joining import joined
from sketcher.board.window_port import Host
from sketcher.part import kinds
from sketcher.part.kinds import KINDS


def _binding(kind: str) -> Callable[[Board, Host], None]:
    def run(board: Board, host: Host) -> None:
        reason = make(board.bench, kind)
        if reason:
            board.bench.say(f"{kind}: {reason}.", "error")

    return run


def _fits(kind: str) -> Callable[[Board], bool]:
    def enabled(board: Board) -> bool:
        ids = board.bench.selection.geometry(board.part)
        return bool(ids) and kind in kinds.fitting(board.part, ids)

    return enabled


def swap_driving(board: Board, host: Host) -> None:
    """Make driving dimensions reference dimensions and the other way round."""
    for name in board.bench.selection.bindings(board.part):
        reason = set_driving(board.bench, name, not board.part.bindings[name].drives)
        if reason:
            board.bench.say(f"{name}: {reason}.", "error", name)


def drop_bindings(board: Board, host: Host) -> None:
    """Take the selected bindings away."""
    reason = drop(board.bench, *board.bench.selection.bindings(board.part))
    if reason:
        board.bench.say(f"{reason}.", "error")


def mend(board: Board, host: Host) -> None:
    """Offer what would mend the first binding in trouble."""
    names = [n for n in board.bench.selection if n in in_trouble(board)] or list(in_trouble(board))
    found = offers(board.bench, names[0])
    if not found:
        board.bench.say(f"No single change mends {names[0]}; look at its row in the ledger.",
                        "warning")
        return
    label = host.ask_choice("Mend", f"{names[0]} can be mended in these ways:",
                            [offer.label for offer in found])
    for offer in found:
        if offer.label == label:
            take(board.bench, offer)


def in_trouble(board: Board) -> tuple[str, ...]:
    """Return the bindings of which something is wrong that has a way out, each once."""
    clashing = (name for clash in board.report.clashes for name in reversed(clash))
    report = board.report
    differ = (name for name in board.part.bindings if differing(board.bench, name))
    return tuple(dict.fromkeys((*clashing, *report.unreached, *report.doubled,
                                *doubtful(board.part), *differ)))


def join_points(board: Board, host: Host) -> None:
    """Make one point of two; the one that is bound stays where it is, else the first."""
    loose = {each.point for each in board.report.loose}
    kept, gone = sorted(board.bench.selection.points(board.part), key=lambda name: name in loose)
    if board.bench.do(f"Join {gone} to {kept}",
                      lambda part: joined(board.bench, part, kept, gone)).done:
        board.bench.select((kept,))


def has_two_points(board: Board) -> bool:
    """Tell whether two points are selected and nothing else."""
    return len(board.bench.selection.points(board.part)) == len(board.bench.selection) == 2


def has_trouble(board: Board) -> bool:
    """Tell whether a binding clashes, is redundant or is in doubt."""
    return bool(in_trouble(board))


def has_bindings(board: Board) -> bool:
    """Tell whether bindings are selected."""
    return bool(board.bench.selection.bindings(board.part))


ACTIONS = (
    *(Action(f"bind.{name.replace(' ', '_')}", kind.label, _binding(name), "bind", (),
             kind.hint, _fits(name)) for name, kind in KINDS.items()),
    Action("bind.join", "Join the points", join_points, "bind", (),
           "Makes one point of the two that are selected.", has_two_points),
    Action("bind.drives", "Drives or reference", swap_driving, "bind", ("Ctrl+R",),
           "Makes the selected dimensions drive, or only be checked.", has_bindings),
    Action("bind.drop", "Drop the bindings", drop_bindings, "bind", (),
           "Takes the selected bindings away.", has_bindings),
    Action("bind.mend", "Mend ...", mend, "bind", ("Ctrl+M",),
           "Offers what would mend a clash, a redundant binding, or one in doubt.", has_trouble),
)
