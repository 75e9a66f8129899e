"""``python -m tests.proof``: the whole proof, or parts of it.

Examples: ``python -m tests.proof`` (everything, under an hour on two cores), ``python -m
tests.proof --scale 0.01`` (every proof at a hundredth), ``python -m tests.proof saving files``
(two proofs), ``python -m tests.proof files --case 1234`` (one case again, in this process).
"""

from __future__ import annotations

import argparse
import json
import os
import sys
import threading
import time
from math import inf
from pathlib import Path

from tests.proof import table
from tests.proof.proof import Proof, names, proof_named
from tests.proof.runner import SEED, run, run_case, work


def main(argv: list[str]) -> int:
    """Run proofs, print a line for each and return 1 where a fault was found."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    os.environ["LC_ALL"], os.environ["TZ"] = "C.UTF-8", "UTC"
    # More threads inside numpy than cores only make the workers wait for one another.
    for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
        os.environ.setdefault(name, "1")
    if argv[:1] == ["--work"]:
        name, first, step, last, seed, scale = argv[1:]
        work(name, int(first), int(step), int(last), int(seed), float(scale))
        return 0
    args = _parser().parse_args(argv)
    chosen = [proof_named(name) for name in args.proofs or names()]
    if args.case is not None:
        tally = run_case(chosen[0], args.case, args.seed, args.scale)
        print(json.dumps(tally.as_dict(), indent=1, ensure_ascii=False))
        return bool(tally.faults)
    keep = Path(args.results) if args.results else table.RESULTS if args.scale == 1.0 else None
    return _run_all(chosen, args, keep)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tests.proof", description=__doc__,
                                     formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("proofs", nargs="*", type=_name, metavar="PROOF",
                        help=f"which of {', '.join(names())}; all where none is named")
    parser.add_argument("--scale", type=float, default=1.0, help="share of the cases to try")
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--minutes", type=float, default=inf,
                        help="end after so long; the cases left are counted as not reached")
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--case", type=int, help="do this one case again and print its tally")
    parser.add_argument("--results", help="where to keep the counts as JSON (a whole run keeps "
                                          "them beside the table's script)")
    return parser


def _name(word: str) -> str:
    if word not in names():
        raise argparse.ArgumentTypeError(f"no proof '{word}', there are {', '.join(names())}")
    return word


def _run_all(chosen: list[Proof], args: argparse.Namespace, keep: Path | None) -> int:
    printing = threading.Lock()
    until = time.monotonic() + 60.0 * args.minutes
    faulty: list[str] = []

    def one(proof: Proof) -> None:
        began = time.monotonic()
        lack = proof.ready()
        if lack:
            with printing:
                print(f"{proof.name}: not run, {lack}", flush=True)
                faulty.append(proof.name)
            return
        tally = run(proof, proof.cases(args.scale), args.workers, args.seed, args.scale, until)
        result = table.result(proof, tally, args.seed, args.scale, time.monotonic() - began)
        with printing:
            print(table.line(result), *(f"    {text}" for text in tally.shown), sep="\n",
                  flush=True)
            if keep:
                table.keep(keep, result)
            if tally.faults:
                faulty.append(proof.name)

    beside = [threading.Thread(target=one, args=(proof,)) for proof in chosen if proof.alone]
    for thread in beside:
        thread.start()
    for proof in sorted(chosen, key=lambda proof: proof.minutes):
        if not proof.alone:
            one(proof)
    for thread in beside:
        thread.join()
    print(f"{len(chosen)} proofs, " + (f"faults in {', '.join(faulty)}" if faulty else "no fault"))
    if keep == table.RESULTS:
        table.write_readme()
    return 1 if faulty else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
