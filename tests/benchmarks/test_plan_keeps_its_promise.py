"""Loss that a plan says it avoids, over what its work truly avoids on generated plants.

Seeds 7401 to 7420, fixed before any was looked at, twenty plants of 1,000 units; what a cure is
credited was chosen on others (7301 to 7310). Run with ``pytest -m long -s`` to see the table.
"""

import numpy as np
import pandas as pd
import pytest
from truth_of_work import AS_OF, grown_plant, truly_avoided

from demo_data.families import FAMILIES, PLAIN
from scoring.planning.bundles import candidate_sets, worth_weighing
from scoring.planning.choose import choose
from scoring.planning.sets_of_actions import useful_actions
from scoring.planning.shutdowns import one_shutdown
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts
from scoring.what_if.what_if import what_if

SHARES = (0.02, 0.05, 0.10)
LEAST, MOST = 0.85, 1.2
DRAWS = 60


def promises(size, seed, family=PLAIN):
    """Return what plans of one plant promise, and what they truly avoid, job by job."""
    plant, efforts = grown_plant(size, seed, family), SiteEfforts()
    success = learn_rework_success(plant.assessor.timeline, AS_OF)
    useful = useful_actions(plant.assessment)
    sets = candidate_sets(plant.assessor, plant.assessment, useful, success, efforts)
    weighed = what_if(plant.assessor, plant.assessment, sets, success, efforts)
    some = worth_weighing(weighed.assign(number=range(len(weighed))))
    whole = some.groupby("unit")["hours"].max().sum()
    jobs = []
    for share in SHARES:
        for holds_first in (True, False):
            choice = choose(some, one_shutdown(AS_OF, share * whole), holds_first=holds_first)
            done = some[choice.window >= 0]
            at = done["number"].to_numpy()
            true = truly_avoided(plant, sets.unit[at], sets.actions[at], 2, draws=DRAWS)
            about = {"seed": seed, "share": share, "holds first": holds_first}
            jobs.append(done[["actions", "loss_avoided"]].assign(true=true, **about))
    return pd.concat(jobs)


def ratios(jobs):
    """Return promised over true loss avoided, summed over plants, with its standard error."""
    sums = jobs.groupby(["holds first", "share", "seed"])[["loss_avoided", "true"]].sum()
    return sums.groupby(level=["holds first", "share"]).apply(_ratio)


def _ratio(plants):
    """Return a ratio of sums, and its standard error from plant to plant (textbook)."""
    promised, true = plants["loss_avoided"], plants["true"]
    ratio = promised.sum() / true.sum()
    off, size = promised - ratio * true, len(plants)
    error = np.sqrt((off**2).sum() * size / max(size - 1, 1)) / true.sum()
    return pd.Series({"ratio": ratio, "error": error, "promised": promised.sum()})


@pytest.fixture(scope="module", params=FAMILIES)
def family(request):
    return request.param


@pytest.fixture(scope="module")
def table(family):
    jobs = pd.concat([promises(1000, seed, family) for seed in range(7401, 7421)])
    clamped = jobs["actions"].str.contains("back_off_isolators")
    found = ratios(jobs)
    report = found.round(3).to_string()
    print(f"\n{family}: promised over truly avoided\n{report}")  # noqa: T201 - a report
    for name, some in (("clamped arms", clamped), ("all else", ~clamped)):
        print(f"\n{name}\n" + ratios(jobs[some]).round(3).to_string())  # noqa: T201
    return found


@pytest.mark.long
@pytest.mark.parametrize("share", SHARES)
@pytest.mark.parametrize("holds_first", [True, False])
def test_a_plan_keeps_its_promise(table, family, share, holds_first):
    found = table.loc[(holds_first, share)]
    if holds_first:  # told by few units, of which wrong looks are many; see DEVELOPERS.md
        assert found["ratio"] - 2 * found["error"] <= MOST
        return
    assert LEAST <= found["ratio"] <= MOST, family


def test_few_plants_show_no_gross_promise():
    """Three plants of 400 units, a tenth of the hours by loss alone.

    Plant to plant the ratio differs by a third, so that three tell it to within 0.2; two standard
    errors are left on either side.
    """
    found = ratios(pd.concat([promises(400, seed) for seed in (7501, 7502, 7503)]))
    assert LEAST - 0.4 <= found.loc[(False, 0.10), "ratio"] <= MOST + 0.4
