"""One way out of what is wrong with a binding."""

from __future__ import annotations

from collections.abc import Callable

from sketcher.immutable import immutable
from sketcher.part.value import Part


@immutable
class Offer:
    """One way to mend: what it says, the binding that it changes, and the edit.

    `step` is the name of the step in the history.
    """

    label: str
    binding: str
    step: str
    edit: Callable[[Part], Part]
