"""Plans for 10,000 units: how near the best they are proven to be, and how long they take.

Run with ``-s`` to see the times, of one processor on a busy machine; they are printed, not
asserted.
"""

import time
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from demo_data.generate import generate_fleet
from demo_data.write import write_fleet
from scoring.assessment import FleetAssessor
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet
from scoring.planning.bundles import weigh_bundles
from scoring.planning.choose import choose
from scoring.planning.plan import make_plan
from scoring.planning.shutdowns import Shutdowns, one_shutdown, table_of_windows
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts

AS_OF = pd.Timestamp("2026-06-30")
SIZE, SEED = 10_000, 402
MOST_GAP = 0.005
SHARE = 0.05
pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def fleet(tmp_path_factory):
    folder = Path(tmp_path_factory.mktemp("fleet"))
    write_fleet(generate_fleet(SIZE, SEED), folder)
    assessor = FleetAssessor(check_fleet(read_fleet(str(folder)).tables, AS_OF).fleet)
    return assessor, assessor.assess(AS_OF)


@pytest.fixture(scope="module")
def bundles(fleet):
    assessor, assessment = fleet
    begun = time.process_time()
    success = learn_rework_success(assessor.timeline, AS_OF)
    weighed = weigh_bundles(assessor, assessment, success, SiteEfforts())
    took = time.process_time() - begun
    units = weighed["unit"].nunique()
    print(f"\n{len(weighed)} sets of work of {units} units weighed in {took:.1f} s")  # noqa: T201 - a report
    return weighed


def windows_of(bundles):
    """Return windows by name: one for all, four for all, and four at each of twelve sites."""
    hours = SHARE * bundles.groupby("unit")["hours"].max().sum()
    sites = sorted(bundles["site"].unique())

    def rows(open_for, share):
        return [
            {
                "window": f"{site or 'all'} {n}",
                "sites": site,
                "starts_on": AS_OF + pd.Timedelta(days=7 + 30 * n),
                "crew_hours": round(share * hours),
                "people": 3,
                "crane": "yes" if n % 2 else "no",
            }
            for site in open_for
            for n in range(4)
        ]

    return {
        "one for all sites": one_shutdown(AS_OF, hours),
        "four for all sites": Shutdowns(table_of_windows(rows([None], 0.25)), AS_OF),
        "four at each site": Shutdowns(table_of_windows(rows(sites, 0.25 / len(sites))), AS_OF),
    }


@pytest.mark.parametrize("which", ["one for all sites", "four for all sites", "four at each site"])
@pytest.mark.parametrize("holds_first", [True, False])
def test_a_plan_for_10000_units_is_proven_near_the_best(bundles, which, holds_first):
    windows = windows_of(bundles)[which]
    clock, begun = time.perf_counter(), time.process_time()
    choice = choose(bundles, windows, holds_first=holds_first)
    took = time.perf_counter() - clock, time.process_time() - begun
    print(  # noqa: T201 - a report
        f"{which}, holds {'first' if holds_first else 'not first'}: gap {choice.gap:.4%}, "
        f"{took[0]:.1f} s ({took[1]:.1f} s of processor)"
    )
    assert choice.gap <= MOST_GAP
    used = bundles[choice.window >= 0].groupby(choice.window[choice.window >= 0])["hours"].sum()
    assert (used <= windows.hours[used.index] + 1e-6).all()


def test_the_whole_plan_is_told(fleet, bundles):
    begun = time.process_time()
    made = make_plan(bundles, fleet[1].ranking, windows_of(bundles)["four for all sites"])
    print(f"plan with its words: {time.process_time() - begun:.1f} s of processor")  # noqa: T201 - a report
    assert len(made.jobs) > 100
    assert np.isfinite(made.choice.gap)
