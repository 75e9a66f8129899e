"""Values of the key that a hand-in cannot show, for what alone shows them is missing from it."""

from __future__ import annotations

from sketcher.marking.comparison import Comparison
from sketcher.part.kinds import KINDS
from sketcher.part.printed import printed


def undecided_values(comparison: Comparison) -> str:
    """Return why some values are not decided, in one clause; empty where all are.

    What is missing is deducted for once; whether it would have had its right place and size is
    nobody's to say.
    """
    part, words = comparison.key.part, comparison.words
    named = []
    for name in comparison.undecided:
        binding = part.bindings.get(name)
        if binding is None:
            continue
        kind = KINDS[binding.kind]
        figure = kind.prefix + printed(part, binding).text
        named.append(figure if binding.kind in ("radius", "diameter") or kind.quantity == "angle"
                     else f"the {binding.kind} of {figure} "
                     f"{words.between(binding.kind, binding.of)}")
    return f"only what is missing would show {' and '.join(named)}" if named else ""
