"""What failures made of each hazard, recomputed from coefficients and records."""

from math import exp, log, prod, sqrt

import numpy as np
import pandas as pd
import pytest
from fleets import Book

from scoring.assessment import FleetAssessor
from scoring.contract import CHECKS
from scoring.contract.events import MODE_WORDS, MODES
from scoring.explanation import explain
from scoring.files.read_fleet import read_fleet
from scoring.handbook import grip_effect, held_arm_effect
from scoring.handbook.held_arm_effect import HARMS
from scoring.handbook.multipliers import EFFECTS
from scoring.handbook.nameplate_columns import nameplate_columns
from scoring.intake import check_fleet

AS_OF = pd.Timestamp("2026-06-30")
WIDE = 1.6448536269514722


@pytest.fixture(scope="module")
def port():
    assessor = FleetAssessor(check_fleet(read_fleet("demo:grain_port").tables, AS_OF).fleet)
    return assessor.assess(AS_OF, learning=assessor.learn(AS_OF))


@pytest.fixture(scope="module")
def explained(port):
    return {unit: explain(port, unit) for unit in port.known.units["unit_id"][::20]}


def correction(one, mode):
    topic = f"chance of a {MODE_WORDS[mode]}"
    reported = [
        n for n in one.numbers if n.topic == topic and n.name.startswith("what the fleet's")
    ]
    return reported[0]


def coefficients(port, mode):
    learned = port.learning.used[mode]
    names = zip(learned.columns.part_of_column, learned.columns.names, strict=True)
    return dict(zip(names, learned.posterior.coefficients, strict=True))


SHOW_ONE = {"held_arm": held_arm_effect.CHECKS, "grip": grip_effect.CHECKS}
"""Checks that show one cause count as one finding."""

EFFECT, FINDING, NAMEPLATE, SITE, OWN, EARLY, OLD, LEVEL = range(8)


@pytest.mark.parametrize("mode", MODES)
def test_the_parts_multiply_to_the_whole(explained, mode):
    for one in explained.values():
        reported = correction(one, mode)
        assert reported.value == pytest.approx(prod(part.value for part in reported.inputs[:8]))
        assert 0 <= reported.inputs[9].value <= 1


@pytest.mark.parametrize("mode", HARMS)
def test_each_part_follows_from_its_coefficient(port, explained, mode):
    b = coefficients(port, mode)
    for unit_id, one in explained.items():
        place = int(np.flatnonzero(port.known.units["unit_id"] == unit_id)[0])
        effects, findings, plate, site, own, early, old, level = (
            part.value for part in correction(one, mode).inputs[:8]
        )
        rows = one.effects[one.effects["failure_mode"] == mode]
        before = zip(rows["effect"], rows["handbook"], strict=True)
        changed = [m ** b.get((EFFECT, effect), 0.0) for effect, m in before]
        assert effects == pytest.approx(prod(changed))
        assert findings == pytest.approx(finding_product(port, mode, place, b))
        assert plate == pytest.approx(nameplate_product(port, mode, place, b))
        assert site == pytest.approx(exp(b[SITE, one.ranked["site"]]))
        assert level == pytest.approx(exp(b[LEVEL, "level"]))
        tally = port.learning.tallies[mode]
        mine = tally.place == port.known.place[place]
        ratio = (tally.failures[mine].sum() + 4) / (tally.expected[mine].sum() + 4)
        assert own == pytest.approx(ratio ** b[OWN, "own failures"])
        part = "seal" if mode == "seal_leak" else "bearing"
        age = port.known.history[f"{part}_age_days"].iloc[place]
        assert early == 1 if age >= 91 else within(early, exp(b[EARLY, "early life"]))
        year_ahead, old_from = age + 365, round(7 * 365.25)
        assert old == 1 if year_ahead <= old_from else within(old, exp(b[OLD, "old age"]))


def within(value, whole):
    """Tell whether it lies between nothing and the whole, which it is where all time counts."""
    return min(1.0, whole) <= value * (1 + 1e-12) and value <= max(1.0, whole) * (1 + 1e-12)


def finding_product(port, mode, place, b):
    columns = port.learning.used[mode].columns
    found: dict[str, list[bool]] = {}
    for check in CHECKS:
        if check.symptom or check.name == "guard":
            continue
        name = next((n for n, checks in SHOW_ONE.items() if check.name in checks), check.name)
        bad = port.known.exceedance[check.name].iloc[place]
        found.setdefault(name, []).extend([] if np.isnan(bad) else [bad > 0])
    total = 1.0
    for j, (name, bad) in enumerate(found.items()):
        if bad:
            total *= exp(b[FINDING, name]) ** (any(bad) - columns.share[j])
    return total


USUAL = {
    "duty_h_per_day": 16,
    "peak_factor": 2,
    "output_speed_rpm": 60,
    "shaft_diameter_mm": 80,
}
SHARES = {
    "environment": {"dry_indoor": 0.25, "dusty": 0.35, "washdown": 0.1, "outdoor": 0.3},
    "seal_material": {"nbr": 0.6, "hnbr": 0.15, "fkm": 0.25},
    "bearing_kind": {"ball": 0.5, "roller": 0.5},
    "mounting": dict.fromkeys(
        ("keyed_bore", "tapered_bushing", "shrink_disc", "shrink_disc_support_bushings"), 0.25
    ),
}


def nameplate_product(port, mode, place, b):
    """Of all but load over rating by the unit's own record; of that from its own columns."""
    unit = port.known.units.iloc[place]
    load = nameplate_columns(mode, port.known.units).over_usual[place, 0]
    total = exp(load * b[NAMEPLATE, "load_over_rating"])
    for column, usual in USUAL.items():
        if not np.isnan(unit[column]):
            total *= (unit[column] / usual) ** b[NAMEPLATE, column]
    if not np.isnan(unit["ambient_c"]):
        total *= exp((unit["ambient_c"] - 20) / 10 * b[NAMEPLATE, "ambient_c"])
    for column, shares in SHARES.items():
        if pd.notna(unit[column]):
            for word, share in shares.items():
                learned = b.get((NAMEPLATE, f"{column}: {word}"), 0.0)
                total *= exp(learned * ((unit[column] == word) - share))
    return total


@pytest.mark.parametrize("mode", MODES)
def test_what_findings_add_is_the_product_of_those_that_are_listed(explained, mode):
    for one in explained.values():
        topic = f"chance of a {MODE_WORDS[mode]}"
        reported = next(
            n for n in one.numbers if n.topic == topic and n.name.startswith("what findings add")
        )
        assert reported.value == pytest.approx(prod(part.value for part in reported.inputs))
        assert reported.value == pytest.approx(correction(one, mode).inputs[1].value)


@pytest.mark.parametrize("mode", HARMS)
def test_what_was_learned_of_the_nameplate_is_the_product_of_what_is_listed(explained, mode):
    listed = 0
    for one in explained.values():
        topic = f"chance of a {MODE_WORDS[mode]}"
        by_name = {n.name: n for n in one.numbers if n.topic == topic}
        learned = by_name["what was learned of the nameplate"]
        assert learned.value == pytest.approx(prod(part.value for part in learned.inputs))
        assert learned.value == pytest.approx(correction(one, mode).inputs[NAMEPLATE].value)
        handbook = by_name["what the nameplate makes of the rate"]
        assert handbook.value == pytest.approx(prod(part.value for part in handbook.inputs))
        assert all(part.value == 1 for part in handbook.inputs if part.name.endswith(", blank"))
        listed += len(learned.inputs)
    assert listed > 5 * len(explained)


def test_of_a_slip_the_level_alone_is_learned(port, explained):
    (level,) = port.learning.used["joint_slip"].posterior.coefficients
    for one in explained.values():
        assert [part.value for part in correction(one, "joint_slip").inputs[:8]] == pytest.approx(
            [1, 1, 1, 1, 1, 1, 1, exp(level)]
        )
        rows = one.effects[one.effects["failure_mode"] == "joint_slip"]
        assert rows["multiplier"].tolist() == rows["handbook"].tolist()


@pytest.mark.parametrize("mode", HARMS)
def test_effects_after_learning_and_their_intervals(port, explained, mode):
    learned = port.learning.used[mode]
    names = list(learned.columns.names)
    by_name = {effect.name: effect for effect in EFFECTS}
    for one in explained.values():
        rows = one.effects[one.effects["failure_mode"] == mode]
        for row in rows[rows["basis"] == "seen"].to_dict("records"):
            k, base = names.index(row["effect"]), log(row["handbook"])
            c = learned.posterior.coefficients[k]
            spread = learned.posterior
            deviation = sqrt(max(spread.laplace[k, k], spread.sandwich[k, k]))
            assert c >= -1
            assert row["multiplier"] == pytest.approx(exp((1 + c) * base))
            if row["effect"] in by_name:  # an arm that is held is an average over its mis-set
                assert row["low"] == pytest.approx(max(1, exp((1 + c - WIDE * deviation) * base)))
                assert row["high"] == pytest.approx(exp((1 + c + WIDE * deviation) * base))
                unsure = by_name[row["effect"]].uncertainty
                assert row["handbook_high"] == pytest.approx(exp((1 + WIDE * unsure) * base))


def test_by_the_handbook_alone_every_effect_is_the_handbooks():
    fleet = check_fleet(read_fleet("demo:small_quarry").tables, AS_OF).fleet
    assessment = FleetAssessor(fleet).assess(AS_OF)
    one = explain(assessment, assessment.ranking["unit_id"].iloc[0])
    for used, handbook in (("multiplier", "handbook"), ("low", "handbook_low")):
        assert (one.effects[used] == one.effects[handbook]).all()
    assert not any(n.name.startswith(("what the fleet's", "what findings")) for n in one.numbers)


def quarry() -> Book:
    """Hang units by a careless and a careful crew; of each, one that nobody looked at."""
    book = Book()
    for n in range(60):
        crew, word = ("careless", "plugged") if n % 2 else ("careful", "open")
        book.unit(f"U{n}", installer=crew, installed_on="2022-01-01")
        if n > 1:
            book.look("2022-01-02", f"U{n}", breather=word, isolators_free="0" if n % 2 else "2")
    return book.look("2023-01-01", "U5", seal_weep="dripping")


def test_what_nobody_saw_is_by_the_crew_that_hung_it():
    assessment = FleetAssessor(quarry().fleet()).assess(pd.Timestamp("2024-12-31"))
    faulty, nobody = {}, {}
    for unit_id, crew in (("U1", "careless"), ("U0", "careful")):
        one = explain(assessment, unit_id)
        rows = one.effects.set_index(["failure_mode", "effect"]).loc["seal_leak"]
        rows = rows.loc[["breather", "held_arm"]]
        assert rows["against_usual"].to_numpy() == pytest.approx(1.0)
        held = 1 - 0.82 * 0.97 * (1 - 0.0111) * (1 - 0.0052)  # by rubber, or in three ways by metal
        assert rows["faulty_by_handbook"].to_numpy() == pytest.approx([0.09, held])
        reported = [n for n in one.numbers if n.name == "multipliers of what nobody saw"]
        assert reported[1].inputs[0].value == crew
        faulty[crew], nobody[crew] = rows["faulty"], reported[1]
    assert (faulty["careless"] > faulty["careful"]).all()
    assert nobody["careless"].value > nobody["careful"].value
    by_handbook = nobody["careful"].inputs[1].value
    assert nobody["careless"].inputs[1].value == pytest.approx(by_handbook)
    assert nobody["careless"].value > by_handbook


def test_a_seal_that_leaks_has_failed():
    assessment = FleetAssessor(quarry().fleet()).assess(pd.Timestamp("2024-12-31"))
    one = explain(assessment, "U5")
    chance = next(n for n in one.numbers if n.name == "chance of a seal leak")
    assert chance.value == one.ranked["p_seal_leak"] == 1
    assert chance.inputs[0].words == "leaks since 2023-01-01"
    assert not any("interval of that" in n.name for n in one.numbers if "seal" in n.topic)
