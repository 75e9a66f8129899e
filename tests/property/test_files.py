"""Laws of part files: writing is exact, reading is all or nothing."""

from __future__ import annotations

import json
import random

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from sketcher.errors import FileError
from sketcher.part.file_text import number, read, write
from sketcher.part.store import load, save
from sketcher.part.value import Part
from tests.defects import SOUND, text_of
from tests.seldom import examples
from tests.strategies import chains


@examples(70, 200, suppress_health_check=[HealthCheck.too_slow])
@given(chains())
def test_saved_loaded_and_saved_again_is_byte_identical(part: Part) -> None:
    text = write(part)
    again = read(text.encode("utf-8"))
    assert write(again) == text
    assert again == part
    assert [repr(at) for at in again.points.values()] == [repr(at) for at in part.points.values()]


@examples(20, 40,
          suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture])
@given(chains(most=6))
def test_files_on_disk_too(tmp_path, part: Part) -> None:
    path = tmp_path / "chain.profile.json"
    save(part, path)
    settled = load(path)
    save(settled, path)
    first = path.read_bytes()
    save(load(path), path)
    assert path.read_bytes() == first


@given(st.floats(allow_nan=False, allow_infinity=False))
@settings(max_examples=500)
def test_every_number_reads_back_as_itself(value: float) -> None:
    assert repr(float(json.loads(number(value)))) == repr(value)


def whole_or_one_error(data: bytes) -> None:
    """Read any bytes: a part that can be written, or one error that fits on a line."""
    try:
        part = read(data)
    except FileError as error:
        told = str(error)
    else:
        told = ""
        assert read(write(part)) == part
    assert "\n" not in told.replace("\\n", "")


@given(st.binary(max_size=300))
@settings(max_examples=300)
def test_any_bytes_are_a_part_or_one_error(data: bytes) -> None:
    whole_or_one_error(data)


@example("\n")
@given(st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(
        st.sampled_from([*SOUND, "p1", "e1", "kind", "ends", "of", "axis"]), inner, max_size=6),
    max_leaves=20,
))
@settings(max_examples=300)
def test_any_json_is_a_part_or_one_error(tree: object) -> None:
    whole_or_one_error(json.dumps(tree).encode("utf-8"))
    if isinstance(tree, dict):
        whole_or_one_error(json.dumps(SOUND | tree).encode("utf-8"))


@pytest.mark.parametrize("seed", range(8))
def test_spoiled_bytes_are_a_part_or_one_error(seed: int) -> None:
    random_numbers = random.Random(seed)
    content = text_of(SOUND)
    for _ in range(150):
        spoiled = bytearray(content)
        for _ in range(random_numbers.randint(1, 4)):
            at = random_numbers.randrange(len(spoiled))
            match random_numbers.randrange(4):
                case 0:
                    spoiled[at] = random_numbers.randrange(256)
                case 1:
                    del spoiled[at : at + random_numbers.randint(1, 20)]
                case 2:
                    piece = content[random_numbers.randrange(len(content)) :][:12]
                    spoiled[at:at] = piece
                case _:
                    spoiled[at:at] = random_numbers.choice(
                        [b"NaN", b"-", b"[", b"}", b'"', b"1e999", b"null", b"{}"])
        whole_or_one_error(bytes(spoiled))
