"""What a fleet's own failures say of each effect, on records that can be counted by hand."""

from math import exp, sqrt

import numpy as np
import pandas as pd
import pytest
from fleets import Book

from scoring.assessment import FleetAssessor
from scoring.explanation.what_the_fleet_says import what_the_fleet_says
from scoring.files.read_fleet import read_fleet
from scoring.handbook.held_arm_effect import HARMS
from scoring.handbook.multipliers import EFFECTS
from scoring.intake import check_fleet
from scoring.learning.covariates import PARTS

AS_OF = pd.Timestamp("2024-12-31")
YEAR = 365.25
CAN_ONLY_WORSEN = ("effects", "findings", "own failures")
NEVER_HELPS = ("load_over_rating", "duty_h_per_day", "peak_factor")
# what the state told multiplies bearing failures and leaks by, and what a power of 1 more does
NAMEPLATE = {
    "load_over_rating": (2**0.7, 2**0.2, 2),
    "duty_h_per_day": (2**0.8, 2**0.7, 2),
    "peak_factor": (2**0.5, 2**0.2, 2),
    "output_speed_rpm": (2**0.4, 2**0.4, 2),
    "shaft_diameter_mm": (2**0.2, 2**0.2, 2),
    "ambient_c": (exp(0.1), exp(0.2), exp(1)),
    "environment: dry_indoor": (0.8, 0.7, exp(1)),
    "environment: dusty": (1.15, 1.25, exp(1)),
    "environment: washdown": (1.2, 1.4, exp(1)),
    "seal_material: nbr": (1, 1.15, exp(1)),
    "seal_material: fkm": (1, 0.85, exp(1)),
}
WIDE = 1.6448536269514722


def said(book: Book, as_of: pd.Timestamp = AS_OF):
    assessor = FleetAssessor(book.fleet())
    rows = assessor.failure_rows(as_of)
    return what_the_fleet_says(assessor, rows, assessor.learn(as_of, rows))


def row(table: pd.DataFrame, mode: str, part: str, effect: str) -> pd.Series:
    found = table[
        (table["failure_mode"] == mode) & (table["part"] == part) & (table["effect"] == effect)
    ]
    assert len(found) == 1
    return found.iloc[0]


def two_breathers() -> Book:
    """Hang two units: one whose breather is plugged and whose seal leaks, and a sound one."""
    book = Book().unit("U1", installer="crew A").unit("U2", site="port", installer="crew B")
    book.look("2024-01-11", "U1", breather="plugged").look("2024-01-11", "U2", breather="open")
    return book.failed("2024-06-01", "seal_leak", "U1")


@pytest.mark.parametrize("part", ["effects", "findings"])
def test_an_effect_rests_on_the_failures_and_the_time_in_which_its_finding_stood(part):
    found = row(said(two_breathers()).table, "seal_leak", part, "breather")
    assert found["failures"] == 1
    assert found["unit_years"] == pytest.approx(355 / YEAR)
    assert row(said(two_breathers()).table, "low_speed_bearing", part, "breather")["failures"] == 0


def test_what_stood_before_it_was_seen_or_after_it_was_cured_does_not_count():
    book = two_breathers().reworked("2024-03-01", "open_breather", "U1")
    found = row(said(book).table, "seal_leak", "findings", "breather")
    assert found["failures"] == 0
    assert found["unit_years"] == pytest.approx(50 / YEAR)


def test_a_surface_counts_for_the_mounting_that_has_it():
    book = Book().unit("U1", mounting="keyed_bore").unit("U2", mounting="tapered_bushing")
    book.look("2024-01-11", "U1", bore_condition="oil_film")
    table = said(book.failed("2024-06-01", "seal_leak", "U1")).table
    keyed = row(table, "seal_leak", "effects", "bore_surface_of_a_keyed_bore")
    assert keyed["failures"] == 1
    assert keyed["unit_years"] == pytest.approx(355 / YEAR)
    # on a friction joint it lowers the grip, of which it is one cause among several
    both = row(table, "seal_leak", "findings", "grip")
    assert both["label"] == "grip of the joint"
    assert (both["failures"], both["unit_years"]) == (1, pytest.approx(355 / YEAR))


def test_checks_that_show_one_cause_are_one_finding():
    book = Book().unit("U1", mounting="tapered_bushing").unit("U2", mounting="tapered_bushing")
    book.look("2024-01-11", "U1", bore_condition="oil_film", torque_passes="1", seated="short")
    table = said(book.failed("2024-06-01", "low_speed_bearing", "U1")).table
    found = row(table, "low_speed_bearing", "findings", "grip")
    # findings stand, though the bearing was renewed off the shaft and the unit hung anew
    assert (found["failures"], found["unit_years"]) == (1, pytest.approx(355 / YEAR))
    alone = table[(table["part"] == "findings") & (table["failure_mode"] == "low_speed_bearing")]
    assert not {"bore_condition", "torque_passes", "seated"} & set(alone["effect"])


def test_a_symptom_counts_once_it_was_seen_worse_than_what_nobody_looked_at():
    book = Book().unit("U1").unit("U2").unit("U3")
    book.look("2024-02-01", "U1", vibration_mm_s="7.5").look("2024-02-01", "U2", vibration_mm_s="1")
    table = said(book.failed("2024-12-01", "low_speed_bearing")).table
    found = row(table, "low_speed_bearing", "effects", "vibration")
    assert found["failures"] == 1
    # it counts from 30 days after it was seen to the day on which the bearing was renewed
    days = (pd.Timestamp("2024-12-01") - pd.Timestamp("2024-03-02")).days
    assert found["unit_years"] == pytest.approx(days / YEAR)


def test_an_arm_is_held_where_rubber_or_metal_holds_it():
    book = Book().unit("U1").unit("U2").unit("U3")
    book.look("2024-01-11", "U1", isolators_free="0").look("2024-01-11", "U2", metal_contact="yes")
    book.look("2024-01-11", "U3", isolators_free="2", metal_contact="no")
    book.failed("2024-12-31", "low_speed_bearing", "U2")
    held = row(said(book).table, "low_speed_bearing", "effects", "held_arm")
    assert held["failures"] == 1
    assert held["unit_years"] == pytest.approx(2 * 355 / YEAR)


def test_sites_level_and_crews_each_count_every_failure_once():
    what = said(two_breathers())
    sites = what.table[(what.table["part"] == "site") & (what.table["failure_mode"] == "seal_leak")]
    assert dict(zip(sites["effect"], sites["failures"], strict=True)) == {"port": 0, "quarry": 1}
    assert row(what.table, "seal_leak", "level", "level")["failures"] == 1
    crews = what.crews[what.crews["failure_mode"] == "seal_leak"].set_index("installer")
    assert crews["failures"].to_dict() == {"crew A": 1, "crew B": 0}
    assert crews["unit_years"].tolist() == pytest.approx([365 / YEAR] * 2)


def test_own_failures_count_from_the_first_one_on():
    own = row(said(two_breathers()).table, "seal_leak", "own failures", "own failures")
    after = (AS_OF - pd.Timestamp("2024-06-01")).days
    assert own["unit_years"] == pytest.approx(after / YEAR)
    assert own["failures"] == 0


def test_early_life_counts_the_first_quarter_of_a_part():
    early = row(said(two_breathers()).table, "seal_leak", "early life", "early life")
    # both seals are new once, and that of the first unit once more when it is renewed
    assert early["unit_years"] == pytest.approx(3 * 91 / YEAR)
    assert early["failures"] == 0


def test_without_failures_kept_the_fleet_says_what_the_handbook_says():
    book = Book().unit("U1").look("2024-01-11", "U1", breather="plugged")
    what = said(book)
    assert not what.failures_are_kept
    assert what.crews.empty
    for end in ("", "_low", "_high"):
        np.testing.assert_allclose(what.table[f"fleet{end}"], what.table[f"handbook{end}"])
    assert (what.table[["failures", "unit_years", "share_learned"]] == 0).all(axis=None)
    effects = what.table[what.table["part"] == "effects"]
    of_parts = {e.name for e in EFFECTS if max(max(e.multipliers[m]) for m in HARMS) > 1}
    assert set(effects["effect"]) == of_parts | {"held_arm", "grip"}
    assert what.as_one_table is what.table


def test_failures_where_a_state_stood_raise_what_the_fleet_says_of_it_and_none_lower_it():
    harmless, harmful = (Book() for _ in range(2))
    for book, failed in ((harmless, range(20, 30)), (harmful, range(10))):
        for n in range(40):
            book.unit(f"U{n}", installed_on="2022-01-01")
            book.look("2022-01-02", f"U{n}", breather="plugged" if n < 20 else "open")
        for n in failed:
            book.failed(f"2023-0{n % 9 + 1}-15", "seal_leak", f"U{n}")
    less, more = (
        row(said(book).table, "seal_leak", "effects", "breather") for book in (harmless, harmful)
    )
    assert 1 <= less["fleet_low"] <= less["fleet"] < less["handbook"] < more["fleet"]
    assert less["failures"] == 0
    assert more["failures"] == 10
    assert less["ratio_high"] < 1 < more["ratio"]
    assert less["accounts_for"] < more["accounts_for"]


@pytest.fixture(scope="module")
def port():
    fleet = check_fleet(read_fleet("demo:grain_port").tables, pd.Timestamp("2026-06-30")).fleet
    assessor = FleetAssessor(fleet)
    as_of = pd.Timestamp("2026-06-30")
    rows = assessor.failure_rows(as_of)
    return what_the_fleet_says(assessor, rows, assessor.learn(as_of, rows)), rows, assessor


def test_no_worse_state_multiplies_by_less_than_1_after_learning(port):
    table = port[0].table
    worse = table[table["part"].isin(CAN_ONLY_WORSEN)]
    for column in ("handbook_low", "handbook", "fleet_low", "fleet", "with_finding"):
        assert (worse[column] >= 1).all()
    for name in ("handbook", "fleet"):
        assert (table[f"{name}_low"] <= table[name]).all()
        assert (table[name] <= table[f"{name}_high"]).all()
    assert table["share_learned"].between(0, 1).all()
    assert set(table["part"]) == set(PARTS)
    assert table[["label", "origin"]].map(len).min(axis=None) > 0


@pytest.mark.parametrize("mode", HARMS)  # slips of this plant are not written down
def test_multipliers_and_intervals_follow_from_coefficients(port, mode):
    what, _, _ = port
    learned = what.learning.basis[mode].learned
    posterior = learned.posterior
    table = what.table[what.table["failure_mode"] == mode]
    worst = {effect.name: effect.multipliers[mode][-1] for effect in EFFECTS}
    step = {"own failures": 2.0}  # everything else that is no effect is told for a step of e
    for place, reported in enumerate(table.to_dict("records")):
        assert reported["effect"] == learned.columns.names[place]
        c = posterior.coefficients[place]
        deviation = sqrt(max(posterior.laplace[place, place], posterior.sandwich[place, place]))
        first = (
            worst.get(reported["effect"], reported["handbook"])
            if reported["part"] == "effects"
            else 1.0
        )
        m = first if reported["part"] == "effects" else step.get(reported["part"], exp(1))
        if reported["part"] == "nameplate":
            *both, m = NAMEPLATE.get(reported["effect"], (1.0, 1.0, exp(1)))
            first = both[HARMS.index(mode)]
        assert reported["handbook"] == pytest.approx(first)
        assert reported["fleet"] == pytest.approx(first * m**c)
        assert reported["fleet_high"] == pytest.approx(first * m ** (c + WIDE * deviation))
        least = 1 if reported["part"] in CAN_ONLY_WORSEN else 0
        if reported["effect"] in NEVER_HELPS:
            least = 1
        low = first * m ** (c - WIDE * deviation)
        assert reported["fleet_low"] == pytest.approx(max(least, low))


@pytest.mark.parametrize("mode", HARMS)  # slips of this plant are not written down
def test_expected_failures_are_those_of_everything_else_that_was_learned(port, mode):
    what, rows, _ = port
    learned, of_mode = what.learning.basis[mode].learned, rows.modes[mode]
    table = what.table[what.table["failure_mode"] == mode].reset_index(drop=True)
    state = of_mode.state_by(rows.place, -1)
    design = learned.columns.design(state)
    coefficients = learned.posterior.coefficients
    north = state.sites.index("North quay")
    for part, name, here in (
        ("site", "North quay", state.site == north),
        ("level", "level", np.ones(len(rows), dtype=bool)),
    ):
        place = learned.columns.names.index(name)
        others = np.delete(np.arange(len(coefficients)), place)
        expected = (of_mode.expected * np.exp(design[:, others] @ coefficients[others]))[here].sum()
        reported = row(table, mode, part, name)
        assert reported["expected"] == pytest.approx(expected)
        assert reported["ratio"] == pytest.approx(reported["failures"] / expected)
    level = row(table, mode, "level", "level")
    assert level["failures"] == learned.posterior.events
    assert level["unit_years"] == pytest.approx(of_mode.years.sum())


@pytest.mark.parametrize("mode", HARMS)  # slips of this plant are not written down
def test_crews_are_compared_with_what_was_learned_of_everything_else(port, mode):
    what, rows, assessor = port
    learned, of_mode = what.learning.basis[mode].learned, rows.modes[mode]
    crews = what.crews[what.crews["failure_mode"] == mode].set_index("installer")
    design = learned.columns.design(of_mode.state_by(rows.place, -1))
    expected = of_mode.expected * np.exp(design @ learned.posterior.coefficients)
    of_crew = (assessor.fleet.units["installer"] == "crew B").to_numpy()[rows.place]
    reported = crews.loc["crew B"]
    assert reported["expected"] == pytest.approx(expected[of_crew].sum())
    assert reported["drawn"] == pytest.approx(
        (reported["failures"] + 25) / (reported["expected"] + 25)
    )
    assert crews["expected"].sum() == pytest.approx(expected.sum())
    assert crews["failures"].sum() == learned.posterior.events
    assert crews["units"].sum() == len(np.unique(rows.place))
    assert np.isnan(crews.loc["not recorded", "carelessness"])
    care = assessor.prevalence(what.learning.as_of).carelessness.set_index("installer")
    assert reported["carelessness"] == care.loc["crew B", "ratio"]
    assert (crews["ratio_low"] <= crews["ratio"]).all()
    assert crews["drawn"].is_monotonic_decreasing


def test_one_table_holds_crews_too(port):
    what = port[0]
    table = what.as_one_table
    assert len(table) == len(what.table) + len(what.crews)
    crews = table[table["part"] == "installer"]
    assert (crews["fleet"].to_numpy() == what.crews["drawn"].to_numpy()).all()
