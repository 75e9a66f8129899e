"""What the sections of the inspection count."""

from __future__ import annotations

from pathlib import Path

from sketcher.desk.panes.sections import MOST_ROWS, Section, SectionEntry, readable, sections, words
from sketcher.part.edits.add_binding import add_binding
from sketcher.part.edits.draft import Draft
from sketcher.part.store import load
from sketcher.part.value import Part
from tests.inspected import inspected

DEMO = Path(__file__).resolve().parents[3] / "demo_parts"


def shown(part: Part) -> tuple[str, dict[str, Section]]:
    inspection = inspected(part)
    return inspection.verdict, {section.name: section for section in sections(inspection)}


def counted(section: Section) -> int:
    return int(section.heading.rsplit(maxsplit=1)[-1])


def test_freedoms_are_counted_not_the_points_that_have_them() -> None:
    draft = Draft(Part())
    p, q, r = (draft.point(place) for place in ((0.0, 0.0), (30.0, 0.0), (10.0, 20.0)))
    for ends in ((p, q), (q, r), (r, p)):
        draft.line(*ends)
    part = draft.done()
    _, found = shown(part)
    assert len(found["freedoms"].entries) == 3
    assert counted(found["freedoms"]) == 6  # two for each point of a triangle


def test_what_is_said_twice_is_no_freedom() -> None:
    part = load(DEMO / "gate-strap.profile.json")
    plain, found = shown(part)
    assert (counted(found["freedoms"]), counted(found["doubled"])) == (0, 0)
    binding = next(b for b in part.bindings.values() if b.kind == "radius")
    doubled = add_binding(part, "diameter", binding.of, f"2*({binding.value})").part
    verdict, found = shown(doubled)
    assert inspected(doubled).sound
    assert counted(found["freedoms"]) == 0
    assert found["freedoms"].entries[0].cells[0].text == "none"
    assert counted(found["doubled"]) == 1
    assert found["doubled"].entries[0].ids[1:] == binding.of
    assert verdict.startswith(plain)
    assert verdict != plain


def test_a_section_with_nothing_in_it_says_so() -> None:
    _, found = shown(load(DEMO / "shelf-bracket.profile.json"))
    for name in ("freedoms", "doubled", "symmetry"):
        (entry,) = found[name].entries
        assert entry.cells[0].text == "none"
        assert not entry.bad
    _, found = shown(Part())
    assert not any(found[name].entries for name in ("freedoms", "doubled", "symmetry"))


def test_a_long_section_is_cut_short_and_counts_all() -> None:
    rows = tuple(SectionEntry((words(f"row {k}"), words(""))) for k in range(MOST_ROWS + 7))
    shown = readable(Section("cutting", "Cutting", ("What", "Where"), rows))
    assert shown.entries[:MOST_ROWS] == rows[:MOST_ROWS]
    assert len(shown.entries) == MOST_ROWS + 1  # the last row tells how many are left out
    assert len(shown.entries[-1].cells) == 2
    assert str(MOST_ROWS + 7) in shown.heading
    short = Section("cutting", "Cutting", ("What", "Where"), rows[:MOST_ROWS])
    assert readable(short) is short


def test_a_centroid_and_a_product_of_inertia_of_zero_are_read_as_zero() -> None:
    found = shown(load(DEMO / "gate-strap.profile.json"))[1]["profile"]
    told = {row.cells[0].text: row.cells[1].text for row in found.entries}
    assert told["centroid"].startswith("0, 47.4658")
    assert told["Ixy"] == "0 mm⁴"
    assert float(told["Ix"].split()[0]) > 1e6
