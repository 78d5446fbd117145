"""Wide plants: their nature differs from seed to seed, and their truth is still the truth."""

import copy
from dataclasses import fields, replace

import numpy as np
import pandas as pd
import pytest
from simple_reading import findings

from demo_data.__main__ import main
from demo_data.action_truth import action_truth
from demo_data.ageing import Ageing, Weibull, chance_within
from demo_data.chance import Chance
from demo_data.failures import draw_failures
from demo_data.families import FAMILIES, PLAIN, PLAIN_NATURE, WIDE, Nature
from demo_data.fleet import Fleet
from demo_data.generate import fleet_of, generate_fleet, grow_plant
from demo_data.habits_of_a_plant import Habits
from demo_data.known_actions import ACTION_AT, ACTION_NAMES, with_brought
from demo_data.physics_of_a_plant import PLAIN_PHYSICS, Physics, Power, Words, load_over_rating
from demo_data.repairs import Jobs, apply_actions
from demo_data.set_up import NewPlant
from demo_data.true_effects import MODES
from demo_data.true_hazard import BEARING, SEAL, SLIP
from demo_data.truth import COLUMNS, standing_units
from demo_data.wide_plants import POWERS, SLOPE, none_to_twice
from scoring.contract import UNITS

SEEDS = range(8601, 8607)
MANY = range(300)
END = "2026-06-30"


@pytest.fixture(scope="module")
def grown() -> list[NewPlant]:
    return [grow_plant(500, seed, family=WIDE) for seed in SEEDS]


@pytest.fixture(scope="module")
def fleets(grown: list[NewPlant]) -> list[Fleet]:
    return [fleet_of(plant, END) for plant in grown]


@pytest.fixture(scope="module")
def natures() -> list[Nature]:
    return [FAMILIES[WIDE](Chance(seed), Chance(seed)) for seed in MANY]


def powers_of(physics: Physics) -> dict[str, tuple[float, ...]]:
    return {term.of: term.does for term in physics.terms if isinstance(term, Power)}


def words_of(physics: Physics) -> dict[str, dict[str, tuple[float, ...]]]:
    return {term.of: term.does for term in physics.terms if isinstance(term, Words)}


def test_the_plain_family_is_drawn_unless_another_is_asked_for() -> None:
    assert all(FAMILIES[PLAIN](Chance(seed), Chance(seed)) is PLAIN_NATURE for seed in MANY)
    unasked, plain = generate_fleet(60, 5), generate_fleet(60, 5, family=PLAIN)
    wide = generate_fleet(60, 5, family=WIDE)
    for name in ("units", "walkdowns", "events", "rework", "accepted"):
        pd.testing.assert_frame_equal(getattr(unasked, name), getattr(plain, name))
    assert not unasked.walkdowns.equals(wide.walkdowns)
    pd.testing.assert_frame_equal(unasked.truth.units, plain.truth.units)


def test_a_wide_plant_comes_again_from_its_seed() -> None:
    one, two = (generate_fleet(60, 5, family=WIDE) for _ in range(2))
    pd.testing.assert_frame_equal(one.walkdowns, two.walkdowns)
    pd.testing.assert_frame_equal(one.truth.actions, two.truth.actions)


def test_powers_and_slopes_differ_by_seed_and_fill_their_ranges(natures: list[Nature]) -> None:
    for name, ranges in POWERS.items():
        drawn = np.array([powers_of(nature.physics)[name] for nature in natures])
        for mode, (low, high) in enumerate(ranges):
            span = 0.05 * (high - low)
            assert low <= drawn[:, mode].min() <= low + span, name
            assert high - span <= drawn[:, mode].max() <= high, name
    slopes = np.array([nature.physics.ageing.cumulative.slope for nature in natures])
    low, high = np.array(SLOPE).T
    assert (slopes.min(axis=0) >= low).all()
    assert (slopes.max(axis=0) <= high).all()
    assert (np.ptp(slopes, axis=0) > 0.9 * (high - low)).all()


def test_no_two_draws_of_one_plant_hang_together(natures: list[Nature]) -> None:
    drawn = [[power for does in powers_of(n.physics).values() for power in does] for n in natures]
    columns = np.array(drawn).T
    between = np.corrcoef(columns[np.ptp(columns, axis=1) > 0])
    assert np.abs(between - np.eye(len(between))).max() < 0.25


def test_words_now_and_then_say_the_opposite_of_what_is_expected(natures: list[Nature]) -> None:
    expected = words_of(PLAIN_PHYSICS)["environment"]
    for word in ("dry_indoor", "dusty", "washdown"):
        for mode in (BEARING, SEAL):
            drawn = np.array([words_of(n.physics)["environment"][word][mode] for n in natures])
            against = (np.sign(drawn) != np.sign(expected[word][mode])).mean()
            assert 0.1 < against < 0.5, word


def test_every_habit_differs_by_seed(natures: list[Nature]) -> None:
    for habit in fields(Habits):
        drawn = [np.ravel(getattr(nature.habits, habit.name))[0] for nature in natures]
        assert habit.name == "unevenly" or len(set(drawn)) > 1, habit.name


def test_the_nameplate_acts_by_its_powers(natures: list[Nature]) -> None:
    numbers = {
        "duty_h_per_day": [10.0, 20.0, 10.0],
        "output_speed_rpm": 50.0,
        "shaft_diameter_mm": 80.0,
        "peak_factor": 1.8,
        "ambient_c": 20.0,
        "output_torque_nm": 2000.0,
        "arm_length_mm": 500.0,
        "unit_mass_kg": 100.0,
        "bearing_span_mm": 160.0,
        "arm_offset_mm": 40.0,
        "bearing_dynamic_rating_n": [50_000.0, 50_000.0, 25_000.0],
    }
    words = dict.fromkeys(("environment", "mounting", "seal_material", "bearing_kind"))
    first = {column.name: column.allowed[0] for column in UNITS.columns if column.name in words}
    plate = pd.DataFrame({**numbers, **first})
    for nature in natures[:5]:
        powers = powers_of(nature.physics)
        made = np.exp(nature.physics.of_nameplate(plate))
        for mode in (BEARING, SEAL, SLIP):
            assert made[mode, 1] / made[mode, 0] == pytest.approx(2 ** powers["duty"][mode])
            assert made[mode, 2] / made[mode, 0] == pytest.approx(2 ** powers["load"][mode])
    assert (np.diff(load_over_rating(plate.assign(arm_length_mm=[400.0, 500.0, 600.0]))) != 0).all()


def test_the_truth_tells_powers_and_words_of_wide_plants_alone(
    grown: list[NewPlant], fleets: list[Fleet]
) -> None:
    physics, effects = grown[0].run.hazard.physics, fleets[0].truth.effects
    told = effects[effects["effect"] == "power: load"].set_index("failure_mode")["log_multiplier"]
    assert tuple(told[list(MODES)]) == powers_of(physics)["load"]
    assert (effects["effect"] == "environment: dusty").sum() == len(MODES)
    plain = generate_fleet(20, 1).truth.effects["effect"]
    assert not plain.str.startswith(("power:", "environment:")).any()


def test_effects_run_from_none_to_twice_the_mean() -> None:
    mean = np.array([0.5, 2.0, 0.0])
    source = np.random.default_rng(1)
    drawn = np.array([none_to_twice(0.2, 0.15)(source, mean) for _ in range(4000)])
    times = drawn[:, :2] / mean[:2]
    assert (times == 0).mean() == pytest.approx(0.2, abs=0.02)
    assert (times == 2).mean() == pytest.approx(0.15, abs=0.02)
    assert times.min() == 0
    assert times.max() == 2
    assert (drawn[:, 2] == 0).all()


@pytest.mark.parametrize("mode", [BEARING, SEAL])
def test_the_nameplate_carries_as_much_as_what_is_wrong(grown: list[NewPlant], mode: int) -> None:
    of_plates, of_faults = [], []
    for plant in grown:
        run = plant.run
        rows = np.flatnonzero(run.lives.in_service)
        of_plates.append(run.hazard.physics.of_nameplate(plant.plate)[mode][rows].var())
        of_faults.append(run.hazard.of_faults(mode, run.state.outcome[rows]).var())
    assert np.mean(of_plates) >= np.mean(of_faults)


def test_one_to_eight_in_a_hundred_must_not_run(fleets: list[Fleet]) -> None:
    held = [findings(fleet)[0].any(axis=1).mean() for fleet in fleets]
    assert min(held) >= 0.01
    assert max(held) <= 0.08


def test_chances_are_chances(fleets: list[Fleet]) -> None:
    for fleet in fleets:
        for table in (fleet.truth.units, fleet.truth.actions, fleet.truth.checks):
            chances = table.filter(like="p_")
            assert ((chances >= 0) & (chances <= 1)).all(axis=None)
        assert (fleet.truth.units["p_low_speed_bearing"] < 1).all()


def test_cells_are_the_contracts(fleets: list[Fleet]) -> None:
    units = pd.concat([fleet.units for fleet in fleets])
    for column in UNITS.columns:
        cells = units[column.name].dropna()
        assert not (column.required and len(cells) < len(units)), column.name
        if column.is_numeric:
            number = cells.astype(float)
            assert column.minimum is None or number.min() >= column.minimum, column.name
            assert column.maximum is None or number.max() <= column.maximum, column.name
            assert column.above is None or number.min() > column.above, column.name


def test_a_year_in_two_stages_is_twelve_months() -> None:
    ageing = Ageing(Weibull(np.array([1.0, 2.0])), (1.0, np.inf), np.ones((2, 2)))
    by_stage, age = np.log([[0.01, 0.4], [0.05, 0.2]]), np.array([100.0, 300.0])
    survives = np.ones(2)
    for month in range(12):
        now = age + month * 365 / 12
        survives *= 1 - chance_within(1, by_stage, now, 365 / 12, ageing)
    np.testing.assert_allclose(1 - survives, chance_within(1, by_stage, age, 365.0, ageing))
    young = chance_within(0, by_stage, np.zeros(2), 365.25, ageing)
    np.testing.assert_allclose(young, -np.expm1(-np.exp(by_stage[0])))


def test_a_year_drawn_month_by_month_fails_as_often_as_the_truth_says(
    grown: list[NewPlant],
) -> None:
    """Nothing is repaired meanwhile, as the truth says."""
    true, drawn, turns = np.zeros(3), np.zeros(3), 30
    for plant in grown[:3]:
        lives = replace(plant.run.lives, last=plant.run.lives.last + 1000)
        standing = standing_units(plant.run)
        every, rows = np.arange(len(lives.last)), standing.rows
        running = lives.in_service
        true += [turns * standing.chance(mode).sum() for mode in (BEARING, SEAL, SLIP)]
        for turn in range(turns):
            run = replace(plant.run, lives=lives, state=copy.deepcopy(plant.run.state))
            fails = np.zeros((3, len(every)), np.bool_)
            for step in range(60, 72):
                draws = run.chance.of("again", str(turn)).at(every, step)
                failed = draw_failures(run, draws, step, running)
                some = failed.mode <= SLIP
                fails[failed.mode[some], failed.rows[some]] = True
            fails[SEAL] |= run.state.dripping
            fails[SLIP] |= run.state.slipped
            drawn += fails[:, rows].sum(axis=1)
    assert 0.9 < drawn[BEARING] / true[BEARING] < 1.1
    assert 0.93 < drawn[SEAL] / true[SEAL] < 1.07
    assert 0.7 < drawn[SLIP] / true[SLIP] < 1.3


@pytest.mark.parametrize("action", ["clean_and_refit", "back_off_isolators"])
def test_work_drawn_again_and_again_brings_what_the_truth_says(
    grown: list[NewPlant], action: str
) -> None:
    """By crews that differ, on good days and bad."""
    turns = 40
    for plant in grown[:3]:
        run, standing = plant.run, standing_units(plant.run)
        keys = np.arange(len(run.site)).astype(object)
        truth = action_truth(run, standing, keys)
        truth = truth[truth["action"] == action].set_index("unit_id")
        rows = truth.index.to_numpy(np.int64)
        actions = np.zeros((len(rows), len(ACTION_NAMES)), np.bool_)
        actions[:, ACTION_AT[action]] = True
        actions = with_brought(actions, run.mounting[rows])
        drawn = {mode: np.zeros(len(rows)) for mode in (BEARING, SEAL)}
        day = np.full(len(rows), run.lives.days - 1)
        for turn in range(turns):
            draws = Chance(turn).at(rows)
            crew = run.crews.pick(draws, run.site[rows])
            state = copy.deepcopy(run.state)
            jobs = Jobs(rows, day, actions, crew, np.zeros(len(rows), np.bool_))
            faults = run.crew_chances(rows, crew, run.ways.times(draws.normal("bad day")))
            apply_actions(draws, state, jobs, run.hazard.effects.success, faults)
            for mode in drawn:
                by_stage = run.hazard.by_stage(
                    mode, rows, state.outcome[rows], state.crew[rows], state.friction[rows]
                )
                age = day - state.part_new_on(mode)[rows]
                drawn[mode] += run.hazard.chance_within(mode, by_stage, age, 365.0) / turns
        stands = run.state.dripping[rows]
        for mode, mean in drawn.items():
            true = truth[COLUMNS[mode]].to_numpy(np.float64)
            assert mean[~stands].sum() == pytest.approx(true[~stands].sum(), rel=0.08)


def test_a_family_that_is_not_there_is_refused() -> None:
    with pytest.raises(ValueError, match="family is 'odd'; it must be one of plain, wide"):
        generate_fleet(units=20, seed=1, family="odd")


def test_the_command_writes_a_wide_plant(tmp_path) -> None:
    words = [str(tmp_path), "--units", "30", "--seed", "4", "--family", WIDE]
    assert main(words) == 0
    units = pd.read_csv(tmp_path / "units.csv")
    expected = generate_fleet(30, 4, family=WIDE).units
    assert list(units["unit_id"]) == list(expected["unit_id"])
