"""Generate an invented fleet from a seed."""

import numpy as np

from demo_data.acceptances import accepted_table
from demo_data.action_truth import action_truth
from demo_data.families import FAMILIES, PLAIN
from demo_data.fleet import Counts, Fleet, Truth
from demo_data.physics_of_a_plant import PLAIN_PHYSICS
from demo_data.scenario import GENERAL, Scenario, usual_sites
from demo_data.service_lives import YEARS
from demo_data.set_up import NewPlant, set_up
from demo_data.simulate import simulate
from demo_data.truth import check_truth, standing_units, unit_truth
from demo_data.unit_records import unit_table
from demo_data.visit_records import event_table, rework_table, walkdown_table
from scoring.contract.events import FAILURE_MODES

FEWEST_UNITS = 20


def first_day(end: str) -> np.datetime64:
    """Return the first of the five years' days that end on a day.

    Examples
    --------
    >>> str(first_day("2026-06-30"))
    '2021-07-01'
    """
    after = np.datetime64(end, "D") + 1
    month = after.astype("datetime64[M]")
    first_of_month = np.datetime64(month - 12 * YEARS, "D")
    return np.datetime64(first_of_month + (after - month.astype("datetime64[D]")), "D")


def generate_fleet(  # noqa: PLR0913, PLR0917 - what a plant is asked for by
    units: int,
    seed: int,
    sites: int | None = None,
    end: str = "2026-06-30",
    scenario: Scenario = GENERAL,
    family: str = PLAIN,
    effects_seed: int | None = None,
) -> Fleet:
    """Generate an invented fleet with five years of records.

    Parameters
    ----------
    units : int
        Number of units, at least 20.
    seed : int
        Everything follows from it; the same seed gives the same fleet.
    sites : int, optional
        Number of sites, at least 1; by default 1 to 12 by the number of units.
    end : str
        Last day of the records, ISO 8601.
    scenario : Scenario
        Names, surroundings and costs.
    family : str
        ``"plain"``, or ``"wide"``: physics and habits of the plant are drawn too.
    effects_seed : int, optional
        What faults, nameplate and age do follows from it, so that plants of several seeds may have
        that in common; by default it follows from ``seed`` like all else.

    Returns
    -------
    Fleet
        Records and truth.

    Raises
    ------
    ValueError
        If there are too few units or sites, there is no such family, or ``end`` is no date.

    Examples
    --------
    >>> fleet = generate_fleet(units=20, seed=1)
    >>> len(fleet.units), fleet.walkdowns["inspected_on"].max() < "2026-07-01"
    (20, True)
    """
    return fleet_of(grow_plant(units, seed, sites, end, scenario, family, effects_seed), end)


def grow_plant(  # noqa: PLR0913, PLR0917 - as above
    units: int,
    seed: int,
    sites: int | None = None,
    end: str = "2026-06-30",
    scenario: Scenario = GENERAL,
    family: str = PLAIN,
    effects_seed: int | None = None,
) -> NewPlant:
    """Run a plant to the last day of its records; for arguments see ``generate_fleet``."""
    sites = usual_sites(units) if sites is None else sites
    if units < FEWEST_UNITS:
        raise ValueError(f"units is {units}; a fleet needs at least {FEWEST_UNITS}")
    if not 1 <= sites <= units:
        raise ValueError(f"sites is {sites}; it must be from 1 to the number of units")
    if family not in FAMILIES:
        raise ValueError(f"family is {family!r}; it must be one of {', '.join(FAMILIES)}")
    days = int((np.datetime64(end, "D") - first_day(end)).astype(np.int64)) + 1
    plant = set_up(units, seed, sites, days, scenario, family, effects_seed)
    simulate(plant.run)
    return plant


def fleet_of(plant: NewPlant, end: str) -> Fleet:
    """Return the records of a plant that has run, and the truth about it.

    Parameters
    ----------
    plant : NewPlant
        As ``grow_plant`` leaves it.
    end : str
        Last day of the records, ISO 8601.

    Returns
    -------
    Fleet
        Records and truth.
    """
    run, first = plant.run, first_day(end)
    table = unit_table(run.chance.of("units"), plant, first)
    keys = table["unit_id"].to_numpy(dtype=object)
    events, event_keys = event_table(run.book, plant.plate, keys, run.crews, first)
    standing = standing_units(run)
    physics = run.hazard.physics
    effects = run.hazard.effects.table(
        list(plant.scenario.sites(len(run.crews.of_site))),
        [f"{name}, {drives}" for name, drives in plant.scenario.lines],
        list(run.crews.names),
        {} if physics is PLAIN_PHYSICS else physics.named(),
    )
    failures = dict(zip(FAILURE_MODES, run.book.failures.tolist(), strict=True))
    walkdowns = walkdown_table(run.chance.of("walkdowns"), run.book, keys, run.crews, first)
    accepted = accepted_table(run.chance.of("accepted"), run.state, run.lives, keys, first)
    return Fleet(
        units=table,
        walkdowns=walkdowns,
        events=events,
        rework=rework_table(run.book, event_keys, keys, run.crews, first),
        accepted=accepted,
        truth=Truth(
            units=unit_truth(standing, keys),
            actions=action_truth(run, standing, keys),
            checks=check_truth(run, standing, keys),
            effects=effects,
        ),
        counts=Counts(run.book.looks, run.book.wrong, run.book.unit_years, failures),
    )
