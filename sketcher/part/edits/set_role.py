"""Make curves outline, layout or axis."""

from __future__ import annotations

from collections.abc import Sequence

from sketcher.errors import EditError
from sketcher.part.edited import Edited
from sketcher.part.edits.draft import Draft
from sketcher.part.value import Part, Role


def set_role(part: Part, ids: Sequence[str], role: Role) -> Edited:
    """Give curves a role; bindings stay.

    Raises
    ------
    EditError
        When there is no such curve, no such role, or a round curve should be an axis.
    """
    if role not in ("outline", "layout", "axis"):
        raise EditError("role", f"no role named '{role}'", "use outline, layout or axis")
    draft = Draft(part)
    for name in ids:
        if name not in part.curves:
            raise EditError(name, "no curve with this id", "choose curves")
        if role == "axis" and part.curves[name].kind != "line":
            raise EditError(name, "only a line can be an axis", "choose lines")
        if part.curves[name].role != role:
            draft.change_curve(name, role=role)
    return Edited(draft.done(), f"{', '.join(ids)} {'is' if len(ids) == 1 else 'are'} {role}")
