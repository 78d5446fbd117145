"""A Dask cluster ranks the pieces of a data set, also when it loses a worker meanwhile."""

import os
import signal
import subprocess
import sys
import threading
import time

import pandas as pd
import pytest
from click.testing import CliRunner
from distributed import Client
from kept_plants import SMALL_QUARRY
from pages_server import free_port
from small_data_sets import text_tables, write_data_set

from scoring.cli.main import cli
from scoring.pieces import piece_folder

PATIENCE_S = 120


@pytest.fixture
def cluster(tmp_path):
    """Start a scheduler and two workers, each a process of its own; give the address and pids."""
    port = free_port()
    address = f"tcp://127.0.0.1:{port}"
    scheduler = [
        *(sys.executable, "-m", "distributed.cli.dask_scheduler", "--host", "127.0.0.1"),
        *("--port", str(port), "--no-dashboard"),
    ]
    worker = [
        *(sys.executable, "-m", "distributed.cli.dask_worker", address, "--nthreads", "1"),
        *("--no-nanny", "--no-dashboard", "--local-directory", str(tmp_path / "of_workers")),
    ]
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    processes = [subprocess.Popen(scheduler, **quiet)]
    processes += [subprocess.Popen(worker, **quiet) for _ in range(2)]
    try:
        with Client(address, timeout=PATIENCE_S) as client:
            client.wait_for_workers(2, timeout=PATIENCE_S)
        yield address, [process.pid for process in processes[1:]]
    finally:
        for process in processes:
            process.kill()
            process.wait()


@pytest.mark.slow
@pytest.mark.parametrize("loses_a_worker", [False, True])
def test_the_ranking_of_one_process(cluster, tmp_path, monkeypatch, loses_a_worker):
    address, workers = cluster
    monkeypatch.setattr(piece_folder, "UNITS_OF_A_PIECE", 10)
    data_set = write_data_set(text_tables(SMALL_QUARRY), tmp_path / "set")
    scratch = tmp_path / "scratch"
    words = ["rank", str(data_set), "--as-of", "2026-06-30", "--handbook-only"]

    def lose_one():
        until = time.monotonic() + PATIENCE_S
        while not list(scratch.glob("*/ranked-*")) and time.monotonic() < until:
            time.sleep(0.01)
        os.kill(workers[0], signal.SIGKILL)

    loss = threading.Thread(target=lose_one, daemon=True)
    if loses_a_worker:
        loss.start()
    there = [*words, "--out", str(tmp_path / "there.parquet"), "--scratch", str(scratch)]
    done = CliRunner().invoke(cli, [*there, "--cluster", address])
    assert done.exit_code == 0, done.output
    if loses_a_worker:
        loss.join()
        with Client(address, timeout=PATIENCE_S) as client:
            assert len(client.scheduler_info()["workers"]) == 1
    here = [*words, "--out", str(tmp_path / "here.parquet"), "--workers", "1"]
    assert CliRunner().invoke(cli, here).exit_code == 0
    one, other = (pd.read_parquet(tmp_path / f"{where}.parquet") for where in ("there", "here"))
    pd.testing.assert_frame_equal(one, other, check_exact=True)
