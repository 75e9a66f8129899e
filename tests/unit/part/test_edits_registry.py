"""Every file below part/edits is an edit: registered, documented, tested, without side effects."""

from __future__ import annotations

import inspect
from pathlib import Path

import pytest

import sketcher.part.edits as folder
from sketcher.part.edited import Edited
from sketcher.part.edits import EDITS

FOLDER = Path(folder.__file__).parent
FILES = sorted(p.stem for p in FOLDER.glob("*.py") if p.stem not in ("__init__", "draft"))
TESTS = "\n".join(
    path.read_text(encoding="utf-8")
    for path in Path(__file__).parent.glob("test_edits_*.py")
    if path.name != Path(__file__).name
)


def test_the_registry_is_the_folder() -> None:
    assert sorted(EDITS) == FILES
    assert len(EDITS) == len(FILES)
    with pytest.raises(KeyError):
        EDITS["draft"]


@pytest.mark.parametrize("name", FILES)
def test_an_edit_takes_a_part_and_returns_what_it_did(name: str) -> None:
    function = EDITS[name]
    signature = inspect.signature(function)
    assert next(iter(signature.parameters)) == "part"
    assert signature.return_annotation == "Edited"
    assert function.__name__ == name


@pytest.mark.parametrize("name", FILES)
def test_an_edit_is_documented_and_tested(name: str) -> None:
    text = EDITS[name].__doc__ or ""
    assert text.strip().splitlines()[0].endswith((".", ";", ":"))
    assert "Raises" in text or "Parameters" in text or name in ("describe",)
    assert f'EDITS["{name}"]' in TESTS or f'"{name}"' in TESTS


def test_the_outcome_is_a_value() -> None:
    assert Edited.__dataclass_params__.frozen
