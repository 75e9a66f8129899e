"""What a person said about one center line: by what its ends belong to, not by millimeters.

A change by hand is a rule, so that it follows the part. `Drawing.centers` holds, by the id of a
line, ``off`` or a rule for ``start`` and ``end``, the lower and the upper end along the line:

``outline``
    Past the outline of the part by the overhang.
``to ID``
    Past the hole, slot or round with this id, which the line takes in: the two are joined. The id
    of the line's own feature parts it from its row there.
``axis ID``
    Past the axis with this id.
``center``
    No farther than the short dash on its outermost center.
a number
    As many mm on paper past where it would end by itself. The program no longer makes these, but
    files of earlier versions have them: they stay as they are, as `sketcher.drafting` would have to
    be asked what they could mean.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal, TypeAlias

from sketcher.errors import EditError
from sketcher.part.image_id import read_image_id
from sketcher.part.value import Drawing, frozen

WORDS = {
    "level": "level center line of {}", "plumb": "plumb center line of {}",
    "along": "center line along {}", "across": "center line across {}",
    "radial": "radial center line of {}", "path": "center line of the path of {}",
    "pitch": "pitch circle about {}", "axis": "center line on {}",
}
"""What people call a line, by the last word of its id."""

Goal: TypeAlias = Literal["outline", "to", "axis", "center", "more"]
SIDES = ("start", "end")
WITH_ID = ("to", "axis")


@dataclass(frozen=True, slots=True)
class EndRule:
    """Where an end belongs.

    Parameters
    ----------
    goal : str
        ``outline``, ``to``, ``axis``, ``center`` or ``more``.
    of : str
        Id of what it goes to or of the axis; else empty.
    more : float
        In mm on paper, of the goal ``more``.
    """

    goal: Goal
    of: str = ""
    more: float = 0.0

    @property
    def stored(self) -> str | float:
        """As the file has it."""
        if self.goal == "more":
            return self.more
        return f"{self.goal} {self.of}" if self.of else self.goal

    @property
    def words(self) -> str:
        """Say where the end goes."""
        return {"outline": "past the outline", "to": f"past {self.of}",
                "axis": f"past axis {self.of}", "center": "to its center",
                "more": f"{self.more:+g} mm on paper"}[self.goal]


def read_rule(value: str | float) -> EndRule:
    """Return the rule that a file's value tells.

    Raises
    ------
    EditError
        For a text that is no rule.

    Examples
    --------
    >>> read_rule("to h3")
    EndRule(goal='to', of='h3', more=0.0)
    """
    if not isinstance(value, str):
        return EndRule("more", more=float(value))
    word, _, of = value.partition(" ")
    if word in WITH_ID and of and of == of.strip():
        return EndRule(word, of)  # type: ignore[arg-type]
    if value in ("outline", "center"):
        return EndRule(value)  # type: ignore[arg-type]
    raise EditError("drawing.centers", f"an end cannot be {value[:64]!r}",
                    "say outline, center, to ID, axis ID, or a number of mm on paper")


def end_rules(settings: Mapping[str, Any]) -> dict[str, EndRule]:
    """Return the rules of the ends of one line, by ``start`` and ``end``."""
    return {side: read_rule(settings[side]) for side in SIDES if side in settings}


def line_words(name: str) -> str:
    """Return what people call the center line of an id, as in ``center line along a5``."""
    of, _, word = name.rpartition("/")
    kind = read_image_id(word).source
    return WORDS.get(kind, "center line {}").format(of.replace("/", " ") + word[len(kind):])


def without_rule(drawing: Drawing, names: Iterable[str], side: str) -> Drawing:
    """Return the drawing without what was said of one end of lines; the same one for nothing."""
    kept = dict(drawing.centers)
    for name in names:
        if side in kept.get(name, ()):
            kept[name] = frozen({key: v for key, v in kept[name].items() if key != side})
            if not kept[name]:
                del kept[name]
    if kept == dict(drawing.centers):
        return drawing
    return replace(drawing, centers=frozen(kept))


def with_rule(drawing: Drawing, name: str, side: str, rule: EndRule) -> Drawing:
    """Return the drawing with a rule for one end of a line."""
    entry = {**drawing.centers.get(name, {}), side: rule.stored}
    return replace(drawing, centers=frozen({**drawing.centers, name: frozen(entry)}))


def without_lines_of(drawing: Drawing, gone: Callable[[str], bool]) -> Drawing:
    """Return the drawing without changes to lines of things that are gone."""
    kept = {name: entry for name, entry in drawing.centers.items() if not gone(_source(name))}
    if len(kept) == len(drawing.centers):
        return drawing
    return replace(drawing, centers=frozen(kept))


def with_names(drawing: Drawing, renamed: Callable[[str], str]) -> Drawing:
    """Return the drawing with every id in its rules for center lines renamed."""
    if not drawing.centers:
        return drawing

    def name(image: str) -> str:
        base, slash, rest = image.partition("/")
        source = read_image_id(base).source
        return renamed(source) + base[len(source):] + slash + rest

    def value(key: str, item: Any) -> Any:
        if key not in SIDES or not isinstance(item, str):
            return item
        rule = read_rule(item)
        return replace(rule, of=name(rule.of)).stored if rule.of else item

    return replace(drawing, centers=frozen({
        name(line): frozen({key: value(key, item) for key, item in entry.items()})
        for line, entry in drawing.centers.items()}))


def _source(name: str) -> str:
    return read_image_id(name.partition("/")[0]).source
