"""The report of a class: points, rules, where most went wrong, who could not be graded."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sketcher.drafting.lettering import text_width
from sketcher.drafting.page import Page
from sketcher.drafting.paper_sizes import sheets
from sketcher.drafting.primitives import Fill, Item, Text, line, polyline
from sketcher.geometry.curves import XY
from sketcher.inspect.words import plural
from sketcher.marking.class_statistics import (
    BINS,
    FailedPlace,
    failed_places,
    graded,
    hard_dimensions,
    histogram,
    points_spread,
    rule_tallies,
)
from sketcher.marking.deduction_table import by_hand_texts, points_text, total_text
from sketcher.marking.marked_picture import PictureBlock, pictured
from sketcher.marking.marked_view import key_view
from sketcher.marking.marks import Marks, faulty_rules
from sketcher.marking.report_page import (
    PAPER,
    PageHeading,
    Paragraphs,
    PouredBlock,
    UncutBlock,
    page_room,
    poured_pages,
)
from sketcher.marking.rubric import Rubric
from sketcher.marking.ruled_rows import SMALL, CellText, RuledRows, said
from sketcher.marking.rules import marking_rules
from sketcher.part.part_size import part_size
from sketcher.part.value import Part
from sketcher.quantity.format import exact

PLACES = 12  # that are drawn on the part
MANY = 1.0 / 3.0  # share of a class whose place has a wide ring
BAR_ROOM, BAR_TALL = 52.0, 36.0  # mm, height of the histogram and of its highest bar
PICTURE = 118.0  # mm, height of the part with its places
LETTERS = "ABCDEFGHJKLM"
POINTS_WIDE = 32.0  # mm that points and the air about a label take in the list of hand-ins
MOST_ACROSS = 4  # columns of that list
VALUES_TOLD = 4  # of those that were drawn in place of one of the key


@dataclass(frozen=True, slots=True)
class CopiesFlagged:
    """Two hand-ins that look alike, by their labels, and why; it costs nothing."""

    labels: tuple[str, str]
    reasons: tuple[str, ...]


def class_report(
    results: Sequence[tuple[str, Marks]], key: Part, rubric: Rubric,
    copies: Sequence[CopiesFlagged] = (),
) -> tuple[Page, ...]:
    """Return the pages of a class's report.

    Parameters
    ----------
    results : sequence of (str, Marks)
        What each hand-in is called, a number unless names are asked for, and what it is given.
    key : Part
        Solved.
    rubric : Rubric
    copies : sequence of CopiesFlagged
    """
    sheet = sheets()[PAPER[key.drawing.practice]]
    left, _, right, _ = page_room(sheet)
    some = graded(results)
    spread = points_spread(some)
    heading = PageHeading(
        "Class report", key.name, "" if spread is None else f"mean {_tenths(spread.mean)}",
        f"{plural(len(results), 'hand-in')}, {len(some)} graded")
    return poured_pages(sheet, heading, _blocks(results, key, rubric, copies, right - left),
                        f"{key.name}: class report", "class")


def _blocks(
    results: Sequence[tuple[str, Marks]], key: Part, rubric: Rubric,
    copies: Sequence[CopiesFlagged], wide: float,
) -> list[PouredBlock]:
    some = graded(results)
    blocks: list[PouredBlock] = []
    spread = points_spread(some)
    if spread is None:
        blocks.append(_words("No hand-in could be graded.", wide))
    else:
        low, high = map(_tenths, spread.middle)
        blocks.append(RuledRows(
            ("graded", "mean", "median", "standard deviation", "lowest", "highest", "middle half"),
            _shares(wide, (1.0, 1.0, 1.0, 1.6, 1.0, 1.0, 1.4)),
            (tuple(said(text) for text in (
                str(spread.count), *map(_tenths, (spread.mean, spread.median, spread.spread)),
                points_text(spread.lowest), points_text(spread.highest), f"{low} to {high}")),),
            "points"))
        blocks.append(Histogram(histogram(some, rubric.base), rubric.base, wide))
        blocks += _faults(some, wide)
        blocks += _rules(some, wide)
        blocks += _places(some, key, wide)
        blocks += _dimensions(some, wide)
    blocks += _lists(results, copies, wide)
    return blocks


def _tenths(points: float) -> str:
    return exact(round(points, 1))


def _shares(wide: float, shares: Sequence[float]) -> tuple[float, ...]:
    return tuple(wide * share / sum(shares) for share in shares)


def _words(text: str, wide: float, *more: str) -> Paragraphs:
    return Paragraphs((text, *more), wide, "words", bold=True)


def _faults(some: Sequence[Marks], wide: float) -> Iterator[PouredBlock]:
    """Give a warning where the program failed: these points are not to be trusted."""
    found = Counter(name for marks in some for name in faulty_rules(marks))
    if found:
        yield _words("A fault of the program: look at these by hand", wide, *(
            f"{marking_rules()[name].heading}: not decided in {count} of {len(some)}, "
            "nothing taken off." for name, count in found.items()))


def _rules(some: Sequence[Marks], wide: float) -> Iterator[PouredBlock]:
    tallies = rule_tallies(some)
    rows = tuple((
        said(marking_rules()[each.rule].heading, bold=True), said(str(each.hand_ins), right=True),
        said(f"{round(100.0 * each.hand_ins / len(some))} %", right=True),
        said(str(each.times), right=True), said(points_text(each.points), right=True))
        for each in tallies if each.times)
    if rows:
        yield RuledRows(("rule", "hand-ins", "share", "times", "points lost"),
                        _shares(wide, (5.0, 1.2, 1.0, 1.0, 1.5)), rows, "rules")
    else:
        yield _words("No hand-in lost points.", wide)
    counts = sorted({each.undecided for each in tallies if each.undecided}, reverse=True)
    told = [f"Not decided in {count} of {len(some)}: " + "; ".join(
        marking_rules()[each.rule].title for each in tallies if each.undecided == count) + "."
        for count in counts]
    if told:
        yield Paragraphs(tuple(told), wide, "undecided")


def _places(some: Sequence[Marks], key: Part, wide: float) -> list[PouredBlock]:
    places = failed_places(some, part_size(key))[:PLACES]
    if not places:
        return []
    names = [f"{letter}:{place.hand_ins}" for letter, place in zip(LETTERS, places, strict=False)]
    picture = replace(pictured(key_view(key), ()), alone=True, pointed=tuple(
        (place.at, name) for name, place in zip(names, places, strict=True)),
        heavy=frozenset(name for name, place in zip(names, places, strict=True)
                        if place.hand_ins >= MANY * len(some)))
    rows = tuple((said(name.partition(":")[0], bold=True), said(str(place.hand_ins), right=True),
                  CellText((_told(place),)))
                 for name, place in zip(names, places, strict=True))
    return [_words("Where most went wrong", wide,
                   "In each ring the place's letter and how many hand-ins went wrong there; a "
                   "heavy ring: a third of the class or more."),
            PictureBlock(picture, wide, PICTURE),
            RuledRows(("place", "hand-ins", "what"), _shares(wide, (1.0, 1.4, 9.0)), rows,
                      "places")]


def _told(place: FailedPlace) -> str:
    return "; ".join(f"{marking_rules()[rule].title} ({times})" for rule, times in place.rules)


def _dimensions(some: Sequence[Marks], wide: float) -> list[PouredBlock]:
    rows = tuple((
        said(each.wanted, bold=True), said(str(each.hand_ins), right=True), CellText((each.text,)),
        CellText((", ".join(f"{value} ({times})" for value, times in each.found[:VALUES_TOLD]) +
                  (", ..." if len(each.found) > VALUES_TOLD else ""),)))
        for each in hard_dimensions(some))
    if not rows:
        return []
    return [RuledRows(("hardest dimensions", "hand-ins", "what", "drawn with"),
                      _shares(wide, (2.4, 1.3, 4.6, 3.0)), rows, "dimensions")]


def _lists(
    results: Sequence[tuple[str, Marks]], copies: Sequence[CopiesFlagged], wide: float
) -> Iterator[PouredBlock]:
    out = tuple((said(label, bold=True), CellText((marks.ungraded, *by_hand_texts(marks))))
                for label, marks in results if marks.ungraded)
    if out:
        yield RuledRows(("not graded", "why"), _shares(wide, (1.0, 3.0)), out, "ungraded")
    if copies:
        rows = tuple((said(one.labels[0], bold=True), said(one.labels[1], bold=True),
                      CellText(one.reasons)) for one in copies)
        yield _words("Alike", wide, "These may have been drawn from one another. Nothing has been "
                                    "taken off for it.")
        yield RuledRows(("hand-in", "is like", "why"), _shares(wide, (1.0, 1.0, 3.0)), rows,
                        "copies")
    if results:
        yield _everybody(results, wide)


def _everybody(results: Sequence[tuple[str, Marks]], wide: float) -> RuledRows:
    """Return the points of each hand-in, in as many columns as their labels leave room for."""
    cells = [(said(label), said(total_text(marks) if marks.has_points else "not graded",
                                right=True), said("")) for label, marks in results]
    need = max(text_width(label, SMALL) for label, _ in results) + POINTS_WIDE
    across = max(1, min(MOST_ACROSS, int(wide / need)))
    down = -(-len(cells) // across)
    blank = (said(""), said("", right=True), said(""))
    rows = tuple(tuple(cell for k in range(across)
                       for cell in (cells[k * down + n] if k * down + n < len(cells) else blank))
                 for n in range(down))
    step = wide / across
    return RuledRows(("hand-in", "points", "") * across,
                     (step - POINTS_WIDE + 8.0, POINTS_WIDE - 12.0, 4.0) * across, rows, "list")


@dataclass(frozen=True, slots=True)
class Histogram(UncutBlock):
    """How many have points in each tenth of those that there are, as bars."""

    counts: tuple[int, ...]
    base: float
    width: float
    height: float = BAR_ROOM

    def draw(self, corner: XY) -> Iterator[Item]:
        """Give what is drawn below and right of a corner."""
        x, y = corner
        step = self.width / BINS
        foot = y - self.height + 9.0
        unit = BAR_TALL / max(1, *self.counts)
        for number, count in enumerate(self.counts):
            a, b = x + (number + 0.1) * step, x + (number + 0.9) * step
            middle = 0.5 * (a + b)
            if count:
                top = foot + count * unit
                yield Fill(((a, foot), (b, foot), (b, top), (a, top)), "histogram", faint=True)
                yield from polyline([(a, foot), (a, top), (b, top), (b, foot)], "section",
                                    "histogram")
                yield Text(str(count), (middle, top + 1.2), SMALL, "histogram", "center")
            low, high = (self.base * k / BINS for k in (number, number + 1))
            last = number == BINS - 1
            said_so = f"{points_text(low)} to {'' if last else 'below '}{points_text(high)}"
            if self.base == 100.0 and not last:
                said_so = f"{points_text(low)} to {points_text(high - 1.0)}"
            yield Text(said_so, (middle, foot - 1.5 - SMALL), SMALL, "histogram", "center")
        yield line((x, foot), (x + self.width, foot), "section", "histogram")
        yield Text("points", (x + self.width, foot - 3.5 - 2.0 * SMALL), SMALL, "histogram",
                   "right")
