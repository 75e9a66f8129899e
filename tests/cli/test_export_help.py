"""The help of ``sketcher export``: every option stands with the output that it is about."""

from __future__ import annotations

import re

import pytest

from sketcher.cli import main
from sketcher.commands.deliverables import deliverables

GROUPS = {
    "the cut": ("cut", "process", "small-holes", "mark", "kerf", "lead", "tabs", "form"),
    "copies on a plate": ("copies", "plate", "between", "grain"),
    "the list of holes": ("holes", "zero", "along"),
    "the template": ("template", "mirrored"),
    "the estimate": ("estimate", "rates"),
    "the drawing": ("sheet", "standard", "paper", "scale"),
    "the inspection record": ("record", "measured"),
}
"""In the order of the work: from the cutter to the paper."""


def test_options_stand_with_their_output(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["export", "--help"])
    said = capsys.readouterr().out
    places = [said.index(f"\n{title}:\n") for title in GROUPS]
    assert places == sorted(places)
    for (title, options), place in zip(GROUPS.items(), places, strict=True):
        group = said[place:].split("\n\n")[0]
        listed = re.findall(r"^  --([a-z-]+)", group, re.MULTILINE)
        assert [name for name in listed if name in options] == list(options), title


def test_the_lesson_speaks_of_every_output(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["export", "--help"])
    lesson = capsys.readouterr().out.split("\npositional arguments")[0]
    for name in ("sheet", "record", *(output.option for output in deliverables())):
        assert re.search(rf"^--{name} ", lesson, re.MULTILINE), name
