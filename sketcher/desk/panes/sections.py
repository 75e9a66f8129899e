"""The inspection as sections of plain rows: what the pane shows, copies and links."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import hypot
from typing import Any

from sketcher.board.ledger.ledger_rows import ROUNDED, residual_text
from sketcher.geometry.curves import XY
from sketcher.inspect.words import (
    UNADVISED,
    angle,
    bare_amount,
    bare_length,
    listed,
    plural,
    without_rounding,
)

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

    `why` and `mend` say why it matters and what mends it, each in sentences.
    """

    cells: tuple[SectionCell, ...]
    ids: tuple[str, ...] = ()
    at: XY | None = None
    gap: float = 0.0
    bad: bool = False
    tip: str = ""
    why: str = ""
    mend: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """A section of the report.

    `count` is what the heading counts where that is not the number of rows: three freedoms may be
    told at two points. With `counts` false the rows are of one thing, and nothing is counted.
    """

    name: str
    title: str
    columns: tuple[str, ...]
    entries: tuple[SectionEntry, ...]
    wraps: bool = False
    count: int | None = None
    counts: bool = True

    @property
    def heading(self) -> str:
        """Title with the number of what it lists."""
        if not self.counts and self.entries:
            return self.title
        number = len(self.entries) if self.count is None else self.count
        return f"{self.title}  \N{MIDDLE DOT}  {number}"


def words(text: str) -> SectionCell:
    """Return a cell of words."""
    return SectionCell(text, text)


def number(value: float | None, text: str) -> SectionCell:
    """Return a cell that sorts by value; an empty one sorts last."""
    return SectionCell("", float("inf")) if value is None else SectionCell(text, float(value))


def sentence(clause: str) -> str:
    """Return a clause as a sentence."""
    return f"{clause[:1].upper()}{clause[1:]}."


def verdict(inspection: Any) -> tuple[bool | None, str]:
    """Return whether the part is sound and the line that says so; None before it is begun."""
    if not inspection.part.curves:
        return None, "Nothing to check yet"
    return bool(inspection.sound), str(inspection.verdict)


def sections(inspection: Any) -> tuple[Section, ...]:
    """Return every section but the advice for cutters, in the order of the pane."""
    told: Mapping[str, Any] = inspection.as_dict(cutting=False)
    return tuple(readable(make(inspection, told)) for make in MAKERS)


def readable(section: Section) -> Section:
    """Return a section with no more rows than somebody reads on a screen; all are counted."""
    rows = section.entries
    if len(rows) <= MOST_ROWS:
        return section
    left = SectionEntry((words(f"and {len(rows) - MOST_ROWS} more, in the exported report"),
                  *(words("") for _ in section.columns[1:])))
    return replace(section, entries=(*rows[:MOST_ROWS], left),
                   count=len(rows) if section.count is None else section.count)


def cutting_section(inspection: Any) -> Section:
    """Return the advice for cutters; it takes long, so only when it is looked at."""
    from sketcher.inspect.rules import rules

    unit = inspection.part.unit
    rows = tuple(
        SectionEntry(
            (
                words(f"{advice.rule}, {advice.process}"), words(advice.where),
                number(advice.found, bare_length(advice.found, unit)),
                number(advice.wanted, f"{'at most' if advice.most else 'at least'} "
                                      f"{bare_length(advice.wanted, unit)}"),
            ),
            advice.ids, advice.at, tip=advice.why,
            why=sentence(rules()[advice.rule].why), mend=sentence(rules()[advice.rule].mend),
        )
        for advice in inspection.cutting
    )
    if not inspection.advised:
        rows = (SectionEntry((words("no advice"), words(UNADVISED), words(""), words(""))),)
    return readable(Section("cutting", "Cutting", ("Rule", "Where", "Found", "Wanted"), rows,
                            wraps=True))


def _findings(inspection: Any, told: Mapping[str, Any]) -> Section:
    gaps = {tuple(j["between"]): _span(j) for j in told["joints"]}
    rows = tuple(
        SectionEntry(
            (words(f.code), words(f.text)), f.ids, f.at, gaps.get(tuple(f.ids), 0.0), True,
            f"{f.text} Found {f.found}, wanted {f.wanted}, at {f.where}.", f.why, f.mend,
        )
        for f in (inspection.findings if inspection.part.curves else ())
    )
    if not rows and inspection.sound:
        return Section("findings", "Findings", ("Sound", "Measured"),
                       _whole_part(told) + _looked_at(told), wraps=True, count=0)
    return Section("findings", "Findings", ("Finding", "What"), rows, wraps=True)


def _whole_part(told: Mapping[str, Any]) -> tuple[SectionEntry, ...]:
    """Return what a sound part measures as a whole."""
    profile, unit = told["profile"], told["unit"]
    rows = []
    if profile["bounds"]:
        x0, y0, x1, y1 = profile["bounds"]
        rows.append(("Size", f"{x1 - x0:.6g} x {y1 - y0:.6g} {unit}"))
    if profile["area"] is not None:
        rows.append(("Area", f"{profile['area']:.6g} {unit}\N{SUPERSCRIPT TWO}"))
    if profile["perimeter"] is not None:
        rows.append(("Perimeter", f"{profile['perimeter']:.6g} {unit}"))
    rows.append(("Mass", f"{profile['mass']:.5g} kg" if profile["mass"] is not None
                 else "no thickness or density given"))
    return tuple(SectionEntry((words(name), words(text))) for name, text in rows)


def _looked_at(told: Mapping[str, Any]) -> tuple[SectionEntry, ...]:
    """Return what was checked of a sound part, with the number of each."""
    loops, joints = told["profile"]["loops"], told["joints"]
    driving = [d for d in told["dimensions"] if d["drives"]]
    smooth = sum(j["state"] == "tangent" for j in joints)
    holes = sum(bool(loop["hole"]) for loop in loops)
    axes = 1 + len(told["symmetry"]["others"]) if told["symmetry"] else 0
    checks = (
        (plural(len(loops), "loop"), f"closed; {plural(holes, 'hole')}, no stray, no overlap, "
                                     "no crossing"),
        (plural(len(driving), "dimension"), "as the drawing says"),
        (plural(len(told["dimensions"]) - len(driving), "reference"), "as the drawing says"),
        (plural(len(joints), "joint"), f"no gap; {smooth} tangent, {len(joints) - smooth} corners"),
        (plural(len(told["touches"]), "touch", "touches"), "tangent"),
        (plural(axes, "axis", "axes"), "the reflection joins the half"),
        ("0 freedoms", "nothing can move, nothing clashes"),
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
    return Section("freedoms", "Freedoms", ("What", "How"), rows, count=told["freedoms"])


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
    return Section("doubled", "Redundant", ("Binding", "Between"), rows)


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
    return Section("symmetry", "Symmetry", ("What", "Value"), tuple(rows), counts=False)


MAKERS: tuple[Callable[[Any, Mapping[str, Any]], Section], ...] = (
    _findings, _dimensions, _joints, _freedoms, _doubled, _profile, _symmetry,
)


def as_text(section: Section, entries: Sequence[SectionEntry]) -> str:
    """Return rows as lines with tabs between the cells, for the clipboard."""
    lines = ["\t".join(section.columns)]
    lines += ["\t".join(cell.text for cell in entry.cells) for entry in entries]
    return "\n".join(lines) + "\n"
