"""``sketcher inspect --process --pierce-limit``: advice for the machine at hand."""

from __future__ import annotations

import json
from typing import Any, get_args

import pytest

from sketcher import terminal
from sketcher.cli import main
from sketcher.inspect import stock
from sketcher.shipped import shipped

STRAP = str(shipped("demo_parts", "gate-strap.profile.json"))


def told(capsys: pytest.CaptureFixture[str], *options: str) -> Any:
    assert main(["inspect", STRAP, "--json", *options]) == 0
    return json.loads(capsys.readouterr().out)


def test_advice_is_for_the_process_that_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    both = {row["process"] for row in told(capsys)["cutting"]}
    assert both == {"laser", "plasma"}
    for process in sorted(both):
        found = told(capsys, "--process", process)
        assert {row["process"] for row in found["cutting"]} == {process}
        assert {name for row in found["remarks"] for name in row["processes"]} <= {process}


def test_the_machine_pierces_so_much_and_no_more(capsys: pytest.CaptureFixture[str]) -> None:
    """The strap is 5 mm thick."""
    def beyond(*limit: str) -> list[tuple[float, bool]]:
        return [(row["wanted"], row["most"]) for row in told(
            capsys, "--process", "plasma", *limit)["cutting"] if row["rule"] == "thickness"]

    assert beyond() == beyond("--pierce-limit", "5") == beyond("--pierce-limit", "1/4 in") == []
    assert beyond("--pierce-limit", "4") == [(4.0, True)]
    for wrong in ("0", "thick", "4 deg"):
        assert main(["inspect", STRAP, "--pierce-limit", wrong]) in {1, 2}
        assert "--pierce-limit" in capsys.readouterr().err


def test_the_options_know_the_processes_of_the_rules() -> None:
    assert terminal.PROCESSES == stock.PROCESSES == get_args(stock.Process)
