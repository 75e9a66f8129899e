"""The expressions of a part: who uses a parameter, and rewriting all of them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from sketcher.errors import QuantityError
from sketcher.part.value import GridPattern, Part, Pattern
from sketcher.quantity.parse import names_in
from sketcher.quantity.tokens import Reader


def expressions(part: Part) -> Iterator[tuple[str, str]]:
    """Yield the place and the text of every expression of a part."""
    for name, text in part.parameters.items():
        yield f"parameters.{name}", text
    for name, binding in part.bindings.items():
        if binding.value is not None:
            yield f"bindings.{name}.value", binding.value
    for name, pattern in part.patterns.items():
        for text in pattern_texts(pattern):
            yield f"patterns.{name}", text


def pattern_texts(pattern: Pattern) -> tuple[str, ...]:
    """Return the expressions of a pattern."""
    if isinstance(pattern, GridPattern):
        return (*pattern.step, pattern.angle)
    return (pattern.span,)


def users_of(part: Part, name: str) -> tuple[str, ...]:
    """Return the places whose expression uses a parameter."""
    found: dict[str, None] = {}
    for place, text in expressions(part):
        try:
            if name in names_in(text, part.unit):
                found[place] = None
        except QuantityError:
            continue
    return tuple(found)


def with_name(text: str, old: str, new: str) -> str:
    """Return an expression with a parameter's name replaced; everything else stays as typed."""
    if old not in text:
        return text
    try:
        places = [t.at for t in Reader(text, "any", "mm") if t.what == "name" and t.text == old]
    except QuantityError:
        return text
    for at in reversed(places):
        text = text[:at] + new + text[at + len(old):]
    return text


def rewritten(part: Part, change: Callable[[str], str]) -> Part:
    """Return the part with every expression changed; mappings that stay alike stay the same."""
    changes: dict[str, object] = {}
    parameters = {name: change(text) for name, text in part.parameters.items()}
    if parameters != part.parameters:
        changes["parameters"] = parameters
    bindings = {
        name: b if b.value is None else replace(b, value=change(b.value))
        for name, b in part.bindings.items()
    }
    if bindings != part.bindings:
        changes["bindings"] = bindings
    patterns = {name: _changed(pattern, change) for name, pattern in part.patterns.items()}
    if patterns != part.patterns:
        changes["patterns"] = patterns
    return part.having(**changes) if changes else part


def _changed(pattern: Pattern, change: Callable[[str], str]) -> Pattern:
    if isinstance(pattern, GridPattern):
        across, up = pattern.step
        return replace(pattern, step=(change(across), change(up)), angle=change(pattern.angle))
    return replace(pattern, span=change(pattern.span))
