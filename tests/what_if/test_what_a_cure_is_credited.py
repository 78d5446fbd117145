"""Loss avoided: what a cure is known to cure, nothing where a unit must not run, standing still."""

import numpy as np
import pandas as pd
import pytest
from generated_fleets import AS_OF
from questions import ask, asked_fleet, every_single_action, random_sets

from scoring.contract.rework_settings import REWORK_SETTINGS
from scoring.contract.walkdowns import CHECK_BY_NAME
from scoring.errors import FaultyRecordsError
from scoring.handbook import grip_effect, held_arm_effect
from scoring.intake import RawTable
from scoring.learning.covariates import PARTS
from scoring.learning.credit_of_cures import CREDIT_OF_LEARNED
from scoring.planning.bundles import weigh_bundles
from scoring.planning.plan import make_plan
from scoring.planning.shutdowns import one_shutdown
from scoring.risk.chance_of_failing import chance_of_failing
from scoring.what_if.action_arrays import CURES, NEW_BEARING, NEW_SEAL, OFF_SHAFT
from scoring.what_if.candidates import candidates_of
from scoring.what_if.known_after import known_after
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts, read_settings
from scoring.what_if.what_if import what_if
from scoring.what_if.what_is_credited import how_it_is_counted

SHOW_ONE_CAUSE = {"grip": grip_effect.CHECKS, "held_arm": held_arm_effect.CHECKS}
"""Checks whose findings count as one."""

ONLY_CURES = ~(OFF_SHAFT | NEW_BEARING | NEW_SEAL)


def after_each_cure():
    """Return units, single actions that only cure, and what would be known after them."""
    assessor, assessment = asked_fleet()
    unit, flags = every_single_action(assessment.known)
    here = flags @ ONLY_CURES
    success = learn_rework_success(assessor.timeline, AS_OF).chance
    sets = candidates_of(assessment.known, unit[here], flags[here])
    after = known_after(assessment.known, assessment.limits, sets, success)
    return sets, success, after


def test_of_what_was_learned_of_a_finding_a_share_is_credited_by_hand():
    _, assessment = asked_fleet()
    sets, success, after = after_each_cure()
    limits = assessment.limits.at(sets.unit)
    some = 0
    for mode, risk in assessment.yardstick.risks(after, limits, 365).items():
        learned = assessment.learning.used.get(mode)
        expected = np.zeros(len(sets))
        if learned is not None:
            columns = learned.columns
            first = np.flatnonzero(columns.part_of_column == PARTS.index("findings"))
            for column in first:
                name = columns.names[column]
                checks = SHOW_ONE_CAUSE.get(name, (name,))
                found, left = (np.full(len(sets), -1.0) for _ in range(2))
                for check in checks:  # of checks that show one cause the worst counts
                    bad = assessment.known.exceedance[check].to_numpy()[sets.unit]
                    bad = np.where(np.isnan(bad), -1.0, bad > 0)
                    cures = CURES[:, list(CHECK_BY_NAME).index(check)]
                    # not every cure cures every cause
                    stands = after.exceedance[check].to_numpy() > 0
                    chance = np.where(stands, 0.0, (sets.actions * success) @ cures)
                    found = np.maximum(found, bad)
                    left = np.maximum(left, np.where(bad < 0, -1.0, bad * (1 - chance)))
                weight = learned.posterior.coefficients[column]
                expected += (1 - CREDIT_OF_LEARNED) * weight * np.where(found > 0, found - left, 0)
        runs = risk.probability < 1  # a seal that drips has failed
        chance = chance_of_failing(risk.expected * np.exp(expected))
        assert risk.credited[runs] == pytest.approx(chance[runs], rel=1e-9)
        some += int((expected[runs] > 0.01).sum())
    assert some > 10


def test_by_the_handbook_alone_all_that_is_predicted_is_credited():
    assessor, _ = asked_fleet()
    assessment = assessor.assess(AS_OF)
    unit, flags = random_sets(assessment.known, seed=21, rows=300)
    sets = candidates_of(assessment.known, unit, flags)
    success = learn_rework_success(assessor.timeline, AS_OF)
    rows = what_if(assessor, assessment, sets, success, SiteEfforts())
    assert rows["loss_after_credited"].tolist() == rows["expected_loss_after"].tolist()


def test_no_more_is_credited_than_predicted_and_nothing_where_the_hold_stays():
    unit, flags = random_sets(asked_fleet()[1].known, seed=22, rows=3000)
    rows = ask(unit, flags)
    predicted = (rows["expected_loss"] - rows["expected_loss_after"]).clip(lower=0)
    assert (rows["loss_avoided"] <= predicted + 1e-9).all()
    stays = rows["verdict_after"] == "hold"
    assert stays.any()
    assert predicted[stays].max() > 0
    assert (rows.loc[stays, "loss_avoided"] == 0).all()
    credited = (rows["expected_loss"] - rows["loss_after_credited"]).clip(lower=0)
    assert rows.loc[~stays, "loss_avoided"].to_numpy() == pytest.approx(credited[~stays].to_numpy())


def table_of(*rows):
    headings = [column.name for column in REWORK_SETTINGS.columns]
    cells = [[row.get(name, "") for name in headings] for row in rows]
    raw = RawTable.from_rows("rework_settings", "ours.csv", headings, cells)
    return read_settings(raw, asked_fleet()[1].known.units["site"])


def cured_holds(efforts):
    unit, flags = random_sets(asked_fleet()[1].known, seed=23, rows=3000, share=0.6)
    return ask(unit, flags & ONLY_CURES, efforts=efforts)


def test_standing_still_counts_only_where_a_site_says_what_it_costs():
    site = str(asked_fleet()[1].known.units["site"].iloc[0])
    said = {"site": site, "action": "stand_on_hold", "standing_cost_per_day": "250"}
    usual, ours = cured_holds(SiteEfforts()), cured_holds(table_of(said))
    assert (usual["standing_loss"] == 0).all()
    changed = ["standing_loss", "loss_avoided"]
    pd.testing.assert_frame_equal(usual.drop(columns=changed), ours.drop(columns=changed))
    here = (ours["verdict"] == "hold") & (ours["site"] == site)
    lifted = here & ours["clears_hold"]
    assert lifted.any()
    assert (ours.loc[here, "standing_loss"] == 250 * 365).all()
    freed = 250 * 365 - ours.loc[lifted, "loss_after_credited"]
    assert ours.loc[lifted, "loss_avoided"].to_numpy() == pytest.approx(freed.to_numpy())
    rest = ~lifted
    assert ours.loc[rest, "loss_avoided"].tolist() == usual.loc[rest, "loss_avoided"].tolist()


def test_a_plan_says_what_standing_still_costs():
    assessor, assessment = asked_fleet()
    success = learn_rework_success(assessor.timeline, AS_OF)
    said = table_of({"action": "stand_on_hold", "standing_cost_per_day": "250"})
    bundles = weigh_bundles(assessor, assessment, success, said)
    made = make_plan(bundles, assessment.ranking, one_shutdown(AS_OF, 100))
    lifted = made.jobs["why"].str.startswith("lifts the hold")
    assert lifted.any()
    assert (made.jobs["why"].str.contains("that standing still costs") == lifted).all()


def test_standing_still_takes_no_work_and_work_has_no_cost_of_standing_still():
    with pytest.raises(FaultyRecordsError) as fault:
        table_of(
            {"action": "stand_on_hold", "hours": "3"},
            {"action": "fit_guard", "standing_cost_per_day": "250"},
        )
    assert "row 2, hours: '3.0' belongs to an action or set-up alone" in str(fault.value)
    assert "row 3, standing_cost_per_day: '250.0' belongs to stand_on_hold alone" in str(
        fault.value
    )


def test_the_words_say_why_loss_avoided_is_less_than_the_change():
    rows = cured_holds(SiteEfforts())
    for row in rows.drop_duplicates(["verdict", "verdict_after"]).to_dict("records"):
        assert ("must not run" in how_it_is_counted(row)) == (row["verdict_after"] == "hold")
