"""Processes of the program whose libraries are loaded already.

A Python of its own loads libraries for half a second, or two, before it does what a test asks. Here
one process loads them once, and each process that is asked for is a copy of it (fork): with memory,
streams, environment and folder of its own, to be killed like any other. What a test says about the
start itself, or about streams and environment, starts a Python of its own; so does everything where
there is no fork.
"""

from __future__ import annotations

import atexit
import contextlib
import gc
import json
import os
import pkgutil
import runpy
import select
import signal
import socket
import subprocess
import sys
import tempfile
import traceback
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import IO, Any

ROOT = Path(__file__).resolve().parents[1]
CAN_FORK = hasattr(os, "fork") and sys.platform.startswith("linux")
LIBRARIES = ("numpy", "scipy.linalg", "scipy.sparse.linalg", "scipy.optimize", "shapely", "ezdxf")
MESSAGE = 1 << 17
"""Bytes that a request has at most: words, folder and environment."""


class ForkedProcess:
    """What the tests need of `subprocess.Popen`, for ``python -m MODULE WORDS``."""

    def __init__(
        self, words: list[str], stdin: Any = None, stdout: Any = None, stderr: Any = None,
        env: dict[str, str] | None = None, **_: Any,
    ) -> None:
        module = words[words.index("-m") + 1:]
        self.stdin: IO[bytes] | None = None
        self.stdout: IO[bytes] | None = None
        self.returncode: int | None = None
        theirs, given = [], []
        for number, stream in enumerate((stdin, stdout, stderr)):
            if stream == subprocess.PIPE:
                read, write = os.pipe()
                if number == 0:
                    self.stdin = os.fdopen(write, "wb")
                else:
                    assert number == 1, "only stdin and stdout can be pipes"
                    self.stdout = os.fdopen(read, "rb")
                theirs.append(write if number else read)
                given.append(theirs[-1])
            else:
                theirs.append(number if stream is None else stream.fileno())
        self._status, status = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
        with status:
            request = {"words": module, "folder": os.getcwd(), "env": dict(env or os.environ)}
            socket.send_fds(_server(), [json.dumps(request).encode()], [*theirs, status.fileno()])
        for each in given:
            os.close(each)
        self.pid = int(self._status.recv(32))

    def kill(self) -> None:
        """End it at once."""
        if self.returncode is None:
            with contextlib.suppress(ProcessLookupError):
                os.kill(self.pid, signal.SIGKILL)

    def wait(self, timeout: float | None = None) -> int:
        """Return its exit status, negative for a signal, when it has ended."""
        if self.returncode is None:
            self._status.settimeout(timeout)
            try:
                self.returncode = int(self._status.recv(32))
            except TimeoutError as error:
                raise subprocess.TimeoutExpired("sketcher", timeout or 0.0) from error
            self._status.close()
        return self.returncode


def run(words: list[str], timeout: float = 120.0) -> subprocess.CompletedProcess[str]:
    """Run ``python -m WORDS`` to its end and keep what it says."""
    if not CAN_FORK:
        return subprocess.run([sys.executable, "-m", *words], capture_output=True, text=True,
                              timeout=timeout, check=False)
    with tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err, \
            open(os.devnull, "rb") as nothing:
        process = ForkedProcess(["-m", *words], nothing, out, err)
        try:
            status = process.wait(timeout)
        except subprocess.TimeoutExpired:
            process.kill()
            raise
        said = []
        for stream in (out, err):
            stream.seek(0)
            said.append(stream.read().decode().replace("\r\n", "\n"))
    return subprocess.CompletedProcess(words, status, *said)


@cache
def _server() -> socket.socket:
    """Return the channel to the process that forks; it ends with this one."""
    ours, theirs = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
    with theirs:
        process = subprocess.Popen(
            [sys.executable, "-c", f"from tests.forked import serve; serve({theirs.fileno()})"],
            cwd=ROOT, pass_fds=[theirs.fileno()], stdin=subprocess.DEVNULL)

    def end() -> None:
        ours.close()
        process.wait()

    atexit.register(end)
    return ours


def serve(channel_fd: int) -> None:
    """Load the libraries, then fork whenever that is asked for."""
    for name in LIBRARIES:
        import_module(name)
    import sketcher

    for found in pkgutil.walk_packages(sketcher.__path__, "sketcher."):
        # what has Qt loads it when it needs it
        if not found.name.startswith("sketcher.desk") and found.name not in (
                "sketcher.__main__", "sketcher.exchange.pdf"):
            import_module(found.name)
    gc.freeze()
    channel = socket.socket(fileno=channel_fd)
    woken, wake = socket.socketpair()
    for each in (woken, wake):
        each.setblocking(False)
    signal.set_wakeup_fd(wake.fileno(), warn_on_full_buffer=False)
    signal.signal(signal.SIGCHLD, lambda *_: None)
    waiting: dict[int, socket.socket] = {}
    while True:
        ready, _, _ = select.select([channel, woken], [], [])
        if woken in ready:
            with contextlib.suppress(BlockingIOError):
                woken.recv(4096)
        for pid in list(waiting):
            ended, status = os.waitpid(pid, os.WNOHANG)
            if ended:
                with contextlib.suppress(OSError), waiting.pop(pid) as listener:
                    listener.send(str(os.waitstatus_to_exitcode(status)).encode())
        if channel not in ready:
            continue
        data, fds, _, _ = socket.recv_fds(channel, MESSAGE, 4)
        if not data:
            return
        listener = socket.socket(fileno=fds[3])
        pid = os.fork()
        if not pid:
            for each in (channel, woken, wake, listener, *waiting.values()):
                each.close()
            _become(json.loads(data), fds[:3])
        for each in fds[:3]:
            os.close(each)
        waiting[pid] = listener
        listener.send(str(pid).encode())


def _become(request: dict[str, Any], streams: list[int]) -> None:
    """Be the process that was asked for, and never return."""
    status = 1
    try:
        signal.set_wakeup_fd(-1)
        signal.signal(signal.SIGCHLD, signal.SIG_DFL)
        for number, stream in enumerate(streams):
            os.dup2(stream, number)
            os.close(stream)
        os.environ.clear()
        os.environ.update(request["env"])
        os.chdir(request["folder"])
        sys.stdin = open(0, encoding="utf-8", closefd=False)  # noqa: SIM115
        sys.stdout = open(1, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
        sys.stderr = open(2, "w", 1, encoding="utf-8", errors="backslashreplace",  # noqa: SIM115
                          closefd=False)
        module, *sys.argv[1:] = request["words"]
        runpy.run_module(module, run_name="__main__", alter_sys=True)
        status = 0
    except SystemExit as leaving:
        status = leaving.code if isinstance(leaving.code, int) else int(leaving.code is not None)
        if isinstance(leaving.code, str):
            print(leaving.code, file=sys.stderr)
    except BaseException:  # noqa: BLE001 - as Python does
        traceback.print_exc()
    finally:
        atexit._run_exitfuncs()
        for stream in (sys.stdout, sys.stderr):
            with contextlib.suppress(OSError, ValueError):
                stream.flush()
        os._exit(status)
