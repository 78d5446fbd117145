"""The records that were learned from: which, how many, for how long."""

from dataclasses import asdict, dataclass

from scoring.assessment import FleetLearning
from scoring.contract.events import LOW_SPEED_BEARING, MODES
from scoring.files.json_entries import DIGEST, DIGEST_WORDS, Entries
from scoring.learning.failure_rows import FailureRows
from scoring.learning.fleet_fingerprint import fleet_fingerprint
from scoring.records import Fleet


@dataclass(frozen=True)
class LearnedFrom:
    """The records that were learned from.

    Attributes
    ----------
    sha256 : str
        From ``fleet_fingerprint``.
    units : int
        Units of the fleet.
    unit_years : float
        For how long they were observed. [year]
    failures : dict of str to int
        Failures learned from.
    """

    sha256: str
    units: int
    unit_years: float
    failures: dict[str, int]

    @classmethod
    def of(cls, fleet: Fleet, rows: FailureRows, learning: FleetLearning) -> "LearnedFrom":
        """Tell what was learned from.

        Parameters
        ----------
        fleet : Fleet
            Checked tables.
        rows : FailureRows
            Its failures beside what may explain them.
        learning : FleetLearning
            What was learned from these.

        Returns
        -------
        LearnedFrom
        """
        counts = {
            mode: 0 if basis.learned is None else round(basis.learned.posterior.events)
            for mode, basis in learning.basis.items()
        }
        observed = rows.modes[LOW_SPEED_BEARING].years  # a bearing is at risk in every row
        years = float(observed.sum())
        return cls(fleet_fingerprint(fleet), len(fleet.units), years, counts)

    def to_plain(self) -> dict[str, object]:
        """Return it as plain data."""
        return asdict(self)

    @classmethod
    def from_plain(cls, entries: Entries, name: str) -> "LearnedFrom":
        """Return it from plain data, after looking at all of it.

        Parameters
        ----------
        entries : Entries
            What it is part of.
        name : str
            The entry.

        Returns
        -------
        LearnedFrom

        Raises
        ------
        FixableError
            If something is missing, unknown, or not what it must be.
        """
        found = entries.entries(name, cls.__dataclass_fields__)
        counts = found.entries("failures", MODES)
        return cls(
            found.text("sha256", DIGEST, DIGEST_WORDS),
            found.whole("units"),
            found.number("unit_years", 0.0),
            {mode: counts.whole(mode) for mode in MODES},
        )
