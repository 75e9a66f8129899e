"""The tolerance stack along a chain of dimensions."""

from __future__ import annotations

from collections.abc import Mapping

from sketcher.board.action_table import Action
from sketcher.board.board import Board
from sketcher.board.ledger.tolerance_stack import (
    CAUTION,
    added,
    chain_of,
    described,
    lengths_of,
    told,
)
from sketcher.board.window_port import Host


def chosen(board: Board) -> tuple[str, ...]:
    """Return the selected dimensions that have a length."""
    return lengths_of(board.part, board.bench.selection.bindings(board.part))


def stack_up(board: Board, host: Host) -> None:
    """Ask which way each dimension runs, then tell what the chain can come to."""
    part = board.part
    fields = tuple((name, described(part, name), "+" if sign > 0 else "-")
                   for name, sign in chain_of(part, chosen(board)))
    found = [""]

    def take(signs: Mapping[str, str]) -> None:
        found[0] = told(part, added(part, signs))

    title = "Tolerance stack: + with the chain, - against it"
    if host.ask_form(title, fields, CAUTION, take) is None:
        return
    host.tell("Tolerance stack", found[0])
    board.bench.say(found[0].splitlines()[1])


def has_lengths(board: Board) -> bool:
    """Tell whether dimensions are selected."""
    return bool(chosen(board))


ACTIONS = (
    Action("bind.stack", "Tolerance stack ...", stack_up, "bind", (),
           "Adds up the limits of the selected dimensions: worst case and root sum of squares.",
           has_lengths),
)
