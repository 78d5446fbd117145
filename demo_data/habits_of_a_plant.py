"""How people of one plant hang, look, mend and write down.

In a plain plant it is the same for every seed, in a wide one drawn anew. All are planning values of
ours.
"""

from dataclasses import dataclass, field

import numpy as np

from demo_data.arrays import Floats
from demo_data.fault_table import CHECK_NAMES


@dataclass(frozen=True, kw_only=True)
class Habits:
    """How people go about their work.

    Attributes
    ----------
    careless_crews, careless_sites, quirks, bad_days : float
        Spread of the log of how often faults are left: between crews, between sites, between
        checks of one crew, and between days at one site.
    faults : float array, shape (checks,)
        Factor on how often each fault is left at hanging.
    loosens : float
        Factor on how often good checks turn bad in service.
    post_install_made, after_start_made, periodic_made : float
        Share of each kind of walkdown that is made.
    shortest_round, longest_round : int
        Steps from one periodic walkdown of a unit to the next.
    sees : float
        Shift of the log odds that a check is looked at.
    missed, other_fault : float
        Chance that a fault is taken for good, or for another fault of the same check.
    false_alarm, other_good : float
        Chance that something good is taken for a fault, or for another good outcome.
    poor_reading : float
        Chance that a number is read poorly.
    plans : float
        Share of findings, holds apart, for which re-work is planned at all.
    hold_taken_up, taken_up, taken_up_off_shaft : float
        Once it is: share of holds, other findings, and those that need the unit off its shaft, of
        which something is done.
    papers, unevenly : float
        Shift of the log odds that a nameplate's column is known, and factor on how much columns
        differ in it.
    """

    careless_crews: float = 0.40
    careless_sites: float = 0.0
    quirks: float = 0.30
    bad_days: float = 0.0
    faults: Floats = field(default_factory=lambda: np.ones(len(CHECK_NAMES)))
    loosens: float = 1.0
    post_install_made: float = 0.92
    after_start_made: float = 0.5
    periodic_made: float = 0.92
    shortest_round: int = 5
    longest_round: int = 12
    sees: float = 0.0
    missed: float = 0.10
    other_fault: float = 0.06
    false_alarm: float = 0.005
    other_good: float = 0.08
    poor_reading: float = 0.30
    plans: float = 0.4
    hold_taken_up: float = 0.75
    taken_up: float = 0.5
    taken_up_off_shaft: float = 0.2
    papers: float = 0.0
    unevenly: float = 1.0

    def times(self, normal: Floats) -> Floats:
        """Return how many times the usual faults days bring, from normal draws; 1 on average."""
        return np.asarray(np.exp(self.bad_days * normal - 0.5 * self.bad_days**2))


PLAIN_HABITS = Habits()
