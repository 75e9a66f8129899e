"""The program from the command line: ``sketcher COMMAND``; the commands are in `commands/`.

Exit status: 0 sound or done, 1 findings, 2 input that cannot be read or used, 3 a fault of the
program itself, 130 stopped by the keyboard, 141 when the reader of the output went away.
"""

from __future__ import annotations

import argparse
import gc
import os
import sys
from collections.abc import Sequence
from typing import NoReturn

from sketcher.commands import COMMANDS
from sketcher.commands.opening import open_window
from sketcher.errors import ExportError, SketcherError
from sketcher.terminal import FAULT, FINDINGS, PIPE_GONE, STOPPED, UNUSABLE, say

PROGRAM = "sketcher"
ABOUT = """\
Draw the exact profile of a flat plate part from its dimensions.

A part's file (NAME.profile.json) holds a rough sketch of the half, the bindings that the paper
drawing states (lengths, offsets, angles, tangency), a symmetry axis and hole patterns. The program
solves the bindings, measures every joint, reflects the half, and writes what a cutter needs.

Without a command the window opens.
"""

def main(argv: list[str] | None = None) -> int:
    """Run one command and return its exit status; a person never sees a traceback.

    With SKETCHER_TRACEBACK=1 in the environment a fault of the program shows where it happened.
    """
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        args = _parser().parse_args(sys.argv[1:] if argv is None else argv)
        status: int = args.command(args)
        sys.stdout.flush()
    except BrokenPipeError:
        # What is still in the buffer must not raise again while the interpreter shuts down.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return PIPE_GONE
    except ExportError as error:
        return say(error, FINDINGS)
    except SketcherError as error:
        return say(error, UNUSABLE)
    except OSError as error:
        return say(f"{error.filename or 'output'}: {error.strerror or error}", UNUSABLE)
    except KeyboardInterrupt:
        return say("stopped", STOPPED)
    except Exception as error:  # the last door before a person
        if os.environ.get("SKETCHER_TRACEBACK"):
            raise
        return say(f"fault in the program: {type(error).__name__}: {error}", FAULT)
    if argv is None and "PySide6" not in sys.modules:
        # The process ends: without this Python looks through the whole heap for garbage, a tenth
        # of an inspection's time. Qt's objects go in the order that they always had.
        gc.freeze()
    return status


class _CommandParser(argparse.ArgumentParser):
    """Says what is wrong with a command in one line, and takes files after options as before."""

    in_turns = False
    """True while options and places are taken one after the other."""

    def parse_known_args(  # type: ignore[override]  # as it is called from within
        self, args: Sequence[str] | None = None, namespace: argparse.Namespace | None = None,
    ) -> tuple[argparse.Namespace, list[str]]:
        """Take the options out first, so that an option may stand between two places."""
        # the program itself leaves the rest to its commands; "--" says what is a place
        if self.in_turns or self.prog == PROGRAM or "--" in (args or ()):
            return super().parse_known_args(args, namespace)
        self.in_turns = True
        try:
            return self.parse_known_intermixed_args(args, namespace)
        finally:
            self.in_turns = False

    def error(self, message: str) -> NoReturn:
        self.exit(UNUSABLE, f"{self.prog}: {message}; see {self.prog} --help\n")


class _Version(argparse.Action):
    """Looks for the version when it is asked for: the library that knows it is slow to load."""

    def __call__(
        self, parser: argparse.ArgumentParser, namespace: argparse.Namespace,
        values: object, option_string: str | None = None,
    ) -> NoReturn:
        sys.stdout.write(f"{parser.prog} {_version()}\n")
        parser.exit()


def _parser() -> argparse.ArgumentParser:
    parser = _CommandParser(
        prog=PROGRAM, description=ABOUT, formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.set_defaults(command=open_window, file=None)
    parser.add_argument("--version", action=_Version, nargs=0, help="print the version and exit")
    group = parser.add_subparsers(title="commands", metavar="COMMAND")
    for command in sorted(COMMANDS.values(), key=lambda command: command.rank):
        what = command.summary
        each = group.add_parser(
            command.name, help=what,
            description=f"{what[:1].upper()}{what[1:]}.\n\n{command.lesson}",
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        each.set_defaults(command=command.run)
        command.options(each)
    return parser


def _version() -> str:
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("part-profile-sketcher")
    except PackageNotFoundError:
        return "(not installed)"
