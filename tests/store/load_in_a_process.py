"""A load in a process of its own, which can be killed; imports are made once for all of them."""

import multiprocessing
import os
import sys
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from types import ModuleType
from unittest.mock import patch

IMPORTED_ONCE = [
    "scoring.cli.load_command",
    "scoring.cli.main",
    "scoring.store.open_store",
    "psycopg",
]


def start_load(folder: object, url: str) -> BaseProcess:
    """Start a load; return its process when it is about to read."""
    starter = multiprocessing.get_context("forkserver")
    starter.set_forkserver_preload(IMPORTED_ONCE)
    here, there = starter.Pipe(duplex=False)
    process = starter.Process(target=_load, args=(str(folder), url, there))
    # Pages in Streamlit's harness leave their script as the main one, which a child would run.
    with patch.dict(sys.modules, {"__main__": ModuleType("__main__")}):
        process.start()
    there.close()
    with here:
        assert here.recv() == "ready"
    return process


def _load(folder: str, url: str, there: Connection) -> None:
    from scoring.cli.main import cli  # noqa: PLC0415 - in the process that loads

    sys.stdout = sys.stderr = open(os.devnull, "w")  # noqa: PTH123, SIM115 - until its end
    there.send("ready")
    there.close()
    cli(["load", folder, "--store", url, "--by", "Ann Bell"])
