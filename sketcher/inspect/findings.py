"""What stands between a part and the word "sound": one value a finding, with a stable code."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from sketcher.geometry.curves import XY


@dataclass(frozen=True, slots=True)
class Meaning:
    """What a code stands for: in one clause, why it matters, and what mends it in the window."""

    text: str
    why: str
    mend: str


CODES: Mapping[str, Meaning] = MappingProxyType({
    "empty": Meaning(
        "the part has no outline",
        "Without an outline there is nothing to measure, print or cut.",
        "Draw the material edge with outline tools, or trace it between layout lines."),
    "clash": Meaning(
        "these bindings cannot all hold at once",
        "The drawing contradicts itself, so no plate can have all of these dimensions.",
        "Compare each with the paper drawing. Change the wrong value, take one binding away, or "
        "make one dimension a reference."),
    "unsolved": Meaning(
        "no geometry was found that satisfies every binding",
        "What is shown is the last good geometry, not the one that the values ask for.",
        "Undo the last value, or drag the sketch nearer to what is meant and type it again."),
    "unreached": Meaning(
        "a value cannot be had with the other dimensions",
        "What is shown is the last good geometry, not the one that the value asks for.",
        "Compare the value, and those that stand against it, with the paper drawing; below the "
        "inspection stand the ways out of it."),
    "doubtful": Meaning(
        "the sketch could as well mean another side; nobody has confirmed this one",
        "Two different plates satisfy the same dimensions, and only one of them is meant.",
        "Select the row in the ledger, look at both, and press the button of the right one."),
    "loose": Meaning(
        "something can still move, so the drawing does not say everything",
        "Whoever makes the part would have to guess this size or place.",
        "Drag what is loose to see how it moves, then bind it or type the dimension that the "
        "paper drawing gives there."),
    "off-dimension": Meaning(
        "a driving dimension does not have its value",
        "The geometry is not the size that the sheet would print.",
        "Compare the value with the paper drawing, and the bindings at both its ends: one of "
        "them keeps it from being reached."),
    "off-limits": Meaning(
        "a dimension lies outside its limits",
        "The finished plate would fail its own inspection.",
        "Correct the value, or the limits if the paper drawing gives others."),
    "reference-differs": Meaning(
        "a printed reference value does not agree with the part",
        "The paper drawing states this size, so something that drives it was read wrongly.",
        "Compare the dimensions that it follows from with the paper drawing, or correct the "
        "reference in the ledger if that was misread."),
    "off-binding": Meaning(
        "a binding without a value does not hold",
        "The part does not have a property that the drawing relies on.",
        "Undo to where it held, or take the binding away if it is not meant."),
    "off-tangent": Meaning(
        "a joint or a touch is bound tangent and is not",
        "The edge breaks where it should run smoothly; the cut shows a mark there.",
        "Look for a dimension that keeps the two apart: a radius or an offset that is wrong."),
    "near-tangent": Meaning(
        "a joint is nearly tangent, but nothing binds it tangent",
        "The eye takes it for smooth, but the machine turns there and leaves a mark on the edge.",
        "Select both curves and bind them tangent, two lines in line; then take away the dimension "
        "that this makes redundant."),
    "fold": Meaning(
        "the edge folds straight back, which makes a spike without width",
        "A spike without width cannot be cut and spoils area and mass.",
        "Take one of the two curves away, or move its far end to where it belongs."),
    "gap": Meaning(
        "two ends nearly meet",
        "An open outline encloses nothing: a cutter stops there, or joins the ends as it likes.",
        "Use Clean up, which joins the two ends, or drag one end onto the other."),
    "overrun": Meaning(
        "a curve runs past the one that it should end on",
        "The piece that runs past would be cut into the plate, or beside it.",
        "Use Cut back on the piece that runs past, or Clean up."),
    "open": Meaning(
        "the outline has an open end, so it encloses nothing there",
        "Without a closed outline there is no plate, and no area to cut around.",
        "Draw on from the open end, or drag it onto the end where it belongs."),
    "half": Meaning(
        "the outline is a half that is open along one line, and nothing mirrors it",
        "A half encloses nothing until its reflection, or an edge, joins its open ends.",
        "Take Mirror and press Enter: it offers the line through the open ends as the axis. Where "
        "no mirror is meant, draw on from one open end to the other."),
    "stray": Meaning(
        "an outline curve belongs to no closed loop",
        "A cutter would follow it and scratch or slit the plate.",
        "Delete it, make it a layout line if it only helps to construct, or close the loop."),
    "speck": Meaning(
        "an outline curve has no length",
        "It cannot be cut, and some machines stop at it.",
        "Use Clean up, or delete it."),
    "overlap": Meaning(
        "two outline curves cover the same place, so it would be cut twice",
        "The second cut melts the edge of the first and costs its time.",
        "Use Clean up, or delete one of the two."),
    "crossing": Meaning(
        "outline curves cross each other away from their ends",
        "Where outlines cross nobody can tell what is plate and what is waste.",
        "Use Cut back on what is too long, or correct the dimension that makes them cross."),
    "detached": Meaning(
        "an outline lies off the plate or inside a hole, and one part is one piece",
        "One part is one piece: this outline is left out of the cut, and where it was meant as a "
        "hole or a slot, that is missing.",
        "Correct the dimension that puts it there, move it back onto the plate, or make it "
        "layout."),
    "off-axis": Meaning(
        "an end of the mirrored half does not lie on the axis",
        "The half and its reflection meet on the axis alone: an end past it crosses its own image, "
        "one short of it leaves the outline open.",
        "Bind the end to the axis (On), or correct the dimension that keeps it away from there."),
    "axis-crossing": Meaning(
        "a curve crosses the symmetry axis, so it crosses its own reflection",
        "The reflection lies over the half, and the same place would be cut twice.",
        "Let the curve end on the axis, or leave it out of the reflection."),
    "center-line": Meaning(
        "a center line that was changed by hand is covered, doubled, short or belongs to nothing",
        "The sheet would be marked for it; the part is as sound as without it.",
        "Take Center lines and pull the end to what it belongs to, or take the change back with "
        "Backspace over the line; Reset center lines, in Finished drawing, takes all back."),
    "unbuildable": Meaning(
        "the sheet does not say all that it takes to make the part",
        "Whoever makes the plate from the sheet alone would have to guess a size or a place.",
        "Give the dimension that is named, or say in a note what the drawing does not show, and "
        "export the sheet again."),
    "toxic-fumes": Meaning(
        "the plate is of a plastic whose fumes are poisonous",
        "A laser or a plasma arc burns it, and what it gives off harms lungs and eats machines.",
        "Take another material, or have it sawn, milled or cut by water from the sheet or a "
        "full-size template; no cutting file of it is exported."),
    "unknown-plastic": Meaning(
        "nobody says of which plastic the plate is, and some are poisonous when burnt",
        "PVC looks like other plastics, and gives off hydrogen chloride where it is cut by heat.",
        "Find out which plastic it is and name it in Part properties."),
    "no-conductor": Meaning(
        "the plate does not conduct, which a plasma cutter needs",
        "The arc of a plasma cutter ends on the plate: on what does not conduct there is none.",
        "Cut it by laser where the material allows that, saw it or mill it; or take a metal."),
})
"""Every code with its meaning. Each makes the exit status of an inspection 1, but ``center-line``
and ``unbuildable``, which are of the sheet alone, and ``toxic-fumes``, ``unknown-plastic`` and
``no-conductor``, which are of the cutting file alone."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that must be mended before the part is sound.

    Parameters
    ----------
    code : str
        A key of `CODES`; it never changes between versions.
    where : str
        The place in words: ids of curves or bindings, or coordinates.
    found, wanted : str
        What is there and what should be, with unit.
    ids : tuple of str
        Curves, points and bindings concerned.
    at : (x, y) or None
        A place to look at, in the part's unit.
    text : str
        One sentence for a person.
    """

    code: str
    where: str
    found: str
    wanted: str
    ids: tuple[str, ...]
    at: XY | None
    text: str

    def __post_init__(self) -> None:
        if self.code not in CODES:
            raise KeyError(self.code)

    def as_dict(self) -> dict[str, object]:
        """Return the entry of the inspection file."""
        return {
            "code": self.code,
            "where": self.where,
            "found": self.found,
            "wanted": self.wanted,
            "ids": list(self.ids),
            "at": list(self.at) if self.at else None,
            "text": self.text,
        }

    @property
    def why(self) -> str:
        """Why it matters."""
        return CODES[self.code].why

    @property
    def mend(self) -> str:
        """What mends it."""
        return CODES[self.code].mend
