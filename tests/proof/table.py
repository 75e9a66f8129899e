"""The counts of the last whole run, and the table of them in the README.

``python -m tests.proof.table`` writes the table anew from `RESULTS`; a whole run does so itself.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from tests.proof.proof import Proof, names
from tests.proof.tally import NOT_REACHED, Tally

RESULTS = Path(__file__).with_name("results.json")
README = Path(__file__).resolve().parents[2] / "README.md"
BEGIN, END = "<!-- proof table -->", "<!-- end of proof table -->"


def result(proof: Proof, tally: Tally, seed: int, scale: float, seconds: float) -> dict[str, Any]:
    """Everything that one run of a proof found, as JSON; every kind of fault is named."""
    faults = {**dict.fromkeys(proof.faults, 0), **tally.faults}
    return {
        "proof": proof.name, "says": proof.says, "tried": tally.counts[proof.tried],
        "of": proof.tried, "faults": faults,
        "counts": {k: n for k, n in sorted(tally.counts.items()) if k != proof.tried},
        "most": {k: float(f"{v:.3g}") for k, v in sorted(tally.most.items())},
        "seed": seed, "scale": scale, "seconds": round(seconds), "shown": tally.shown,
    }


def line(result: dict[str, Any]) -> str:
    """The result in one line: ``saving: 500 kills: 0 lost, 0 left over (31 s)``."""
    faults = ", ".join(f"{n:,} {kind}" for kind, n in result["faults"].items())
    told = [f"{n:,} {what}" for what, n in result["counts"].items()]
    told += [f"most {what} {amount:g}" for what, amount in result["most"].items()]
    return (f"{result['proof']}: {result['tried']:,} {result['of']}: {faults} "
            f"({'; '.join([*told, str(result['seconds']) + ' s'])})")


def keep(path: Path, result: dict[str, Any]) -> None:
    """Put a result into the file of all of them."""
    kept = json.loads(path.read_text(encoding="utf-8")) if path.exists() else {}
    kept[result["proof"]] = result
    text = json.dumps(dict(sorted(kept.items())), indent=1, ensure_ascii=False)
    path.write_text(text + "\n", encoding="utf-8")


def table() -> str:
    """The table in Markdown: proofs in the order of their names, whole runs only."""
    kept = json.loads(RESULTS.read_text(encoding="utf-8")) if RESULTS.exists() else {}
    rows = ["| proof | tried | went wrong |", "| --- | --- | --- |"]
    for name in names():
        if name in kept:
            found = kept[name]
            wrong = ", ".join(f"{n:,} {kind}" for kind, n in found["faults"].items())
            short = ", cut short" if found["counts"].get(NOT_REACHED) else ""
            rows.append(f"| {found['says']} | {found['tried']:,} {found['of']}{short} | {wrong} |")
    return "\n".join(rows)


def with_table(text: str) -> str:
    """The README's text with the table between its marks as it must be."""
    before, _, rest = text.partition(BEGIN)
    _, _, after = rest.partition(END)
    return f"{before}{BEGIN}\n\n{table()}\n\n{END}{after}"


def write_readme() -> None:
    """Write the table into the README."""
    README.write_text(with_table(README.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    write_readme()
