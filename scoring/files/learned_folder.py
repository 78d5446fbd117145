"""Keep what was learned of a fleet in a folder: ``learned.json`` and ``manifest.json``."""

import json
from dataclasses import dataclass, replace
from hashlib import sha256
from importlib.metadata import version
from pathlib import Path

import pandas as pd

from scoring.assessment import FleetLearning
from scoring.contract.events import MODES
from scoring.errors import FixableError
from scoring.files.folder_to_write import json_bytes, write_whole
from scoring.files.json_entries import LARGEST_FILE, Entries, read_json, refuse
from scoring.files.learned_as_json import learned_from_plain, learned_to_plain
from scoring.files.learned_from import LearnedFrom
from scoring.files.learned_manifest import (
    SCHEMA,
    Manifest,
    manifest_from_plain,
    manifest_to_plain,
)
from scoring.learning.fleet_fingerprint import fleet_fingerprint
from scoring.records import Fleet

LEARNED, MANIFEST = "learned.json", "manifest.json"
LEARN_ANEW = "learn anew: mount-risk learn FLEET --as-of DATE --out NEW_FOLDER"


@dataclass(frozen=True)
class KeptLearning:
    """What was learned and kept.

    Attributes
    ----------
    learning : FleetLearning
        As it was when it was written, but for how it was tried and for the failures of single
        units: those of the fleet that is ranked count, see ``FleetAssessor.with_own_failures``.
    records : LearnedFrom
        What it was learned from.
    made_with : str
        Version of this tool that learned.
    """

    learning: FleetLearning
    records: LearnedFrom
    made_with: str

    def notes(self, fleet: Fleet, as_of: pd.Timestamp) -> tuple[str, ...]:
        """Say what a person should know who uses it for a fleet as of a day."""
        return self.notes_where(as_of, are_others=fleet_fingerprint(fleet) != self.records.sha256)

    def notes_where(self, as_of: pd.Timestamp, *, are_others: bool) -> tuple[str, ...]:
        """Say the same where it is told already whether the records are others."""
        learned_on, ours = self.learning.as_of, version("mount-risk")
        notes = []
        if are_others:
            units = f"{self.records.units} units as of {learned_on.date()}"
            notes.append(f"learned from other records, of {units}")
        elif learned_on < as_of.normalize():
            notes.append(f"learned as of {learned_on.date()}; what failed since is not in it")
        if self.made_with != ours:
            notes.append(f"learned by version {self.made_with} of this tool; this is {ours}")
        return tuple(notes)


def write_learned(
    learning: FleetLearning, records: LearnedFrom, folder: Path, created_on: pd.Timestamp
) -> bool:
    """Write what was learned.

    Parameters
    ----------
    learning : FleetLearning
        What was learned.
    records : LearnedFrom
        From what.
    folder : Path
        A new or empty folder, or one that holds what was learned earlier.
    created_on : Timestamp
        Today.

    Returns
    -------
    bool
        Whether what was learned earlier was replaced.

    Raises
    ------
    FixableError
        If the folder holds something else or cannot be written, or if there is too much to keep.

    Notes
    -----
    Both files are first written whole beside their places. A reader that comes between the two
    moves finds files that do not belong together, and refuses them.
    """
    plain = {mode: learned_to_plain(learning.basis[mode].learned) for mode in MODES}
    learned = json_bytes(plain, indent=None)
    if len(learned) > LARGEST_FILE:
        raise FixableError(
            f"what was learned takes {len(learned) / 1e6:.0f} MB, more than the "
            f"{LARGEST_FILE / 1e6:g} MB that would be read again; learn of fewer sites at a time"
        )
    manifest = json_bytes(manifest_to_plain(learning, records, learned, created_on), indent=2)
    _joined(manifest_from_plain(MANIFEST, json.loads(manifest)), LEARNED, json.loads(learned))
    return write_whole(folder, {LEARNED: learned, MANIFEST: manifest}, MANIFEST, SCHEMA)


def read_learned(folder: Path, as_of: pd.Timestamp) -> KeptLearning:
    """Read what was learned, trusting nothing in the files.

    Parameters
    ----------
    folder : Path
        As ``write_learned`` wrote it.
    as_of : Timestamp
        The day as of which it is to be used.

    Returns
    -------
    KeptLearning

    Raises
    ------
    FixableError
        If a file is missing, too large, not JSON, of another version, changed, or says something
        it may not; if the handbook is another; if it was learned after ``as_of``.
    """
    try:
        kept = _read(folder)
    except FixableError as error:
        raise FixableError(f"{error}. What to do: {LEARN_ANEW}") from None
    except OSError as error:
        raise FixableError(f"{folder} cannot be opened ({error.strerror or error})") from None
    learned_on, asked = kept.learning.as_of.date(), as_of.date()
    if learned_on > asked:
        raise FixableError(
            f"{folder} was learned as of {learned_on}, after the day asked for, {asked}: it knows "
            f"what happened since. Give --as-of {learned_on} or later, or learn as of that day: "
            f"mount-risk learn FLEET --as-of {asked} --out NEW_FOLDER"
        )
    return kept


def _read(folder: Path) -> KeptLearning:
    if not folder.is_dir():
        raise FixableError(f"there is no folder {folder}")
    found, _ = read_json(folder / MANIFEST)
    manifest = manifest_from_plain(str(folder / MANIFEST), found)
    path = folder / LEARNED
    learned, data = read_json(path)
    if sha256(data).hexdigest() != manifest.learned_sha256:
        raise FixableError(
            f"{path} is not the file that {MANIFEST} tells of; one of the two was changed or "
            "comes from elsewhere"
        )
    return _joined(manifest, str(path), learned)


def _joined(manifest: Manifest, where: str, learned: object) -> KeptLearning:
    """Join what both files say."""
    of_mode = Entries(where, learned, MODES)
    basis = {}
    for mode in MODES:
        known = learned_from_plain(mode, of_mode.at(mode), of_mode[mode])
        if known is None and manifest.basis[mode].used:
            refuse(of_mode.at(mode), None, f"what was learned, for {MANIFEST} says that it is used")
        basis[mode] = replace(manifest.basis[mode], learned=known)
    learning = FleetLearning(manifest.as_of, basis, pd.DataFrame(), {})
    return KeptLearning(learning, manifest.records, manifest.made_with)
