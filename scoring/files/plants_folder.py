"""Keep what several plants say together in a folder: ``plants.json``, which holds numbers alone."""

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass
from importlib.metadata import version
from pathlib import Path

import numpy as np
import pandas as pd

from scoring.contract.events import MODES
from scoring.errors import FixableError
from scoring.files.folder_to_write import json_bytes, write_whole
from scoring.files.json_entries import (
    DIGEST,
    DIGEST_WORDS,
    LARGEST_FILE,
    Entries,
    read_json,
    refuse,
)
from scoring.files.learned_as_json import MOST_LOG, covariance_in
from scoring.files.sealed_entries import (
    check_schema,
    check_seal,
    day_of,
    digest_of,
    made_beside_this_handbook,
    versions,
)
from scoring.learning.covariates import handbook_columns
from scoring.learning.handbook_fingerprint import handbook_fingerprint
from scoring.learning.other_plants import KnownPlant, OtherPlants
from scoring.learning.plant_marks import DIGITS, MARKS
from scoring.learning.plant_share import PlantShare

PLANTS = "plants.json"
SCHEMA, VERSION = "mount-risk other plants", 1
"""Name and version of the file's make-up; the version rises when that changes."""

TOTALS = ("plants", "units", "failures")
NAMES = (
    "schema",
    "schema_version",
    "as_of",
    "created_on",
    "versions",
    "handbook_sha256",
    *TOTALS,
    "shares",
    "sha256",
)
OF_PLANT = ("records_sha256", "marks", "units", "failures", "learned")
OF_MODE = ("score", "precision")
MARK = f"[0-9a-f]{{{DIGITS}}}"

MOST_PRECISION = 1e9
"""Size of a number beyond which no failures teach so much: a million of them do not. Ours. [-]"""


@dataclass(frozen=True)
class KeptPlants:
    """What several plants say, as it was kept.

    Attributes
    ----------
    as_of : Timestamp
        The day up to which was learned.
    made_with : str
        Version of this tool that learned.
    others : OtherPlants
        The plants.
    """

    as_of: pd.Timestamp
    made_with: str
    others: OtherPlants

    @property
    def notes(self) -> tuple[str, ...]:
        """Say what a person should know who uses it."""
        ours = version("mount-risk")
        if self.made_with == ours:
            return ()
        return (f"learned by version {self.made_with} of this tool; this is {ours}",)


def write_plants(
    plants: Sequence[KnownPlant], as_of: pd.Timestamp, folder: Path, created_on: pd.Timestamp
) -> bool:
    """Write what several plants say.

    Parameters
    ----------
    plants : sequence of KnownPlant
        In any order: none is kept.
    as_of : Timestamp
        The day up to which was learned.
    folder : Path
        A new or empty folder, or one that holds such knowledge already.
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
    """
    plants = sorted(plants, key=lambda plant: plant.sha256)
    content: dict[str, object] = {
        "schema": SCHEMA,
        "schema_version": VERSION,
        "as_of": as_of.date().isoformat(),
        "created_on": created_on.date().isoformat(),
        "versions": versions(),
        "handbook_sha256": handbook_fingerprint(),
        **_totals(OtherPlants(tuple(plants))),
        "shares": [_plant_to_plain(plant) for plant in plants],
    }
    data = json_bytes(content | {"sha256": digest_of(content)}, indent=None)
    if len(data) > LARGEST_FILE:
        raise FixableError(
            f"what was learned takes {len(data) / 1e6:.0f} MB, more than the "
            f"{LARGEST_FILE / 1e6:g} MB that would be read again; learn of fewer plants at a time"
        )
    plants_from_plain(PLANTS, json.loads(data))
    return write_whole(folder, {PLANTS: data}, PLANTS, SCHEMA)


def _totals(others: OtherPlants) -> dict[str, object]:
    failures = {mode: others.failures(mode) for mode in MODES}
    return dict(zip(TOTALS, (len(others.plants), others.units, failures), strict=True))


def _plant_to_plain(plant: KnownPlant) -> dict[str, object]:
    learned = {
        mode: None if (share := plant.shares.get(mode)) is None else share_to_plain(share)
        for mode in MODES
    }
    values = (plant.sha256, list(plant.marks), plant.units, plant.failures, learned)
    return dict(zip(OF_PLANT, values, strict=True))


def share_to_plain(share: PlantShare) -> dict[str, object]:
    """Turn what one plant says of a failure into plain data, under ``OF_MODE``."""
    return dict(zip(OF_MODE, (share.score.tolist(), share.precision.tolist()), strict=True))


def read_plants(folder: Path) -> KeptPlants:
    """Read what several plants say, trusting nothing in the file.

    Parameters
    ----------
    folder : Path
        As ``write_plants`` wrote it.

    Returns
    -------
    KeptPlants

    Raises
    ------
    FixableError
        If the file is missing, too large, not JSON, of another version, changed, or says something
        it may not; if the handbook is another.
    """
    path = folder / PLANTS
    found, _ = read_json(path)
    return plants_from_plain(str(path), found)


def plants_from_plain(where: str, found: object) -> KeptPlants:
    """Turn plain data back into what several plants say, after looking at all of it.

    Parameters
    ----------
    where : str
        The file.
    found : object
        From a file that anybody may have written.

    Returns
    -------
    KeptPlants

    Raises
    ------
    FixableError
        As ``read_plants`` does.
    """
    check_schema(where, found, SCHEMA, VERSION)
    entries = Entries(where, found, NAMES)
    made_with = made_beside_this_handbook(entries)
    as_of = day_of(entries, "as_of")
    day_of(entries, "created_on")
    shares = entries["shares"]
    if not isinstance(shares, list) or not shares:
        refuse(entries.at("shares"), shares, "a list of what at least one plant says")
    plants = tuple(
        _plant_from_plain(Entries(f"{entries.at('shares')}, {number}", one, OF_PLANT))
        for number, one in enumerate(shares, start=1)
    )
    digests = [plant.sha256 for plant in plants]
    if digests != sorted(set(digests)):
        refuse(entries.at("shares"), digests, "each plant once, sorted by its records' digest")
    others = OtherPlants(plants)
    given = {name: entries[name] for name in TOTALS}
    if given != (right := _totals(others)):
        refuse(where, given, f"{right}, the sums over its plants")
    check_seal(entries, "sha256")
    return KeptPlants(as_of, made_with, others)


def _plant_from_plain(entries: Entries) -> KnownPlant:
    counts = entries.entries("failures", MODES)
    marks = entries.texts("marks")
    if len(marks) > MARKS or not all(re.fullmatch(MARK, mark) for mark in marks):
        refuse(entries.at("marks"), list(marks), f"up to {MARKS} marks of {DIGITS} digits")
    learned = entries.entries("learned", MODES)
    shares = {
        mode: share_from_plain(mode, learned.at(mode), learned[mode])
        for mode in MODES
        if learned[mode] is not None
    }
    return KnownPlant(
        entries.text("records_sha256", DIGEST, DIGEST_WORDS),
        entries.whole("units"),
        {mode: counts.whole(mode) for mode in MODES},
        shares,
        marks,
    )


def share_from_plain(mode: str, where: str, found: object) -> PlantShare:
    """Turn plain data back into what one plant says of a failure, after looking at all of it.

    Parameters
    ----------
    mode : str
        The failure.
    where : str
        Where it stands, as a person finds it.
    found : object
        What stands there.

    Returns
    -------
    PlantShare

    Raises
    ------
    FixableError
        If a number is missing or not finite, if the precision of any sum of columns is below 0, or
        if it would correct a hazard by more than any failures do.
    """
    entries = Entries(where, found, OF_MODE)
    columns = handbook_columns(mode)
    size, scale = int(columns.passes.sum()), columns.scale[columns.passes]
    score = entries.numbers("score", (size,), -MOST_PRECISION, MOST_PRECISION)
    precision = covariance_in(entries, "precision", size, most=MOST_PRECISION)
    alone = np.linalg.solve(precision + np.diag(scale**-2.0), score)
    if (far := np.abs(alone) > MOST_LOG).any():
        right = f"what corrects no hazard by more than exp({MOST_LOG:g})"
        refuse(entries.at("score"), float(score[far][0]), right)
    return PlantShare(score, precision)
