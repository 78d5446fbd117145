"""What stands beside a learned correction: from what, when and with what it was learned, and why.

``manifest.json`` is for a person to read and for a machine to refuse what does not belong together.
"""

from dataclasses import dataclass
from hashlib import sha256

import numpy as np
import pandas as pd

from scoring.assessment import FleetLearning
from scoring.contract.events import MODES
from scoring.files.json_entries import DIGEST, DIGEST_WORDS, Entries
from scoring.files.learned_from import LearnedFrom
from scoring.files.sealed_entries import (
    LINE,
    LINE_WORDS,
    check_schema,
    check_seal,
    day_of,
    digest_of,
    made_beside_this_handbook,
    versions,
)
from scoring.learning.handbook_fingerprint import handbook_fingerprint
from scoring.validation.choose_basis import Basis
from scoring.validation.which_is_better import Gain

SCHEMA, VERSION = "mount-risk learned fleet", 1
"""Name and version of the two files' make-up; the version rises when that changes."""

NAMES = (
    "schema",
    "schema_version",
    "as_of",
    "created_on",
    "versions",
    "records",
    "handbook_sha256",
    "learned_sha256",
    "failures",
    "manifest_sha256",
)
GAINS = ("likelihood", "proportions", "concordance")
ENDS = ("gain", "error")


@dataclass(frozen=True)
class Manifest:
    """What ``manifest.json`` says.

    Attributes
    ----------
    as_of : Timestamp
        The day up to which was learned.
    made_with : str
        Version of this tool that learned.
    records : LearnedFrom
        What was learned from.
    learned_sha256 : str
        Of ``learned.json``.
    basis : dict of str to Basis
        For each failure whether what was learned is used, why, and how it was tried; without what
        was learned.
    """

    as_of: pd.Timestamp
    made_with: str
    records: LearnedFrom
    learned_sha256: str
    basis: dict[str, Basis]


def manifest_to_plain(
    learning: FleetLearning, records: LearnedFrom, learned: bytes, created_on: pd.Timestamp
) -> dict[str, object]:
    """Turn all that stands beside a learned correction into plain data.

    Parameters
    ----------
    learning : FleetLearning
        What was learned.
    records : LearnedFrom
        From what.
    learned : bytes
        The file ``learned.json``.
    created_on : Timestamp
        Today.

    Returns
    -------
    dict
        Under ``NAMES``.
    """
    content: dict[str, object] = {
        "schema": SCHEMA,
        "schema_version": VERSION,
        "as_of": learning.as_of.date().isoformat(),
        "created_on": created_on.date().isoformat(),
        "versions": versions(),
        "records": records.to_plain(),
        "handbook_sha256": handbook_fingerprint(),
        "learned_sha256": sha256(learned).hexdigest(),
        "failures": {mode: _basis(basis) for mode, basis in learning.basis.items()},
    }
    return content | {"manifest_sha256": digest_of(content)}


def _basis(basis: Basis) -> dict[str, object]:
    gains: dict[str, Gain] = {name: getattr(basis, name) for name in GAINS}
    return {
        "used": bool(basis.used),
        "why": basis.why,
        "tried_on": int(basis.failures),
        **{
            name: {
                end: _or_null(value) for end, value in zip(ENDS, vars(gain).values(), strict=True)
            }
            for name, gain in gains.items()
        },
    }


def _or_null(value: float) -> float | None:
    return float(value) if np.isfinite(value) else None


def manifest_from_plain(where: str, found: object) -> Manifest:
    """Turn plain data back into a manifest, after looking at all of it.

    Parameters
    ----------
    where : str
        The file.
    found : object
        From a file that anybody may have written.

    Returns
    -------
    Manifest

    Raises
    ------
    FixableError
        If it is of another kind or version, was changed, belongs to another handbook, or says
        something that it may not.
    """
    check_schema(where, found, SCHEMA, VERSION)
    entries = Entries(where, found, NAMES)
    made_with = made_beside_this_handbook(entries)
    of_failures = entries.entries("failures", MODES)
    day_of(entries, "created_on")
    manifest = Manifest(
        day_of(entries, "as_of"),
        made_with,
        LearnedFrom.from_plain(entries, "records"),
        entries.text("learned_sha256", DIGEST, DIGEST_WORDS),
        {mode: _basis_from_plain(mode, of_failures) for mode in MODES},
    )
    check_seal(entries, "manifest_sha256")
    return manifest


def _basis_from_plain(mode: str, of_failures: Entries) -> Basis:
    found = of_failures.entries(mode, ("used", "why", "tried_on", *GAINS))
    gains = [found.entries(name, ENDS) for name in GAINS]
    return Basis(
        mode,
        None,
        found.flag("used"),
        found.text("why", LINE, LINE_WORDS),
        found.whole("tried_on"),
        *(
            Gain(
                gain.number("gain", may_be_missing=True),
                gain.number("error", 0.0, may_be_missing=True),
            )
            for gain in gains
        ),
    )
