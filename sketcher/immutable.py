"""Values that never change: `dataclass(frozen=True, slots=True)` in a third of the time.

The program has some two hundred such classes. For each of them the standard library compiles seven
methods: a fifth of the time until the window stood. Here only the constructor is compiled; all else
goes through the names of the fields.
"""

from __future__ import annotations

from dataclasses import MISSING, FrozenInstanceError, dataclass, field, fields
from operator import attrgetter
from typing import Any, TypeVar, dataclass_transform

T = TypeVar("T")


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
def immutable(cls: type[T]) -> type[T]:
    """Return the class with slots, constructor, comparison, hash and representation.

    Fields, defaults and ``__post_init__`` mean what they mean to `dataclasses`, whose `fields` and
    `replace` work with it. What the class itself defines stays.
    """
    made: Any = dataclass(init=False, repr=False, eq=False, slots=True)(cls)
    every = fields(made)
    compared = _getter([one.name for one in every if one.compare])
    state = _getter([one.name for one in every])

    def __eq__(self: Any, other: object) -> bool:
        if other.__class__ is not self.__class__:
            return NotImplemented
        return bool(compared(self) == compared(other))

    def __hash__(self: Any) -> int:
        return hash(compared(self))

    def __repr__(self: Any) -> str:
        shown = ", ".join(f"{one.name}={getattr(self, one.name)!r}" for one in every if one.repr)
        return f"{self.__class__.__qualname__}({shown})"

    def __getstate__(self: Any) -> Any:
        return state(self)

    def __setstate__(self: Any, kept: Any) -> None:
        for one, what in zip(every, kept, strict=True):
            object.__setattr__(self, one.name, what)

    for method in (__eq__, __hash__, __repr__, __getstate__, __setstate__):
        if method.__name__ not in cls.__dict__:
            setattr(made, method.__name__, method)
    made.__init__ = _constructor(made)
    made.__setattr__ = made.__delattr__ = _refuse
    return made  # type: ignore[no-any-return]


def _constructor(made: Any) -> Any:
    """Return a constructor that fills the slots past `_refuse`."""
    known: dict[str, Any] = {"MISSING": MISSING}
    plain, named, body = ["self"], ["*"], []
    for one in fields(made):
        name, head, given = one.name, one.name, one.name
        if one.default is not MISSING:
            known[f"usual_{name}"] = one.default
            head = f"{name}=usual_{name}"
        elif one.default_factory is not MISSING:
            known[f"make_{name}"] = one.default_factory
            head, given = f"{name}=MISSING", f"make_{name}() if {name} is MISSING else {name}"
        if one.init:
            (named if one.kw_only else plain).append(head)
            known[f"set_{name}"] = getattr(made, name).__set__
            body.append(f" set_{name}(self, {given})")
    if hasattr(made, "__post_init__"):
        body.append(" self.__post_init__()")
    heads = ", ".join(plain + (named if len(named) > 1 else []))
    exec("\n".join((f"def __init__({heads}):", *(body or [" pass"]))), known)
    return known["__init__"]


def _getter(names: list[str]) -> Any:
    """Return a function from a value to some of its fields as a tuple."""
    if len(names) > 1:
        return attrgetter(*names)
    return lambda self: tuple(getattr(self, name) for name in names)


def _refuse(self: object, name: str, *_: object) -> None:
    raise FrozenInstanceError(f"{name} of {self.__class__.__qualname__} never changes")
