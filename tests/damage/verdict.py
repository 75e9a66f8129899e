"""What is wrong with an import, and how much came back: counts and faults in words."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass
class Verdict:
    """How one spoiled drawing came back.

    Each share is (how many, of how many). `faults` are ``rule: what was seen``.
    """

    name: str
    code: int = -1
    seconds: float = 0.0
    freedoms: int = -1
    doubled: int = 0
    asked: tuple[str, ...] = ()
    area: float = 0.0
    """Of what is allowed: 1 is the limit."""
    move: float = 0.0
    """Measured by shapely, in the part's unit."""
    told: float = 0.0
    off: float = 0.0
    """How far the outline lies from what it began as."""
    radii: tuple[int, int] = (0, 0)
    axes: tuple[int, int] = (0, 0)
    patterns: tuple[int, int] = (0, 0)
    round: tuple[int, int] = (0, 0)
    chosen: tuple[int, int] = (0, 0)
    wrong: int = 0
    unjudged: int = 0
    faults: list[str] = field(default_factory=list)
    missed: list[str] = field(default_factory=list)
    """Dimensions of the paper that were not chosen: not a fault each."""

    def fault(self, rule: str, what: str) -> None:
        """Note a fault."""
        self.faults.append(f"{rule}: {what}")

    @property
    def rules(self) -> set[str]:
        """Names of the rules that were broken."""
        return {text.partition(":")[0] for text in self.faults}


HEAD = ("file", "exit", "s", "free", "doubled", "area", "move / told", "off", "radii", "axes",
        "patterns", "round", "chosen", "wrong", "unjudged", "faults")


def row(verdict: Verdict) -> list[str]:
    """One line of the table."""
    v = verdict

    def share(pair: tuple[int, int]) -> str:
        return f"{pair[0]}/{pair[1]}"

    return [v.name, f"{v.code}{' asks' if v.asked else ''}", f"{v.seconds:.1f}", str(v.freedoms),
            str(v.doubled), f"{v.area:.2g}", f"{v.move:.2g} / {v.told:.2g}", f"{v.off:.2g}",
            share(v.radii), share(v.axes), share(v.patterns), share(v.round), share(v.chosen),
            str(v.wrong), str(v.unjudged), ", ".join(sorted(v.rules)) or "-"]


def table(verdicts: list[Verdict]) -> str:
    """All lines, as Markdown."""
    lines = [HEAD, ["---"] * len(HEAD), *map(row, verdicts)]
    return "\n".join("| " + " | ".join(line) + " |" for line in lines)
