"""Papers constructed by hand, one a file with ``PAPER``."""

from __future__ import annotations

from tests.hand_ins.papers import (
    gate_strap_paper,
    pump_flange_paper,
    roof_gusset_paper,
    shelf_bracket_paper,
    shift_arm_paper,
)
from tests.hand_ins.written_paper import Paper

PAPERS: tuple[Paper, ...] = tuple(module.PAPER for module in (
    gate_strap_paper, pump_flange_paper, roof_gusset_paper, shelf_bracket_paper, shift_arm_paper))
