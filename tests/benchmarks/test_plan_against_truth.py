"""Plans for generated plants against what re-work truly avoids there.

Seeds 3001 to 3010, fixed before any was looked at; ten plants of 400 units. Others are used for
looking (401 to 430, with ``SEEDS_FOR_LOOKING=1``). Run with ``pytest -m long -s`` to see the table.

The aim is nine tenths of what the same planner avoids that knows the true effects, and the same
records. A planner that knows every unit's true state too avoids 1.4 to 1.6 times as much as the one
that knows the effects. With 2 % of the hours ten plants are little: a handful of units at each.
"""

import os

import numpy as np
import pandas as pd
import pytest
from truth_of_work import AS_OF, believed, grown_plant, true_faults, truly_avoided

from demo_data.fault_table import CHECK_NAMES as CAUSES
from scoring.contract.ranking import HOLD
from scoring.planning.bundles import candidate_sets, worth_weighing
from scoring.planning.choose import choose
from scoring.planning.sets_of_actions import Useful, sets_of_actions, useful_actions
from scoring.planning.shutdowns import one_shutdown
from scoring.rules.rule import Severity
from scoring.what_if.action_arrays import (
    ACTION_AT,
    ACTION_NAMES,
    CHECK_NAMES,
    CURES,
    FITS,
    all_that_is_done,
)
from scoring.what_if.candidates import candidates_of
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts
from scoring.what_if.what_if import what_if

LOOKING = os.environ.get("SEEDS_FOR_LOOKING", "")
SEEDS = range(401, 431) if LOOKING else range(3001, 3011)
SIZE = 400
SHARES = (0.02, 0.05, 0.10)
LEAST_SHARE = 0.9


class Work:
    """Sets of work at units of a plant, what they take, and what they truly avoid.

    Nothing is avoided at a unit that stays on hold.
    """

    def __init__(self, plant, candidates, weighed, seed):
        self.plant, self.candidates, self.weighed = plant, candidates, weighed
        self.runs = np.asarray(weighed["verdict_after"] != HOLD)
        truly = truly_avoided(plant, candidates.unit, candidates.actions, seed)
        self.truly = np.where(self.runs, truly, 0.0)

    def chosen(self, hours, avoids, *, holds_first):
        """Return what the planner truly avoids if it takes ``avoids`` for what work avoids."""
        counted = np.where(self.runs, np.maximum(avoids, 0.0), 0.0)
        sets = self.weighed.assign(loss_avoided=counted, number=range(len(avoids)))
        sets = worth_weighing(sets)
        choice = choose(sets, one_shutdown(AS_OF, hours), holds_first=holds_first)
        return float(self.truly[sets["number"].to_numpy()[choice.window >= 0]].sum())


def work_by_the_records(plant, success):
    assessor, assessment, efforts = plant.assessor, plant.assessment, SiteEfforts()
    sets = candidate_sets(assessor, assessment, useful_actions(assessment), success, efforts)
    return sets, what_if(assessor, assessment, sets, success, efforts)


def work_by_the_truth(plant):
    """Lay out sets of work that cure what is truly faulty, seen or not."""
    known = plant.assessment.known
    of_cause = CURES[:, [CHECK_NAMES.index(name) for name in CAUSES]]
    mounting = known.units["mounting"].cat.codes.to_numpy().astype(np.int64)
    actions = (true_faults(plant).astype(int) @ of_cause.T.astype(int)) > 0
    leaks = plant.run.state.dripping[plant.rows]
    actions[leaks, ACTION_AT["renew_seal"]] = True
    actions &= FITS[mounting]
    unit, action = np.nonzero(actions)
    alone = candidates_of(known, unit, np.arange(len(ACTION_NAMES)) == action[:, None])
    gain = truly_avoided(plant, unit, alone.actions, 1)
    hours = SiteEfforts().work(known.units["site"].iloc[unit], alone.actions)["hours"]
    merit = np.zeros(actions.shape)
    merit[unit, action] = gain / hours.to_numpy()
    sets = candidates_of(known, *sets_of_actions(Useful(actions, np.zeros_like(actions)), merit))
    site = known.units["site"].iloc[sets.unit].reset_index(drop=True)
    weighed = SiteEfforts().work(site, sets.actions)
    return sets, weighed.assign(unit=sets.unit, site=site, clears_hold=False, verdict_after="")


def first_come(plant, order, hours):
    """Go down a list, curing every finding of a unit as the finding says, while hours last."""
    known, findings = plant.assessment.known, plant.assessment.findings.open()
    found = findings[(findings["severity"] > Severity.WATCH) & (findings["action"] != "")]
    actions = np.zeros((len(known.units), len(ACTION_NAMES)), dtype=bool)
    actions[found["unit"], [ACTION_AT[name] for name in found["action"]]] = True
    mounting = known.units["mounting"].cat.codes.to_numpy().astype(np.int64)
    done = all_that_is_done(actions & FITS[mounting], mounting)
    hours_of = SiteEfforts().work(known.units["site"], done)["hours"].to_numpy()
    left, chosen = hours, []
    for unit in order:
        if done[unit].any() and hours_of[unit] <= left:
            left -= hours_of[unit]
            chosen.append(unit)
    chosen = np.array(chosen, dtype=np.int64)
    return float(truly_avoided(plant, chosen, done[chosen], 5).sum())


def of_one_plant(seed):
    plant = grown_plant(SIZE, seed)
    success = learn_rework_success(plant.assessor.timeline, AS_OF)
    sets, weighed = work_by_the_records(plant, success)
    ours = Work(plant, sets, weighed, seed=2)
    known_effects = truly_avoided(plant, sets.unit, sets.actions, 3, stands=believed)
    all_knowing = Work(plant, *work_by_the_truth(plant), seed=2)
    # what is chosen by a draw is judged by another one
    all_known = truly_avoided(plant, all_knowing.candidates.unit, all_knowing.candidates.actions, 4)
    findings = plant.assessment.findings.open()
    found = findings.loc[findings["severity"] > Severity.WATCH, "unit"]
    place = pd.Index(plant.assessment.known.units["unit_id"])
    by_rank = place.get_indexer(pd.Index(plant.assessment.ranking["unit_id"]))
    most = np.argsort(-np.bincount(found, minlength=len(place))[by_rank], kind="stable")
    whole = worth_weighing(weighed).groupby("unit")["hours"].max().sum()

    def at(share, holds_first):
        hours = share * whole
        sets = worth_weighing(weighed)
        return {
            "seed": seed,
            "share": share,
            "holds first": holds_first,
            "ours": ours.chosen(hours, weighed["loss_avoided"], holds_first=holds_first),
            "true effects": ours.chosen(hours, known_effects, holds_first=holds_first),
            "all known": all_knowing.chosen(hours, all_known, holds_first=False),
            "worst first": first_come(plant, by_rank, hours),
            "most findings": first_come(plant, by_rank[most], hours),
            "predicted": choose(sets, one_shutdown(AS_OF, hours), holds_first=holds_first).avoided,
        }

    return [at(share, holds_first) for share in SHARES for holds_first in (True, False)]


@pytest.fixture(scope="module")
def table():
    rows = pd.DataFrame([row for seed in SEEDS for row in of_one_plant(seed)])
    groups = ["holds first", "share"]
    each = rows.assign(one=rows["ours"] / rows["true effects"]).pivot_table(
        index="seed", columns=groups, values="one"
    )
    sums = rows.drop(columns="seed").groupby(groups).sum()
    reported = sums.div(sums["true effects"], axis=0).assign(
        of_all_known=sums["ours"] / sums["all known"],
        mean_of_plants=each.mean(),
        true_effects=sums["true effects"],
    )
    print("\nours over true effects, plant by plant\n" + each.round(2).to_string())  # noqa: T201 - a report
    print("\nloss truly avoided over that with true effects\n" + reported.round(3).to_string())  # noqa: T201
    return reported


@pytest.mark.long
@pytest.mark.parametrize("share", SHARES)
@pytest.mark.parametrize("holds_first", [True, False])
def test_our_plan_avoids_nearly_what_true_effects_would(table, share, holds_first):
    assert table.loc[(holds_first, share), "ours"] >= LEAST_SHARE


@pytest.mark.long
@pytest.mark.parametrize("share", SHARES)
@pytest.mark.parametrize("holds_first", [True, False])
def test_our_plan_beats_going_down_a_list(table, share, holds_first):
    """The lists need not lift holds first, which costs loss: the plan beats them all the same."""
    ours = table.loc[(holds_first, share)]
    assert ours["ours"] > ours["worst first"]
    assert ours["ours"] > ours["most findings"]
