"""The wording of dimensions read back, by the forms of ASME Y14.5M-1994, 1.5 to 1.9, and ISO 129-1.

The forms are from memory where the module says so; the numbers are read off by eye.
"""

from __future__ import annotations

import pytest

from sketcher.drafting.rebuild.read_wording import ReadWording, read_wording


@pytest.mark.parametrize(("text", "unit", "said"), [
    ("120", "mm", ReadWording(120.0)),
    ("(122)", "mm", ReadWording(122.0, reference=True)),
    ("4x R8", "mm", ReadWording(8.0, "R", 4)),
    ("4X Ø9/32", "in", ReadWording(0.28125, "Ø", 4)),
    ("Ø20 ±0.1", "mm", ReadWording(20.0, "Ø")),
    ("Ø24 +0.1/0", "mm", ReadWording(24.0, "Ø")),
    ("Ø24 0/-0.05", "mm", ReadWording(24.0, "Ø")),
    ("5 1/2", "in", ReadWording(5.5)),
    (".50", "in", ReadWording(0.5)),
    ("Ø3/8 ±.005", "in", ReadWording(0.375, "Ø")),
    ("27.5°", "mm", ReadWording(27.5, angle=True)),
    ("19°40′", "mm", ReadWording(19.0 + 40.0 / 60.0, angle=True)),
    ("30° ±20'", "mm", ReadWording(30.0, angle=True)),
    ("3x 20 (60)", "mm", ReadWording(20.0, count=3, total=60.0)),
    ("3x 20 (=60)", "mm", ReadWording(20.0, count=3, total=60.0)),
    ("6x Ø6.6 equally spaced", "mm", ReadWording(6.6, "Ø", 6, note="equally spaced")),
    ("6X Ø6.6 EQ SP", "mm", ReadWording(6.6, "Ø", 6, note="EQ SP")),
    ("2 x 45°", "mm", ReadWording(2.0, bevel=45.0)),
    ("2x 4 x 45°", "mm", ReadWording(4.0, count=2, bevel=45.0)),
    ("4 × 45°", "mm", ReadWording(4.0, bevel=45.0)),
    ("2x R", "mm", ReadWording(None, "R", 2)),
    ("(R48)", "mm", ReadWording(48.0, "R", reference=True)),
])
def test_a_wording_is_read(text: str, unit: str, said: ReadWording) -> None:
    found = read_wording(text, unit)
    assert found is not None
    assert found.value == (said.value if said.value is None else pytest.approx(said.value))
    assert found == ReadWording(found.value, said.sign, said.count, said.angle, said.reference,
                                said.total, said.bevel, said.note)


@pytest.mark.parametrize("text", ["", "see note", "12 +", "R R", "()"])
def test_what_says_no_number_is_not_read(text: str) -> None:
    assert read_wording(text, "mm") is None


@pytest.mark.parametrize(("text", "spaced"), [
    ("6X Ø6.6 EQ SP", True), ("6x Ø6.6 equally spaced", True), ("6x Ø6.6 deep", False)])
def test_equal_spacing_is_a_note(text: str, spaced: bool) -> None:
    found = read_wording(text, "mm")
    assert found is not None
    assert found.spaced is spaced
