"""The truth beside the records: what no plant knows, for tests of a ranking."""

from dataclasses import dataclass

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from demo_data.arrays import Flags, Floats, Whole, Words
from demo_data.fault_arrays import LEVEL_BY_MOUNTING, PAIRS, SAME, SEVERITY
from demo_data.fault_table import APPLIES, CHECK_NAMES
from demo_data.hanging import drifted_chances, outcome_chances
from demo_data.plant_run import PlantRun
from demo_data.service_lives import months_between
from demo_data.true_hazard import BEARING, SEAL, SLIP, Hazard

HORIZON_DAYS = 365.0
HANGINGS = 16
"""Hangings drawn for each unit; the same for every action, so that actions compare. Ours."""

COLUMNS = {BEARING: "p_low_speed_bearing", SEAL: "p_seal_leak", SLIP: "p_joint_slip"}


@dataclass(frozen=True)
class Standing:
    """Units in service on the last day, and what bears on their next year.

    Attributes
    ----------
    rows : int array, shape (in_service,)
        The units.
    log_hazard : dict of float arrays
        Log hazard of a middle-aged part by mode, shape (stages, in_service). [log 1/a]
    age : dict of int arrays
        Age of the part by mode. [d]
    dripping, slipped : bool array, shape (in_service,)
        Whether a leak, or a slip that nobody wrote down, truly stands.
    hazard : Hazard
        Of the plant.
    """

    rows: Whole
    log_hazard: dict[int, Floats]
    age: dict[int, Whole]
    dripping: Flags
    slipped: Flags
    hazard: Hazard

    def chance(self, mode: int, shift: Floats | float = 0.0, *, new: bool = False) -> Floats:
        """Chance of a failure in the next year, the log hazard shifted; with a new part if asked.

        The shift may differ by stage of a part's life, shape (stages, in_service).
        A leak that stands is certain, unless the seal is new; so is a slip, unless hung anew.
        """
        age = np.zeros_like(self.age[mode]) if new else self.age[mode]
        log_hazard = self.log_hazard[mode] + shift
        likely = self.hazard.chance_within(mode, log_hazard, age, HORIZON_DAYS)
        if mode == SEAL and not new:
            likely = np.where(self.dripping, 1.0, likely)
        if mode == SLIP and not new:
            likely = np.where(self.slipped, 1.0, likely)
        return np.asarray(likely)


def standing_units(run: PlantRun) -> Standing:
    """Return the units in service on the last day of the records."""
    rows = np.flatnonzero(run.lives.in_service)
    last, state = run.lives.days - 1, run.state
    return Standing(
        rows=rows,
        log_hazard={mode: run.by_stage(mode, rows) for mode in COLUMNS},
        age={mode: np.maximum(last - state.part_new_on(mode)[rows], 0) for mode in COLUMNS},
        dripping=state.dripping[rows],
        slipped=state.slipped[rows],
        hazard=run.hazard,
    )


def _small(values: Floats) -> NDArray[np.float32]:
    return np.clip(values, 0.0, 1.0).astype(np.float32)


def unit_truth(standing: Standing, units: Words) -> pd.DataFrame:
    """Return the true chances of every unit in service, one row a unit."""
    chances = {name: _small(standing.chance(mode)) for mode, name in COLUMNS.items()}
    return pd.DataFrame({"unit_id": units[standing.rows], **chances})


def expected_log_factor(
    run: PlantRun, mode: int, check: int, rows: Whole, chances: Floats
) -> Floats:
    """Log of the factor of a check that nobody saw, in each stage of a part's life.

    Its partner stays as it is.

    Parameters
    ----------
    run : PlantRun
        The plant.
    mode, check : int
        Places of the failure mode and of the check.
    rows : int array, shape (rows,)
        The units.
    chances : float array, shape (rows, outcomes)
        Chance of each outcome.

    Returns
    -------
    float array, shape (stages, rows)
        Log of the expected multiplier.
    """
    does = run.hazard.faults_do(mode)
    if mode == SLIP:
        return np.stack([_expected_slips(run, check, rows, chances)] * len(does))
    log_factor = np.broadcast_to(run.hazard.fault[mode, check], chances.shape)
    for effect, pair in zip(run.hazard.effects.pair[mode], PAIRS, strict=True):
        partner = pair.other(check)
        if partner is not None:
            severity = SEVERITY[partner][run.state.outcome[rows, partner]]
            log_factor = log_factor + effect * (severity[:, None] * SEVERITY[check])
    return np.stack([np.log((chances * np.exp(d * log_factor)).sum(axis=1)) for d in does])


def _expected_slips(run: PlantRun, check: int, rows: Whole, chances: Floats) -> Floats:
    """Log of what faults and friction make of slips, over what a check that nobody saw may be."""
    total, outcome = np.zeros(len(rows)), run.state.outcome[rows]
    for k in range(chances.shape[1]):
        outcome[:, check] = k
        logs = run.hazard.of_state(SLIP, rows, outcome, run.state.friction[rows])
        total += chances[:, k] * np.exp(logs)
    return np.asarray(np.log(total))


def present_log_factor(run: PlantRun, mode: int, check: int, rows: Whole) -> Floats:
    """Log of the factor that a check has now, its partner's part included, by stage as above."""
    outcome, does = run.state.outcome[rows], run.hazard.faults_do(mode)
    if mode == SLIP:
        friction = run.state.friction[rows]
        return np.stack([run.hazard.of_state(SLIP, rows, outcome, friction)] * len(does))
    factor = run.hazard.fault[mode, check][outcome[:, check]]
    in_pair = any(pair.other(check) is not None for pair in PAIRS)
    pair = run.hazard.of_pair(mode, outcome) if in_pair else 0.0
    return np.stack([d * (factor + pair) for d in does])


def check_truth(run: PlantRun, standing: Standing, units: Words) -> pd.DataFrame:
    """Return what it is worth to see each check, one row a unit and check.

    Parameters
    ----------
    run : PlantRun
        The plant on its last day.
    standing : Standing
        Units in service.
    units : object array, shape (units,)
        Keys of the units.

    Returns
    -------
    pandas.DataFrame
        ``unit_id``, ``check``, ``seen``, ``is_fault``, and the chances with the check as it
        is and with its expectation over mounting, crew and time since hanging.
    """
    rows = standing.rows
    state, mounting = run.state, run.mounting[rows]
    at_hanging = outcome_chances(run.fault_chance)[state.crew[rows], mounting]
    months = months_between(state.hung_on[rows], np.full(len(rows), run.lives.days - 1))
    chances = drifted_chances(at_hanging, months, run.ways.loosens)
    seen_as_is = {mode: _small(standing.chance(mode)) for mode in COLUMNS}
    parts = []
    carried_by = {has: shows for shows, has in SAME}
    for k in range(len(CHECK_NAMES)):
        has = APPLIES[mounting, k]
        carrier = carried_by.get(k, k)
        part = {
            "unit": rows[has],
            "check": np.full(int(has.sum()), k),
            "seen": state.seen[rows[has], k],
            "is_fault": LEVEL_BY_MOUNTING[mounting[has], k, state.outcome[rows[has], k]] > 0,
        }
        for mode, column in COLUMNS.items():
            expected = expected_log_factor(run, mode, carrier, rows, chances[:, carrier])
            shift = expected - present_log_factor(run, mode, carrier, rows)
            part[f"{column}_seen"] = seen_as_is[mode][has]
            part[f"{column}_unseen"] = _small(standing.chance(mode, shift))[has]
        parts.append(part)
    table = {name: np.concatenate([part[name] for part in parts]) for name in parts[0]}
    order = np.lexsort((table["check"], table["unit"]))
    named = {
        "unit_id": units[table.pop("unit")],
        "check": np.array(CHECK_NAMES, dtype=object)[table.pop("check")],
        **table,
    }
    columns = ["unit_id", "check", "seen", "is_fault"]
    columns += [f"{c}_{how}" for how in ("seen", "unseen") for c in COLUMNS.values()]
    return pd.DataFrame(named)[columns].iloc[order].reset_index(drop=True)
