"""How usual faults are where nobody has looked: the handbook's shares, corrected by this fleet's.

Those who looked tell of those who did not: a crew whose seen work is careless makes what nobody saw
of its work riskier, and what was seen and good no riskier at all.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from scoring.consequences.states_of_the_arm import STATES_OF_THE_ARM, UsualArms
from scoring.contract.mountings import EVERY_MOUNTING
from scoring.handbook.effect import Effect
from scoring.timeline.known import Known

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

LOOKS_OF_THE_HANDBOOK = 400.0
"""Looks at a check that the handbook's share is worth; planning value of ours. [-]"""

LOOKS_OF_THE_FLEET = 200.0
"""Looks at one installer's work that everybody's share is worth; planning value of ours. [-]"""

FAULTS_OF_THE_FLEET = 40.0
"""Faults at which a crew's own carelessness counts half; planning value of ours. [-]"""

MOST_FAULTY = 0.95
"""Most that faulty states may make up where nobody has looked; planning value of ours. [-]"""


@dataclass(frozen=True)
class Prevalence:
    """How usual each state is where nobody has looked.

    Attributes
    ----------
    crews : tuple of str
        Whose work was looked at, sorted.
    shares : dict of str to ndarray, shape (n_mountings, n_crews + 1, n_states)
        By effect, or state of the torque arm; the last crew stands for all others. Missing: as in
        the handbook. [-]
    carelessness : DataFrame, shape (n_crews, 4)
        ``installer``, ``faults`` seen, ``expected`` of everybody's shares, and ``ratio`` of both,
        drawn towards 1.
    """

    crews: tuple[str, ...] = ()
    shares: dict[str, Floats] = field(default_factory=dict)
    carelessness: pd.DataFrame = field(default_factory=pd.DataFrame)

    def groups(self, known: Known) -> Ints:
        """Return where each unit stands in the tables of ``shares``, mounting by crew.

        Parameters
        ----------
        known : Known
            Units with their mounting, and the crew that hung each.

        Returns
        -------
        ndarray of int, shape (n_units,)
        """
        crew = pd.Index(self.crews, dtype=object).get_indexer(
            pd.Index(known.history["crew"], dtype=object)
        )
        crew = np.where(crew < 0, len(self.crews), crew)
        mounting = known.units["mounting"].cat.codes.to_numpy(dtype=np.int64)
        return mounting * (len(self.crews) + 1) + crew

    def mean_and_mean_square(self, effect: Effect, mode: str, group: Ints) -> tuple[Floats, Floats]:
        """Return mean and mean square of a multiplier where nobody has looked.

        Parameters
        ----------
        effect : Effect
            The effect.
        mode : str
            The failure.
        group : ndarray of int, shape (n_units,)
            From ``groups``.

        Returns
        -------
        tuple of ndarray, shape (n_units,)
        """
        shares = self.shares.get(effect.name)
        if shares is None:
            return tuple(np.full(len(group), m) for m in effect.usual_mean_and_square(mode))  # type: ignore[return-value]
        flat = shares.reshape(-1, shares.shape[-1])
        multipliers = np.array(effect.multipliers[mode])
        return (flat @ multipliers)[group], (flat @ multipliers**2)[group]

    def arms(self, group: Ints) -> UsualArms:
        """Return how usual each state of a torque arm is where nobody has looked."""
        learned = {}
        for state in STATES_OF_THE_ARM:
            shares = self.shares.get(state.name)
            if shares is not None:
                learned[state.name] = shares.reshape(-1, shares.shape[-1])[group]
        return UsualArms(learned, group if learned else None)


@dataclass(frozen=True)
class Looks:
    """States seen at first looks, as weights of the states of an effect.

    Attributes
    ----------
    usual : tuple of float
        Shares by the handbook. [-]
    counts : ndarray, shape (n_mountings, n_crews + 1, n_states)
        Looks that found each state, parted between neighbours where it lay between two. [-]
    """

    usual: tuple[float, ...]
    counts: Floats


@dataclass(frozen=True)
class LooksCounted:
    """What first looks at some units found; those of several pieces of a fleet add up.

    Attributes
    ----------
    crews : tuple of str
        Whose work was looked at, sorted.
    looks : dict of str to Looks
        By effect, or state of the torque arm.
    """

    crews: tuple[str, ...]
    looks: dict[str, Looks]

    @classmethod
    def together(cls, pieces: Sequence["LooksCounted"]) -> "LooksCounted":
        """Add up what was counted in pieces of one fleet, in their order.

        Examples
        --------
        >>> one = LooksCounted(("B",), {"breather": Looks((0.9, 0.1), np.ones((4, 2, 2)))})
        >>> two = LooksCounted(("A", "B"), {"breather": Looks((0.9, 0.1), np.ones((4, 3, 2)))})
        >>> both = LooksCounted.together([one, two])
        >>> both.crews, both.looks["breather"].counts[0, :, 0].tolist()
        (('A', 'B'), [1.0, 2.0, 2.0])
        """
        crews = tuple(sorted({crew for piece in pieces for crew in piece.crews}))
        place = {crew: number for number, crew in enumerate(crews)}
        added: dict[str, Looks] = {}
        for piece in pieces:
            at = [*(place[crew] for crew in piece.crews), len(crews)]
            for name, looks in piece.looks.items():
                if name not in added:
                    mountings, _, states = looks.counts.shape
                    counts = np.zeros((mountings, len(crews) + 1, states))
                    added[name] = Looks(looks.usual, counts)
                added[name].counts[:, at] += looks.counts
        return cls(crews, added)

    @property
    def prevalence(self) -> Prevalence:
        """How usual each state is where nobody has looked."""
        return shrink(self.looks, self.crews)


def count_looks(
    usual: tuple[float, ...],
    states: tuple[float, ...],
    state: Floats,
    group: tuple[Ints, Ints, int],
) -> Looks:
    """Count what first looks found.

    Parameters
    ----------
    usual : tuple of float
        Shares by the handbook. [-]
    states : tuple of float
        Rising. [unit]
    state : ndarray, shape (n_units,)
        As seen, missing where not. [unit]
    group : tuple
        Mounting and crew of each unit as numbers, and how many crews there are.

    Returns
    -------
    Looks
    """
    mounting, crew, n_crews = group
    counts = np.zeros((len(EVERY_MOUNTING), n_crews + 1, len(states)))
    seen = ~np.isnan(state)
    place = np.interp(state[seen], states, np.arange(len(states)))
    below = np.minimum(place.astype(np.int64), len(states) - 2)
    for step, weight in ((0, 1 - (place - below)), (1, place - below)):
        np.add.at(counts, (mounting[seen], crew[seen], below + step), weight)
    return Looks(usual, counts)


def shrink(looks: dict[str, Looks], crews: tuple[str, ...]) -> Prevalence:
    """Draw what was seen towards everybody's shares, and these towards the handbook's.

    Parameters
    ----------
    looks : dict of str to Looks
        By effect, or state of the torque arm.
    crews : tuple of str
        Sorted.

    Returns
    -------
    Prevalence

    Notes
    -----
    Everybody's share of a state on a mounting is (looks that found it + 400 x the handbook's
    share) over (looks + 400). A crew's carelessness is (faults seen + 40) over (faults
    expected of everybody's shares + 40), over all checks; everybody's faulty shares times it are
    what 200 looks are worth against the installer's own. Faulty states never make up more than
    95 %, however many looks found them.

    Examples
    --------
    >>> seen = Looks((0.9, 0.1), np.array([[[0, 200.0], [0, 0]]] * 4))
    >>> learned = shrink({"breather": seen}, ("crew A",))
    >>> learned.shares["breather"][0].round(2)  # crew A, and anybody else
    array([[0.05, 0.95],
           [0.6 , 0.4 ]])
    """
    everybody = {name: _everybody(one) for name, one in looks.items()}
    faults, expected = np.zeros(len(crews) + 1), np.zeros(len(crews) + 1)
    for name, one in looks.items():
        faults += one.counts[..., 1:].sum(axis=(0, 2))
        faulty = 1 - everybody[name][:, np.newaxis, 0]
        expected += (one.counts.sum(axis=2) * faulty).sum(axis=0)
    ratio = (faults + FAULTS_OF_THE_FLEET) / (expected + FAULTS_OF_THE_FLEET)
    ratio[-1] = 1.0  # nobody in particular
    shares = {}
    for name, one in looks.items():
        awaited = _with_the_good(everybody[name][:, np.newaxis, 1:] * ratio[:, np.newaxis])
        counts = one.counts.copy()
        counts[:, -1] = 0.0
        found = _drawn_towards(counts, awaited, LOOKS_OF_THE_FLEET)
        shares[name] = _with_the_good(found[..., 1:])
    table = {"faults": faults[:-1], "expected": expected[:-1], "ratio": ratio[:-1]}
    return Prevalence(crews, shares, pd.DataFrame({"installer": list(crews), **table}))


def _everybody(looks: Looks) -> Floats:
    """Return the share of each state on each mounting, whoever hung the unit."""
    return _drawn_towards(looks.counts.sum(axis=1), np.array(looks.usual), LOOKS_OF_THE_HANDBOOK)


def _with_the_good(faulty: Floats) -> Floats:
    """Put the share of the good state before those of faulty ones, and leave it its least.

    What is too much is taken from the mildest, so that a worse look never makes a share milder.
    """
    at_least = np.minimum(faulty[..., ::-1].cumsum(axis=-1)[..., ::-1], MOST_FAULTY)
    ends = np.ones_like(at_least[..., :1])
    return -np.diff(np.concatenate([ends, at_least, 0 * ends], axis=-1), axis=-1)


def _drawn_towards(counts: Floats, awaited: Floats, weight: float) -> Floats:
    shares: Floats = (counts + weight * awaited) / (counts.sum(axis=-1, keepdims=True) + weight)
    return shares
