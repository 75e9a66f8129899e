"""Doubts on the board: what a row says of one, both ways out, and how the other part looks."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial

from sketcher.board.ledger.offer import Offer
from sketcher.board.preview import Ghost, Preview
from sketcher.board.steps.bench import Bench
from sketcher.errors import SketcherError
from sketcher.part.doubts import doubts_about, taken
from sketcher.part.edits.confirm_side import confirm_side
from sketcher.part.edits.turn_side import turn_side
from sketcher.part.value import Part
from sketcher.part.whole import whole


def doubtful(part: Part) -> tuple[str, ...]:
    """Return the bindings that are in doubt, each once, the nearest doubt first."""
    return tuple(dict.fromkeys(name for doubt in part.doubts for name in doubt.sides))


def doubt_reason(part: Part, name: str) -> str:
    """Return what is in doubt about a binding, for its row; empty where nothing is."""
    found = doubts_about(part, name)
    if not found:
        return ""
    others = [other for doubt in found for other in doubt.sides if other != name]
    along = f", together with {', '.join(dict.fromkeys(others))}" if others else ""
    return (f"is taken {part.bindings[name].side}; the sketch could as well mean "
            f"{found[0].sides[name]}{along}")


def doubt_offers(part: Part, name: str) -> tuple[Offer, ...]:
    """Return the two ways out of a doubt: the other side, and the present one confirmed."""
    found = doubts_about(part, name)
    if not found:
        return ()
    other = ", ".join(f"{n} {side}" for n, side in found[0].sides.items())
    now = f"{name} {part.bindings[name].side}"

    return (Offer(f"Confirm {now}", name, f"Confirm {now}", partial(_with_it_confirmed, name)),
            Offer(f"Take {other}", name, f"Take {other}", partial(_with_it_turned, name)))


def _with_it_confirmed(name: str, part: Part) -> Part:
    return confirm_side(part, name).part


def _with_it_turned(name: str, part: Part) -> Part:
    return turn_side(part, name).part


def other_part(bench: Bench, names: Iterable[str]) -> Preview:
    """Return what would lie elsewhere if the doubts about some bindings were decided otherwise.

    Only the nearest doubt about the first of them that is in doubt is shown, images included.
    """
    part = bench.part
    doubt = next((found[0] for name in names if (found := doubts_about(part, name))), None)
    if doubt is None:
        return Preview()
    try:
        pieces = whole(taken(part, doubt))
    except SketcherError:  # an axis without length reflects nothing
        return Preview()
    here = {(piece.id, piece.curve) for piece in bench.derived.pieces().all}
    return Preview(curves=tuple(Ghost(piece.curve, piece.role) for piece in pieces
                                if (piece.id, piece.curve) not in here))
