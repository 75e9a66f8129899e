"""Whose values a hand-in has; which key it was drawn from follows from how it is made."""

from __future__ import annotations

import pytest

from sketcher.marking.comparing import KeyReady
from sketcher.marking.others_values import number_with_values
from sketcher.marking.rubric import Rubric
from sketcher.part.value import Part
from sketcher.solve import solve_with
from tests.plates import bound
from tests.unit.marking.by_hand import handed


def sized(run: str, rise: str) -> Part:
    names = {binding.kind: name for name, binding in bound().bindings.items()}
    return solve_with(bound(), {}, {names["run"]: run, names["rise"]: rise}).part


@pytest.mark.parametrize(("drawn", "number"), [
    (("44", "23"), "05"),  # both values of another
    (("44", "20"), ""),  # one is wrong, which is no more than a slip
    (("44", "22"), ""),  # two are wrong, and nobody has both
    (("40", "20"), ""),  # right
])
def test_two_values_of_another_are_told_and_one_is_not(
    drawn: tuple[str, str], number: str
) -> None:
    keys = {"03": sized("40", "20"), "04": sized("44", "20"), "05": sized("44", "23")}
    pieces = KeyReady(sized(*drawn), Rubric()).explainer.key.pieces
    comparison = KeyReady(keys["03"], Rubric()).compare(handed(piece.curve for piece in pieces))
    assert number_with_values(comparison, keys) == number
