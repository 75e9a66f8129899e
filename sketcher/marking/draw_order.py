"""Which draw each student gets: by seed and number alone, whoever else is in the class.

Every number has an order of its own in which it would like the draws, and every draw an order in
which it would like the numbers; both come from a hash. Each number asks for its first draw, a draw
that several ask for keeps the one it likes best, and the others ask on. What comes out does not
depend on who asks first (D. Gale and L. S. Shapley, American Mathematical Monthly 69 (1962); L. E.
Dubins and D. A. Freedman, ibid. 88 (1981); both from memory), so that the order of the roster does
not matter, and one more student changes the draw of others only where two want the same one.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping
from hashlib import sha256

LETTERS = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Of a code: none that is taken for another (0 and O, 1 and I)."""
CODE_LETTERS = 5


def hashed(*words: object) -> int:
    """Return a number that depends on nothing but these words, on every machine."""
    return int.from_bytes(sha256("\0".join(map(str, words)).encode("utf-8", "replace")).digest())


def variant_code(draw: Mapping[str, str]) -> str:
    """Return the code of a variant: equal values have the same one, with any seed.

    Examples
    --------
    >>> variant_code({"wall": "10"}), variant_code({"wall": "11"})
    ('5MHDX', 'B7VQK')
    """
    rest, code = hashed(*(word for item in draw.items() for word in item)), ""
    for _ in range(CODE_LETTERS):
        rest, letter = divmod(rest, len(LETTERS))
        code += LETTERS[letter]
    return code


def own_order(seed: int, number: str, count: int) -> Iterator[int]:
    """Yield the draws from 0 to `count` in the order of a number, each once."""
    seen: set[int] = set()
    turn = 0
    while len(seen) < count:
        index = hashed("draw", seed, number, turn) % count
        turn += 1
        if index not in seen:
            seen.add(index)
            yield index


def matched(
    seed: int, numbers: Iterable[str], count: int,
    tried: Callable[[Mapping[str, int]], Mapping[int, Hashable | None]],
) -> Mapping[str, int] | None:
    """Return the draw of each number; None where there are not enough.

    Parameters
    ----------
    seed : int
    numbers : iterable of str
        All different.
    count : int
        How many draws there are.
    tried : callable
        Takes which number asks for which draw, returns of each such draw which part it is, None
        for one that does not count. Draws of the same part go to one number alone. It is asked for
        many draws at once, so that they can be tried side by side.
    """
    orders = {number: own_order(seed, number, count) for number in numbers}
    asked: dict[str, set[Hashable]] = {number: set() for number in orders}
    kept: dict[Hashable, tuple[str, int]] = {}
    free = list(orders)
    while free:
        wishes: dict[str, int] = {}
        for number in free:
            index = next(orders[number], None)
            if index is None:
                return None
            wishes[number] = index
        parts = tried(wishes)
        for number, index in wishes.items():
            part = parts[index]
            if part is None or part in asked[number]:
                continue
            asked[number].add(part)
            liked = [(number, index), *([kept[part]] if part in kept else [])]
            kept[part] = min(liked, key=lambda one: hashed("number", seed, one[0], part))
        placed = {number for number, _ in kept.values()}
        free = [number for number in orders if number not in placed]
    return dict(kept.values())
