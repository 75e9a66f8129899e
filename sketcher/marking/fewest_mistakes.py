"""Of several explanations of a hand-in the one with the fewest mistakes.

What explains a hand-in is chosen feature by feature; told are mistakes, and several features may
share one: an opening or a half moved as a whole, a hole of another size that two dimensions of the
key reach. So values that are named are tried without, and what then is wrong is counted again.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations

from sketcher.marking.assignment import matched
from sketcher.marking.comparison import Comparison
from sketcher.marking.explain import Explainer
from sketcher.marking.key_changes import KeyChange
from sketcher.marking.key_shape import KeyShape
from sketcher.marking.laid import Explanation, laid
from sketcher.marking.outline_features import Feature

MOST = 4
"""Pairs are tried among no more changes: more are another drawing."""


def fewest_mistakes(
    explainer: Explainer, hand: Sequence[Feature], best: Explanation,
    beside: Callable[[Explanation], Comparison],
) -> Comparison:
    """Return the hand-in beside the key under those of the named changes that make least wrong.

    Parameters
    ----------
    explainer : Explainer
    hand : sequence of Feature
        In the file's own numbers.
    best : Explanation
        The cheapest that was found.
    beside : callable
        Makes a comparison of an explanation.
    """
    found = beside(best)
    for rest in _fewer(best.changes):
        if _mistakes(found) <= len(rest) + 1:
            continue  # without a change that was of use something else is wrong
        key = explainer.keys.under(rest)
        if key is None or (len(best.changes) - len(rest) > 1
                           and not _at_one_round(best.shape, key.shape)):
            continue
        trial = beside(laid(rest, key, hand, best.pose))
        if _mistakes(trial) < _mistakes(found) and (
                len(best.changes) - len(rest) == 1 or _sizes_alone(trial, found)
                or trial.pieces.mirror is not None):
            found = trial
    return found


def _fewer(changes: tuple[KeyChange, ...]) -> Iterator[tuple[KeyChange, ...]]:
    """Yield none of the changes, which a half moved as a whole asks for; then less one or two."""
    if len(changes) > 1:
        yield ()
    for many in (1, 2) if len(changes) <= MOST else (1,):
        for drop in combinations(changes, many):
            yield tuple(each for each in changes if each not in drop)


def _at_one_round(with_all: KeyShape, without: KeyShape) -> bool:
    """Whether all that some changes move together is one drawn round and its images."""
    matching = matched(with_all.table, without.table, with_all.size)
    moved = [i for (i, _), off in zip(matching.pairs, matching.off, strict=True)
             if off > with_all.within]
    features = [with_all.found[i] for i in (*moved, *matching.missing)]
    return len({with_all.pieces[each.sources[0]].source for each in features}) == 1 and all(
        not each.is_line for each in features)


def _mistakes(comparison: Comparison) -> int:
    return len(comparison.changes) + len(comparison.pieces.slips)


def _sizes_alone(trial: Comparison, before: Comparison) -> bool:
    """Whether all that is wrong in place of two values is the size of one round.

    Two values that move one hole are two mistakes; two that reach its size are one.
    """
    known = {(each.rule, each.at) for each in before.pieces.slips}
    more = [each for each in trial.pieces.slips if (each.rule, each.at) not in known]
    return len(more) == 1 and more[0].word == "size"
