"""The pages over a store, as a process that can be killed and started again."""

import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path
from urllib.request import urlopen

from scoring.store.open_store import open_store

COMMAND = str(Path(sys.executable).parent / "mount-risk")


class Pages:
    """A server over a store in a file, always on the same port."""

    def __init__(self, file: Path) -> None:
        self.url = f"sqlite:///{file}"
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            self.port = probe.getsockname()[1]
        self.address = f"http://127.0.0.1:{self.port}"
        self.process: subprocess.Popen | None = None

    def start(self) -> None:
        self.process = subprocess.Popen(
            [COMMAND, "dashboard", self.url, "--port", str(self.port), "--no-open"],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        end = time.monotonic() + 90
        while not self.answers():
            assert time.monotonic() < end, "the pages did not start"
            time.sleep(0.2)
        urlopen(f"{self.address}/walkdown", timeout=90).close()  # noqa: S310 - the first one imports

    def answers(self) -> bool:
        with socket.socket() as probe:
            probe.settimeout(0.2)
            return probe.connect_ex(("127.0.0.1", self.port)) == 0

    def kill(self) -> None:
        """Kill everything at once, with no chance to tidy up."""
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait(timeout=20)
        while self.answers():
            time.sleep(0.05)

    def store(self):
        return open_store(self.url)


def load(fleet: str, file: Path) -> None:
    command = [COMMAND, "load", fleet, "--store", f"sqlite:///{file}", "--by", "Lea Stone"]
    subprocess.run(command, check=True, capture_output=True)
