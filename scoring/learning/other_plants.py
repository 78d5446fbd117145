"""Plants that were learned from, each kept apart, so that a plant can be left out of its prior."""

from dataclasses import dataclass
from functools import cached_property

from scoring.contract.events import MODES
from scoring.errors import FixableError
from scoring.learning.column_prior import ColumnPrior
from scoring.learning.covariates import handbook_columns
from scoring.learning.failure_rows import FailureRows
from scoring.learning.fleet_fingerprint import fleet_fingerprint
from scoring.learning.learned import learn_unbounded
from scoring.learning.plant_marks import plant_marks, same_plant
from scoring.learning.plant_share import PlantShare, share_of
from scoring.learning.plants_together import next_plant
from scoring.records import Fleet


@dataclass(frozen=True)
class KnownPlant:
    """A plant that was learned from; it has no name.

    Attributes
    ----------
    sha256 : str
        Of its records, from ``fleet_fingerprint``.
    units : int
        Its units.
    failures : dict of str to int
        Failures learned from.
    shares : dict of str to PlantShare
        What they say, for each failure that was written down at any time.
    marks : tuple of str
        By which it is known again once its records have grown, from ``plant_marks``; none where it
        is known by its records alone.
    """

    sha256: str
    units: int
    failures: dict[str, int]
    shares: dict[str, PlantShare]
    marks: tuple[str, ...] = ()

    @classmethod
    def of(cls, fleet: Fleet, rows: FailureRows) -> "KnownPlant":
        """Learn what one plant says by itself.

        Parameters
        ----------
        fleet : Fleet
            Its checked tables.
        rows : FailureRows
            Its failures beside what may explain them.

        Returns
        -------
        KnownPlant
        """
        learned = learn_unbounded(rows).modes
        failures = {
            mode: round(learned[mode].posterior.events) if mode in learned else 0 for mode in MODES
        }
        shares = {mode: share_of(one) for mode, one in learned.items()}
        marks = plant_marks(fleet)
        return cls(fleet_fingerprint(fleet), len(fleet.units), failures, shares, marks)

    def is_of(self, sha256: str, marks: tuple[str, ...]) -> bool:
        """Tell whether records with this digest and these marks are of this plant, or later."""
        return self.sha256 == sha256 or same_plant(self.marks, marks)


@dataclass(frozen=True)
class OtherPlants:
    """Plants whose failures tell of a plant's own before it has had any.

    Attributes
    ----------
    plants : tuple of KnownPlant
        At least one.
    """

    plants: tuple[KnownPlant, ...]

    def without(self, fleet: Fleet) -> "OtherPlants":
        """Leave out one plant: it is no other plant to itself.

        Parameters
        ----------
        fleet : Fleet
            The plant.

        Returns
        -------
        OtherPlants

        Raises
        ------
        FixableError
            If no plant is left.
        """
        own = (fleet_fingerprint(fleet), plant_marks(fleet))
        left = tuple(plant for plant in self.plants if not plant.is_of(*own))
        if not left:
            raise FixableError(
                "what is given as knowledge from other plants rests on this plant's own records "
                "alone; leave --prior out, or learn from others too: mount-risk learn FLEET FLEET "
                "--out NEW_FOLDER"
            )
        return OtherPlants(left)

    @cached_property
    def priors(self) -> dict[str, ColumnPrior]:
        """What they say of the next plant, for each failure that any of them kept."""
        shares = {
            mode: [plant.shares[mode] for plant in self.plants if mode in plant.shares]
            for mode in MODES
        }
        return {
            mode: next_plant(handbook_columns(mode), some) for mode, some in shares.items() if some
        }

    @property
    def units(self) -> int:
        """Units of all of them."""
        return sum(plant.units for plant in self.plants)

    def failures(self, mode: str) -> int:
        """Return how many failures were learned from."""
        return sum(plant.failures[mode] for plant in self.plants)
