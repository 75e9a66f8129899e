"""What a teacher is asked once for a class: what the layers are for of which files do not tell."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from sketcher.marking.hand_in import LayerQuestion, LayerRole


@dataclass(frozen=True, slots=True)
class AskedLayer:
    """A layer that some hand-ins of a class have.

    Parameters
    ----------
    layer : str
        Its name as the first of them writes it.
    role : LayerRole
        What it was taken for in most of them.
    hand_ins : int
        How many have it.
    reason : str
        Why it is asked, of the first of them.
    """

    layer: str
    role: LayerRole
    hand_ins: int
    reason: str


def asked_layers(class_questions: Iterable[Iterable[LayerQuestion]]) -> tuple[AskedLayer, ...]:
    """Return the layers that hand-ins ask about, those that most of them have first.

    Parameters
    ----------
    class_questions : iterable of iterable of LayerQuestion
        Of each hand-in. Capitals in a layer's name make no difference.
    """
    first: dict[str, LayerQuestion] = {}
    roles: dict[str, Counter[LayerRole]] = {}
    count: Counter[str] = Counter()
    for questions in class_questions:
        here = set()
        for each in questions:
            name = each.layer.lower()
            first.setdefault(name, each)
            roles.setdefault(name, Counter())[each.role] += each.count
            here.add(name)
        count.update(here)
    ordered = sorted(first, key=lambda name: (-count[name], name))
    return tuple(AskedLayer(first[name].layer, roles[name].most_common(1)[0][0], count[name],
                            first[name].reason) for name in ordered)
