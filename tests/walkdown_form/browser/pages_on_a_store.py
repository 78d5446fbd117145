"""The pages over a store, as a process that can be killed and started again."""

import signal
import time
from pathlib import Path
from urllib.request import urlopen

from click.testing import CliRunner
from pages_server import free_port, is_answered, start_pages, stop_pages

from scoring.cli.main import cli
from scoring.store.open_store import open_store


class Pages:
    """A server over a store in a file, always on the same port."""

    def __init__(self, file: Path) -> None:
        self.url = f"sqlite:///{file}"
        self.port = free_port()
        self.address = f"http://127.0.0.1:{self.port}"
        self.process = None

    def start(self) -> None:
        self.process = start_pages(self.url, port=self.port)
        urlopen(f"{self.address}/walkdown", timeout=300).close()  # noqa: S310 - the first one imports

    def kill(self) -> None:
        """Kill everything at once, with no chance to tidy up."""
        stop_pages(self.process, signal.SIGKILL)
        while is_answered(self.port):
            time.sleep(0.05)

    def store(self):
        return open_store(self.url)


def load(fleet: str, file: Path) -> None:
    load = ["load", fleet, "--store", f"sqlite:///{file}", "--by", "Lea Stone"]
    assert CliRunner().invoke(cli, load).exit_code == 0
