"""Values beside what the standard library makes of the same class."""

from __future__ import annotations

import copy
import pickle
from dataclasses import FrozenInstanceError, dataclass, field, fields, replace
from typing import Any

import pytest

from sketcher.immutable import immutable


def bare() -> type:
    """Return the class that both are made from."""

    class Same:
        first: int
        second: tuple[int, ...] = (1, 2)
        third: list[int] = field(default_factory=list)
        aside: float = field(default=0.5, compare=False)
        named: str = field(default="n", kw_only=True)
        made: int = field(init=False, compare=False, repr=False)

        def __post_init__(self) -> None:
            object.__setattr__(self, "made", 2 * self.first)

    return Same


Ours: Any = immutable(bare())
Theirs: Any = dataclass(frozen=True, slots=True)(bare())
GIVEN: list[tuple[tuple[Any, ...], dict[str, Any]]] = [
    ((1,), {}), ((1, (3,)), {"named": "m"}), ((), {"first": 4, "aside": 1.0}), ((1, (), [7]), {}),
]


@immutable
class Alone:
    """One field, and words of its own."""

    only: int

    def __str__(self) -> str:
        return f"<{self.only}>"


@immutable
class More(Alone):
    """One field more."""

    more: tuple[Alone, ...] = ()


@pytest.mark.parametrize(("places", "names"), GIVEN)
def test_the_same_value_comes_out(places: tuple[Any, ...], names: dict[str, Any]) -> None:
    ours, theirs = Ours(*places, **names), Theirs(*places, **names)
    assert repr(ours) == repr(theirs)
    assert [f.name for f in fields(ours)] == [f.name for f in fields(theirs)]
    assert all(getattr(ours, f.name) == getattr(theirs, f.name) for f in fields(theirs))
    assert repr(replace(ours, first=9)) == repr(replace(theirs, first=9))
    assert replace(ours, first=9).made == 18


@pytest.mark.parametrize("left", GIVEN)
@pytest.mark.parametrize("right", GIVEN)
def test_the_same_values_are_equal(left: Any, right: Any) -> None:
    ours, theirs = ([made(*places, **names) for places, names in (left, right)]
                    for made in (Ours, Theirs))
    assert (ours[0] == ours[1]) == (theirs[0] == theirs[1])


def test_equal_values_are_one_key() -> None:
    assert len({Alone(1): 0, Alone(1): 0, Alone(2): 0}) == 2
    assert hash(Alone(3)) == hash((3,))  # as the standard library's
    assert Alone(1) != More(1)
    assert Alone(1) != 1
    with pytest.raises(TypeError, match="unhashable"):
        hash(Ours(1))  # of a list


def test_wrong_arguments_are_refused_by_name() -> None:
    with pytest.raises(TypeError, match="missing 1 required positional argument: 'first'"):
        Ours()
    with pytest.raises(TypeError, match="unexpected keyword argument 'made'"):
        Ours(1, made=3)
    with pytest.raises(TypeError, match="takes from 2 to 5 positional arguments"):
        Ours(1, (), [], 0.0, "n")


def test_nothing_changes() -> None:
    one = More(1, (Alone(2),))
    for name in ("only", "more", "other"):
        with pytest.raises(FrozenInstanceError, match=name):
            setattr(one, name, 3)
        with pytest.raises(FrozenInstanceError, match=name):
            delattr(one, name)
    assert not hasattr(one, "__dict__")


def test_a_default_is_made_anew_each_time() -> None:
    assert Ours(1).third is not Ours(1).third


def test_a_value_goes_to_another_process() -> None:
    one = More(1, (Alone(2),))
    assert pickle.loads(pickle.dumps(one)) == one == copy.deepcopy(one)
    assert str(copy.copy(one)) == "<1>"


def test_a_class_can_be_matched() -> None:
    match More(1, (Alone(2),)):
        case More(only, (Alone(inner),)):
            assert (only, inner) == (1, 2)
        case _:
            pytest.fail("not matched")
