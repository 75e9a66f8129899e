"""The inspection as sections of plain rows: what the pane shows, copies and links."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot
from typing import Any

from sketcher.board.ledger.ledger_rows import ROUNDED, residual_text
from sketcher.geometry.curves import XY
from sketcher.inspect.words import (
    angle,
    bare_amount,
    bare_length,
    length,
    listed,
    plural,
    without_rounding,
)
from sketcher.part.curve_questions import ends_of

DRAWING = "Outline being drawn"
"""In the place of a verdict, where nothing but its open end is to be told."""
UNDONE = frozenset({"open", "half", "stray"})
"""Codes of findings that tell of an outline that it is not closed."""
MOST_ROWS = 500
"""Rows of a section on the screen; a report that is written has all of them."""


@dataclass(frozen=True, slots=True)
class SectionCell:
    """A cell: its text and what it sorts by."""

    text: str
    key: float | str = ""

    @property
    def order(self) -> tuple[int, float, str]:
        """Numbers before words, numbers by size."""
        if isinstance(self.key, float | int):
            return (0, float(self.key), "")
        return (1, 0.0, self.key or self.text)


@dataclass(frozen=True, slots=True)
class SectionEntry:
    """A row: cells, the ids that it speaks of, a place to look at, and whether it is a finding.

    `why` and `mend` say why it matters and what mends it, each in sentences. With `leads` a press
    goes to the place, as a press on a finding does; `about` are the ids at that very place, where
    it is one of several.
    """

    cells: tuple[SectionCell, ...]
    ids: tuple[str, ...] = ()
    at: XY | None = None
    gap: float = 0.0
    bad: bool = False
    tip: str = ""
    why: str = ""
    mend: str = ""
    leads: bool = False
    about: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    """A section of the report.

    `count` is what the heading counts where that is not the number of rows: three freedoms may be
    told at two points. With `counts` false the rows are of one thing, and nothing is counted.
    `note` is what has to be known of the number.
    """

    name: str
    title: str
    columns: tuple[str, ...]
    entries: tuple[SectionEntry, ...]
    wraps: bool = False
    count: int | None = None
    counts: bool = True
    note: str = ""

    @property
    def is_bad(self) -> bool:
        """Whether a row has to be seen to, so that it shows with the section closed."""
        return self.name in ("findings", "cutting") and any(entry.bad for entry in self.entries)

    @property
    def heading(self) -> str:
        """Title with the number of what it lists."""
        if not self.counts and self.entries:
            return self.title
        number = len(self.entries) if self.count is None else self.count
        told = f"{number}, {self.note}" if self.note and number else self.note or str(number)
        return f"{self.title}  \N{MIDDLE DOT}  {told}"


def words(text: str) -> SectionCell:
    """Return a cell of words."""
    return SectionCell(text, text)


def number(value: float | None, text: str) -> SectionCell:
    """Return a cell that sorts by value; an empty one sorts last."""
    return SectionCell("", float("inf")) if value is None else SectionCell(text, float(value))


def sentence(clause: str) -> str:
    """Return a clause as a sentence."""
    return f"{clause[:1].upper()}{clause[1:]}."


def verdict(inspection: Any, findings: Section) -> tuple[bool | None, str]:
    """Return whether the part is sound and the line that says so; None while it is begun.

    Parameters
    ----------
    inspection : Inspection
    findings : Section
        What is told of them: of an outline that is being drawn not that it is open.
    """
    if not inspection.part.curves:
        return None, "Nothing to check yet"
    left = len(inspection.findings) - (findings.count or 0)
    if left and not findings.count:
        return None, DRAWING
    return bool(inspection.sound), str(inspection.verdict_of(findings.count or 0))


def sections(inspection: Any, drawing: str = "") -> tuple[Section, ...]:
    """Return every section but the advice for cutters, in the order of the pane.

    Parameters
    ----------
    inspection : Inspection
    drawing : str
        The open end of the outline that is being drawn: that it is open is no news.
    """
    told: Mapping[str, Any] = inspection.as_dict(cutting=False)
    findings = _findings(inspection, told, chain_from(inspection.part, drawing))
    return tuple(readable(section) for section in (
        findings, *(make(inspection, told) for make in MAKERS)))


def with_cutting(section: Section, short: SectionEntry) -> Section:
    """Return the section with the advice for cutters in short, where it is of a sound part."""
    if section.columns[0] != "Sound":
        return section
    return replace(section, entries=(short, *section.entries))


def readable(section: Section) -> Section:
    """Return a section with no more rows than somebody reads on a screen; all are counted."""
    rows = section.entries
    if len(rows) <= MOST_ROWS:
        return section
    left = SectionEntry((words(f"and {len(rows) - MOST_ROWS} more, in the exported report"),
                  *(words("") for _ in section.columns[1:])))
    return replace(section, entries=(*rows[:MOST_ROWS], left),
                   count=len(rows) if section.count is None else section.count)


def chain_from(part: Any, point: str) -> frozenset[str]:
    """Return the outline that hangs together with a point: its curves and their ends."""
    if point not in part.points:
        return frozenset()
    at: dict[str, list[str]] = {}
    for name, curve in part.curves.items():
        if curve.role == "outline":
            for end in ends_of(curve):
                at.setdefault(end, []).append(name)
    found, waiting = {point}, [point]
    while waiting:
        for name in at.get(waiting.pop(), ()):
            fresh = {name, *ends_of(part.curves[name])} - found
            found |= fresh
            waiting += fresh - {name}
    return frozenset(found)


def _findings(inspection: Any, told: Mapping[str, Any], drawn: frozenset[str]) -> Section:
    gaps = {tuple(j["between"]): _span(j) for j in told["joints"]}
    rows = tuple(
        SectionEntry(
            (words(f.code), words(f.text)), f.ids, f.at, gaps.get(tuple(f.ids), 0.0), True,
            f"{f.text} Found {f.found}, wanted {f.wanted}, at {f.where}.", f.why, f.mend,
        )
        for f in (inspection.findings if inspection.part.curves else ())
        if not (f.code in UNDONE and drawn.issuperset(f.ids))
    )
    if not rows and inspection.sound:
        return Section("findings", "Findings", ("Sound", "Measured"),
                       _whole_part(inspection, told) + _looked_at(told), wraps=True, count=0)
    return Section("findings", "Findings", ("Finding", "What"), rows, wraps=True, count=len(rows))


def _whole_part(inspection: Any, told: Mapping[str, Any]) -> tuple[SectionEntry, ...]:
    """Return what a sound part measures as a whole; each in one line of a narrow pane."""
    profile, unit, material = told["profile"], told["unit"], inspection.part.material
    rows = []
    if profile["bounds"]:
        x0, y0, x1, y1 = profile["bounds"]
        rows.append(("Size", f"{x1 - x0:.6g} x {y1 - y0:.6g} {unit}"))
    if profile["area"] is not None and profile["perimeter"] is not None:
        rows.append(("Area, edges", f"{profile['area']:.6g} {unit}\N{SUPERSCRIPT TWO}, "
                                    f"{profile['perimeter']:.6g} {unit}"))
    if profile["mass"] is not None:
        of = ", ".join(filter(None, (material.name, length(material.thickness, unit))))
        rows.append(("Mass", f"{profile['mass']:.3g} kg ({of})"))
    else:
        rows.append(("Mass", "no density known" if material.name else "no material given"))
    return tuple(SectionEntry((words(name), words(text))) for name, text in rows)


def _looked_at(told: Mapping[str, Any]) -> tuple[SectionEntry, ...]:
    """Return what was checked of a sound part, with the number of each."""
    loops, joints = told["profile"]["loops"], told["joints"]
    driving = sum(bool(d["drives"]) for d in told["dimensions"])
    more = len(told["dimensions"]) - driving
    smooth = sum(j["state"] == "tangent" for j in joints)
    kinds = ((f"{smooth} tangent", smooth), (plural(len(joints) - smooth, "corner"),
                                             len(joints) - smooth),
             (plural(len(told["touches"]), "touch", "touches"), len(told["touches"])))
    holes = sum(bool(loop["hole"]) for loop in loops)
    axes = 1 + len(told["symmetry"]["others"]) if told["symmetry"] else 0
    checks = (
        (plural(len(loops), "loop"), f"closed and apart; {plural(holes, 'hole')}"),
        (plural(driving, "dimension"),
         "as drawn" + (f", and {plural(more, 'reference')}" if more else "")),
        (plural(len(joints), "joint"),
         ", ".join([*(text for text, count in kinds if count), "no gap"])),
        (plural(axes, "axis", "axes"), "the reflection joins the half"),
        ("0 freedoms", "nothing moves or clashes"),
    )
    return tuple(SectionEntry((words(what), words(text))) for what, text in checks
                 if not what.startswith("0 ") or "freedom" in what)


def _span(joint: Mapping[str, Any]) -> float:
    return float(joint["gap"] or joint["residual"] or 0.0)


def _dimensions(inspection: Any, told: Mapping[str, Any]) -> Section:
    from sketcher.part.kinds import KINDS

    unit = told["unit"]
    rows = []
    for d in told["dimensions"]:
        quantity = KINDS[d["kind"]].quantity
        limits = d["limits"]
        span = " to ".join(bare_amount(v, quantity, unit) for v in limits) if limits else ""
        rows.append(SectionEntry(
            (
                words(f"{d['id']} {d['kind']}" + ("" if d["drives"] else " (ref.)")),
                number(d["wanted"], bare_amount(d["wanted"], quantity, unit)),
                number(d["actual"], bare_amount(d["actual"], quantity, unit)),
                number(d["residual"], residual_text(d["residual"])),
                words(span),
            ),
            (d["id"], *d["of"]), None, 0.0, not d["within"],
        ))
    columns = ("Dimension", "Wanted", "Actual", "Residual", "Limits")
    return Section("dimensions", f"Dimensions, {unit}", columns, tuple(rows))


def _joints(inspection: Any, told: Mapping[str, Any]) -> Section:
    from sketcher.inspect.joint_value import JOINT_STATES

    unit = told["unit"]
    rows = []
    for j in told["joints"]:
        rows.append(SectionEntry(
            (
                words(listed(j["between"])), words(j["state"]),
                number(j["residual"], _tiny(j["residual"], unit)),
                number(j["angle_deg"], angle(_rounded(j["angle_deg"]))),
                number(j["gap"], _tiny(j["gap"], unit)),
            ),
            tuple(j["between"]), tuple(j["at"]), _span(j),
            j["state"] in ("gap", "overrun", "near-tangent"), "", *JOINT_STATES[j["state"]],
        ))
    for t in told["touches"]:
        rows.append(SectionEntry(
            (
                words(listed(t["between"])), words("touch"),
                number(t["residual"], _tiny(t["residual"], unit)),
                number(t["angle_deg"], angle(_rounded(t["angle_deg"]))), number(None, ""),
            ),
            tuple(t["between"]), tuple(t["at"]), float(t["residual"]),
        ))
    columns = ("Between", "State", "Residual", "Turn", "Gap")
    return Section("joints", "Joints and touches", columns, tuple(rows))


def _tiny(value: float | None, unit: str) -> str:
    return "" if value is None else bare_length(_rounded(value), unit)


def _rounded(value: float) -> float:
    """Return what is read of a residual: 0 where only the rounding of the machine is left."""
    return 0.0 if abs(value) < ROUNDED else value


def _freedoms(inspection: Any, told: Mapping[str, Any]) -> Section:
    rows = tuple(
        SectionEntry(
            (words(p["point"]), words(_ways(p["directions"]))), (p["point"],),
            told["points"].get(p["point"]) and tuple(told["points"][p["point"]]), 0.0, True,
        )
        for p in told["loose"]
    )
    return _told(inspection, Section("freedoms", "Freedoms", ("What", "How"), rows,
                                     count=told["freedoms"]),
                 "every point and radius follows from the bindings")


def _doubled(inspection: Any, told: Mapping[str, Any]) -> Section:
    """Return the bindings that follow from the others; they agree, so they are no findings."""
    from sketcher.part.kinds import KINDS

    bindings = inspection.part.bindings
    rows = tuple(
        SectionEntry(
            (words(f"{name} {KINDS[bindings[name].kind].noun}"), words(listed(bindings[name].of))),
            (name, *bindings[name].of))
        for name in told["doubled"]
    )
    return _told(inspection, Section("doubled", "Redundant", ("Binding", "Between"), rows),
                 "no binding follows from the others")


def _told(inspection: Any, section: Section, nothing: str) -> Section:
    """Return a section that says so where a part that is begun has nothing of its kind."""
    if section.entries or not inspection.part.curves:
        return section
    said = SectionEntry((words("none"), words(nothing)))
    return replace(section, entries=(said,), wraps=True, count=section.count or 0)


def _ways(directions: Sequence[Sequence[float]]) -> str:
    if not directions:
        return "its radius is free"
    if len(directions) > 1:
        return "moves any way"
    dx, dy = directions[0]
    if abs(dy) < 1e-9:
        return "moves level"
    return "moves plumb" if abs(dx) < 1e-9 else f"moves along ({dx:.3f}, {dy:.3f})"


def _profile(inspection: Any, told: Mapping[str, Any]) -> Section:
    unit, profile = told["unit"], told["profile"]

    def row(name: str, text: str, ids: Sequence[str] = (), bad: bool = False) -> SectionEntry:
        return SectionEntry((words(name), words(text)), tuple(ids), None, 0.0, bad)

    if not (profile["loops"] or profile["strays"]):  # no outline has nothing to measure
        return Section("profile", "Profile", ("What", "Value"), ())
    rows = [row("closed", "yes" if profile["closed"] else "no", bad=not profile["closed"])]
    for name, power in (("area", 2), ("perimeter", 1)):
        if profile[name] is not None:
            rows.append(row(name, f"{profile[name]:.6g} {unit}{'²' if power == 2 else ''}"))
    x0, y0, x1, y1 = profile["bounds"] or (0.0, 0.0, 0.0, 0.0)
    size = hypot(x1 - x0, y1 - y0)
    if profile["centroid"]:
        at = (without_rounding(value, size) for value in profile["centroid"])
        rows.append(row("centroid", ", ".join(f"{value:.6g}" for value in at)))
    central = profile["second_moments"] or {}
    for name, value in central.items():
        read = without_rounding(value, central["Ix"] + central["Iy"]) if name == "Ixy" else value
        rows.append(row(name, f"{read:.6g} {unit}⁴"))
    if profile["bounds"]:
        rows.append(row("size", f"{x1 - x0:.6g} x {y1 - y0:.6g} {unit}"))
    if profile["mass"] is not None:
        rows.append(row("mass", f"{profile['mass']:.5g} kg"))
    for number_, loop in enumerate(profile["loops"], 1):
        apart = loop["detached"]
        what = "detached" if apart else "hole" if loop["hole"] else "outside"
        text = f"{what}, area {loop['area']:.6g} {unit}²"
        rows.append(row(f"loop {number_}", text, loop["curves"], apart))
    rows += [row("stray", name, (name,), True) for name in profile["strays"]]
    for name in ("overlaps", "crossings"):
        rows += [row(name[:-1], listed(ids), ids, True) for ids in profile[name]]
    return Section("profile", "Profile", ("What", "Value"), tuple(rows), counts=False)


def _symmetry(inspection: Any, told: Mapping[str, Any]) -> Section:
    rows: list[SectionEntry] = []
    found = told["symmetry"]
    for one in [found, *found["others"]] if found else []:
        axis = one["axis"]
        rows.append(SectionEntry((words("axis"), words(str(axis))), (str(axis),)))
        rows.append(SectionEntry((words("off level or plumb"), words(angle(one["off_axis_deg"])))))
        if one["on_axis"]:
            rows.append(SectionEntry((words("on the axis"), words(listed(one["on_axis"]))),
                              tuple(one["on_axis"])))
        for joint in one["joints"]:
            between = joint.get("between", ())
            text = f"{joint['state']}, {listed(between)}"
            rows.append(SectionEntry((words("joint across"), words(text)), tuple(between),
                              tuple(joint["at"]) if joint.get("at") else None))
    return _told(inspection, Section("symmetry", "Symmetry", ("What", "Value"), tuple(rows),
                                     counts=False), "nothing is mirrored")


MAKERS: tuple[Callable[[Any, Mapping[str, Any]], Section], ...] = (
    _dimensions, _joints, _freedoms, _doubled, _profile, _symmetry,
)


def as_text(section: Section, entries: Sequence[SectionEntry]) -> str:
    """Return rows as lines with tabs between the cells, for the clipboard."""
    lines = ["\t".join(section.columns)]
    lines += ["\t".join(cell.text for cell in entry.cells) for entry in entries]
    return "\n".join(lines) + "\n"
