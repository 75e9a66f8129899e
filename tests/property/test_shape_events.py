"""Whatever a person does with a shape tool: no traceback, a part that its file holds, undo to the
first part.
"""

from __future__ import annotations

from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from sketcher.part.file_text import read, write
from tests.seldom import examples
from tests.shaped import Hands, wing

TOOLS = ("fillet", "chamfer", "corner", "join", "split", "cut back", "extend", "move", "copy",
         "rotate", "reflect", "rows", "bolt circle", "clean up")
NOTABLE = ((0, 0), (60, 0), (60, 30), (20, 30), (0, 40), (30, 0), (60, 15), (40, 40), (30, 10),
           (32, 10), (40, 15), (0, 15), (-60, 15), (38, 10), (0, 55), (200, 200))
PLACES = st.sampled_from(NOTABLE) | st.tuples(st.floats(-70, 70), st.floats(-5, 60))
EVENTS = st.one_of(
    st.tuples(st.just("press"), PLACES),
    st.tuples(st.just("move"), PLACES),
    st.tuples(st.just("type"), st.sampled_from(["3", "0", "-4", "2*5", "1/", "400", "0.5", "x"])),
    st.tuples(st.just("key"), st.sampled_from(
        ["enter", "escape", "backspace", "tab", "w", "a", "delete"])),
    st.tuples(st.just("use"), st.sampled_from(TOOLS)),
    st.tuples(st.just("select"), st.lists(
        st.sampled_from(["e1", "e2", "a1", "a2", "h1", "x1", "p1", "p3", "p6"]), max_size=3)),
    st.tuples(st.just("undo"), st.none()),
)


@examples(30, 60, suppress_health_check=[HealthCheck.too_slow])
@given(st.booleans(), st.sampled_from(TOOLS), st.lists(EVENTS, min_size=3, max_size=14))
def test_any_events(mirrored: bool, tool: str, events: list) -> None:
    hands = Hands(wing(mirrored))
    board, first = hands.board, hands.part
    board.use(tool)
    for name, given_ in events:
        if name == "press":
            hands.press(*given_)
        elif name == "move":
            hands.move(*given_)
        elif name == "type":
            if board.typing.type_text(given_):
                board.key("enter")
        elif name == "key":
            board.key(given_)
        elif name == "use":
            board.use(given_)
        elif name == "select":
            board.bench.select(given_)
        else:
            board.bench.undo()
        assert board.prompt
        assert board.preview is not None
        assert all(row.label for row in board.typing.rows())
        assert read(write(hands.part)) == hands.part
    while board.bench.history.can_undo:
        board.bench.undo()
    assert hands.part is first
