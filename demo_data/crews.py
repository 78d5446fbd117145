"""Crews that hang and repair, and inspectors who look: each with habits of its own."""

from dataclasses import dataclass

import numpy as np

from demo_data.arrays import Floats, Whole, Words
from demo_data.chance import Chance, Draws
from demo_data.fault_table import CHECK_NAMES
from demo_data.habits_of_a_plant import PLAIN_HABITS, Habits

CREWS_PER_SITE = 3
INSPECTORS_PER_SITE = 2


@dataclass(frozen=True)
class Crews:
    """Everybody who touches or looks at a unit.

    Attributes
    ----------
    names : object array, shape (crews,)
        Names of the crews; the last one works at every site.
    of_site : int array, shape (sites, 3)
        The crews that work at a site.
    carelessness : float array, shape (crews, checks)
        Factor on how often a crew leaves each fault; 1 is usual.
    haste : float array, shape (crews,)
        Log of its factor over all checks; a hasty crew's work is looked at less, too.
    inspectors : object array, shape (inspectors,)
        Names of the inspectors.
    attention : float array, shape (inspectors,)
        Shift of the log odds that an inspector sees a check; 0 is usual.
    """

    names: Words
    of_site: Whole
    carelessness: Floats
    haste: Floats
    inspectors: Words
    attention: Floats

    def pick(self, draws: Draws, site: Whole) -> Whole:
        """Draw a crew for each of some jobs by its site; the first crew does most."""
        slot = np.searchsorted((0.5, 0.8), draws.share("crew"), side="right")
        return self.of_site[site, slot]

    def pick_inspector(self, draws: Draws, site: Whole) -> Whole:
        """Draw an inspector for each of some visits by its site."""
        slot = (draws.share("inspector") < 0.35).astype(np.int64)
        return site * INSPECTORS_PER_SITE + slot


def draw_crews(chance: Chance, sites: int, ways: Habits = PLAIN_HABITS) -> Crews:
    """Draw the crews of a plant.

    Parameters
    ----------
    chance : Chance
        Source of chance.
    sites : int
        Number of sites.
    ways : Habits
        How far crews and sites lie from each other, and how usual faults are.

    Returns
    -------
    Crews
        Two crews of its own for every site and one that works at all of them.
    """
    own = sites * (CREWS_PER_SITE - 1)
    letters = [f"crew {chr(65 + i)}" if i < 26 else f"crew {i + 1}" for i in range(own)]
    if sites > 1:
        letters[-1] = "night crew"
    names = np.array([*letters, "shutdown crew" if sites > 1 else "night crew"], dtype=object)
    of_site = np.column_stack(
        [np.arange(sites) * 2, np.arange(sites) * 2 + 1, np.full(sites, own)],
    ).astype(np.int64)
    draws = chance.at(np.arange(len(names)))
    general = ways.careless_crews * draws.normal("carelessness")[:, None]
    of_sites = ways.careless_sites * chance.of("site").at(np.arange(sites)).normal("carelessness")
    # who works at all sites has none of their habits
    general += np.append(np.repeat(of_sites, CREWS_PER_SITE - 1), 0.0)[:, None]
    quirk = ways.quirks * draws.of("carelessness").normals(CHECK_NAMES)
    inspectors = sites * INSPECTORS_PER_SITE
    return Crews(
        names=names,
        of_site=of_site,
        carelessness=ways.faults * np.exp(general + quirk),
        haste=general[:, 0],
        inspectors=np.array([f"inspector {i + 1}" for i in range(inspectors)], dtype=object),
        attention=0.5 * chance.at(np.arange(inspectors)).normal("attention"),
    )
