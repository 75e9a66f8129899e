"""Runs a proof's cases in worker processes; a case that hangs or dies costs only itself."""

from __future__ import annotations

import json
import os
import select
import shutil
import subprocess
import sys
import tempfile
import time
import traceback
from math import inf
from pathlib import Path
from random import Random

from tests.proof.proof import Proof, proof_named
from tests.proof.tally import NOT_REACHED, Case, Tally

ROOT = Path(__file__).resolve().parents[2]
SEED = 20
"""Seed of every whole run."""
BATCH = 500
"""Cases that one worker does before a fresh one takes over."""


def run_case(proof: Proof, number: int, seed: int = SEED, scale: float = 1.0) -> Tally:
    """Do one case here and return what it counted."""
    tally = Tally()
    folder = Path(tempfile.mkdtemp(prefix=f"proof-{proof.name}-"))
    try:
        case = Case(number, Random(f"{proof.name} {seed} {number}"), folder, tally, scale)
        try:
            proof.case(case)
        except Exception as error:  # noqa: BLE001 - whatever escapes is a fault to tell
            at = traceback.extract_tb(error.__traceback__)[-1]
            tally.fault("exception", f"case {number}: {type(error).__name__}: {error} "
                                     f"({Path(at.filename).name}:{at.lineno})")
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    return tally


def work(name: str, first: int, step: int, last: int, seed: int, scale: float) -> None:
    """Do every `step`-th case and write one line for each: its number and its tally."""
    # What the program prints must not get between the lines.
    out = os.fdopen(os.dup(1), "w")
    os.dup2(2, 1)
    held = proof_named(name)
    for number in range(first, last, step):
        print(f"begin {number}", file=out, flush=True)
        tally = run_case(held, number, seed, scale)
        print(json.dumps([number, tally.as_dict()]), file=out, flush=True)


class Worker:
    """A process that does every `step`-th case, started again after one that hung or died."""

    def __init__(
        self, proof: Proof, cases: range, seed: int, scale: float, until: float
    ) -> None:
        self.proof, self.cases, self.seed, self.scale = proof, cases, seed, scale
        self.until = until
        self.tally = Tally()
        self.done = 0
        self.current: int | None = None
        self.waiting = b""
        self.start()

    def start(self) -> None:
        """Start a process for the next cases, where some are left."""
        left = self.cases[self.done:][:BATCH]
        if not left:
            self.process = None
            return
        words = [self.proof.name, left.start, left.step, left.stop, self.seed, self.scale]
        self.process = subprocess.Popen(
            [sys.executable, "-m", "tests.proof", "--work", *map(str, words)],
            cwd=ROOT, stdout=subprocess.PIPE, stdin=subprocess.DEVNULL,
            start_new_session=True,
        )
        self.current, self.waiting = None, b""
        self.heard = time.monotonic()

    def hear(self) -> None:
        """Take what the process wrote; notice when it ended."""
        data = os.read(self.process.stdout.fileno(), 1 << 16)
        self.heard = time.monotonic()
        if not data:
            status = self.process.wait()
            self.process.stdout.close()
            if self.current is not None or status:
                self.lose("exception", f"case {self.current}: the process ended with {status}")
            self.start()
            return
        *lines, self.waiting = (self.waiting + data).split(b"\n")
        for line in lines:
            if line.startswith(b"begin "):
                self.current = int(line.split()[1])
            else:
                self.tally.add(Tally.read(json.loads(line)[1]))
                self.done += 1
                self.current = None

    def lose(self, kind: str, how: str) -> None:
        """Count the case at hand as a fault and go on behind it."""
        self.tally.fault(kind, how)
        self.done += 1

    def look(self) -> None:
        """End a case that takes too long, or all of them when the time is over."""
        if time.monotonic() > self.until:
            self.tally.count(NOT_REACHED, len(self.cases) - self.done)
            self.end()
            return
        # A worker that has not begun a case is still importing.
        if time.monotonic() - self.heard > self.proof.limit:
            self.end()
            self.lose("hung", f"case {self.current}: ended after {self.proof.limit:g} s")
            self.start()

    def end(self) -> None:
        """End the process and what it started."""
        if self.process is not None:
            os.killpg(self.process.pid, 9)
            self.process.wait()
            self.process.stdout.close()
            self.process = None


def run(
    proof: Proof, cases: int, workers: int = 1, seed: int = SEED, scale: float = 1.0,
    until: float = inf,
) -> Tally:
    """Do the first cases of a proof, shared out among worker processes.

    At `until` on the monotonic clock all of them end; the cases left are counted as not reached.
    """
    everything = range(cases)
    team = [Worker(proof, everything[k::workers], seed, scale, until)
            for k in range(min(workers, cases))]
    try:
        while busy := [worker for worker in team if worker.process is not None]:
            for worker in busy:
                worker.look()
            outputs = {worker.process.stdout: worker for worker in busy if worker.process}
            for output in select.select(list(outputs), [], [], 1.0)[0]:
                outputs[output].hear()
    finally:
        for worker in team:
            worker.end()
    tally = Tally()
    for worker in team:
        tally.add(worker.tally)
    return tally
