"""Learning from the failures of 2,000 units, against a Cox model of the same rows and columns.

Run with ``pytest tests/benchmarks/test_fit_speed.py --benchmark-only -s``; times, of one processor
on one thread, are printed and never asserted.
"""

import time

import pandas as pd
import pytest
from fits_of_the_same_rows import fit_cox, fit_ours, table_for_cox
from threadpoolctl import threadpool_limits

from demo_data.generate import generate_fleet
from demo_data.write import write_fleet
from scoring.assessment import FleetAssessor
from scoring.files.read_fleet import read_fleet
from scoring.handbook.held_arm_effect import HARMS as MODES
from scoring.intake import check_fleet

AS_OF = pd.Timestamp("2026-06-30")
SIZE = 2000
pytestmark = pytest.mark.benchmark(timer=time.process_time)


@pytest.fixture(scope="module", autouse=True)
def one_thread():
    """Both run on one thread, so that neither suffers from what else the machine does."""
    with threadpool_limits(limits=1):
        yield


@pytest.fixture(scope="module")
def assessor(tmp_path_factory):
    folder = tmp_path_factory.mktemp("fleet")
    write_fleet(generate_fleet(SIZE, 1), folder)
    return FleetAssessor(check_fleet(read_fleet(str(folder)).tables, AS_OF).fleet)


@pytest.fixture(scope="module")
def rows(assessor):
    return assessor.failure_rows(AS_OF)


@pytest.fixture(scope="module")
def reported():
    """Fastest time of each step in seconds, for the ratios at the end."""
    fastest = {}
    yield fastest
    if len(fastest) == 1 + 2 * len(MODES):
        prepare = fastest["rows"]
        fit, cox = ([fastest[what, mode] for mode in MODES] for what in ("fit", "cox"))
        lines = [
            f"{mode}: ours {ours:.2f} s, Cox model {theirs:.2f} s, {theirs / ours:.1f} times"
            for mode, ours, theirs in zip(MODES, fit, cox, strict=True)
        ]
        ratio, with_rows = sum(cox) / sum(fit), sum(cox) / (prepare + sum(fit))
        lines.append(f"both: {ratio:.1f} times; with {prepare:.2f} s for our rows {with_rows:.1f}")
        print("\n" + "\n".join(lines))  # noqa: T201 - a report


def test_lay_out_rows(benchmark, assessor, reported):
    rows = benchmark.pedantic(lambda: assessor.failure_rows(AS_OF), rounds=3, warmup_rounds=1)
    reported["rows"] = benchmark.stats.stats.min
    assert len(rows) > 10 * SIZE


@pytest.mark.parametrize("mode", MODES)
def test_fit_ours(benchmark, rows, mode, reported):
    found = benchmark.pedantic(lambda: fit_ours(rows, mode), rounds=5, warmup_rounds=1)
    reported["fit", mode] = benchmark.stats.stats.min
    assert found.converged


@pytest.mark.parametrize("mode", MODES)
def test_fit_a_cox_model(benchmark, rows, mode, reported):
    table = table_for_cox(rows, mode)
    fitted = benchmark.pedantic(lambda: fit_cox(table), rounds=2)
    reported["cox", mode] = benchmark.stats.stats.min
    assert fitted.params_.notna().all()
