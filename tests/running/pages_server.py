"""The pages on a real server, as a process of its own."""

import atexit
import os
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
from functools import cache
from pathlib import Path

COMMAND = str(Path(sys.executable).parent / "mount-risk")
PATIENCE_S = 300
"""How long a server or a page may take on a busy machine. [s]"""


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def is_answered(port: int) -> bool:
    """Tell whether somebody listens at a port of this machine."""
    with socket.socket() as probe:
        probe.settimeout(0.2)
        return probe.connect_ex(("127.0.0.1", port)) == 0


def start_pages(*given: str, port: int, **how: object) -> subprocess.Popen:
    """Start the pages, of a fleet or of none, and wait until somebody listens at their port.

    What they keep over a restart lies in a folder of these tests, which goes with them.
    """
    env = {k: v for k, v in how.pop("env", {}).items() if os.environ.get(k) != v}
    command = how.pop("command", (COMMAND, "dashboard"))
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    process = subprocess.Popen(
        [*command, *given, "--port", str(port), "--no-open"],
        start_new_session=True,
        preexec_fn=_heed_interrupts,  # noqa: PLW1509 - no thread of ours runs yet
        **{**quiet, **how, "env": {**os.environ, "XDG_CACHE_HOME": _kept_over_a_restart(), **env}},
    )
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end and process.poll() is None:
        if is_answered(port):
            return process
        time.sleep(0.2)
    if process.poll() is None:
        stop_pages(process)
    raise AssertionError(f"the pages ended, or did not start within {PATIENCE_S} s")


def _heed_interrupts() -> None:
    """Let Ctrl+C count: what a shell starts in the background inherits that it does not."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


@cache
def _kept_over_a_restart() -> str:
    folder = tempfile.mkdtemp(prefix="mount-risk-tests-")
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return folder


def stop_pages(process: subprocess.Popen, how: signal.Signals = signal.SIGTERM) -> None:
    """Stop the pages, and what they started."""
    os.killpg(process.pid, how)
    process.wait(timeout=PATIENCE_S)
