"""What was learned of small fleets, kept in folders, and ways to change what is kept."""

import json
from functools import cache
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory

import pandas as pd
import pytest
from kept_plants import SMALL_QUARRY

from demo_data.generate import generate_fleet
from demo_data.write import write_fleet
from scoring.assessment import FleetAssessor, FleetLearning
from scoring.errors import FixableError
from scoring.files.learned_folder import LEARNED, MANIFEST, read_learned, write_learned
from scoring.files.learned_from import LearnedFrom
from scoring.files.read_fleet import read_fleet
from scoring.intake import check_fleet

AS_OF = pd.Timestamp("2026-06-30")
DEMO = SMALL_QUARRY
GENERATED = "generated"


@cache
def assessor_of(fleet: str) -> FleetAssessor:
    """Return the assessor of a demo plant or of a generated fleet of 150 units."""
    if fleet != GENERATED:
        return FleetAssessor(check_fleet(read_fleet(fleet).tables, AS_OF).fleet)
    with TemporaryDirectory() as folder:
        write_fleet(generate_fleet(150, 3, sites=4), folder)
        return FleetAssessor(check_fleet(read_fleet(folder).tables, AS_OF).fleet)


@cache
def learned_of(fleet: str, as_of: pd.Timestamp = AS_OF) -> tuple[FleetLearning, LearnedFrom]:
    """Return what was learned of a fleet, and from what."""
    assessor = assessor_of(fleet)
    rows = assessor.failure_rows(as_of)
    learning = assessor.learn(as_of, rows)
    return learning, LearnedFrom.of(assessor.fleet, rows, learning)


def keep(folder: Path, fleet: str = DEMO, as_of: pd.Timestamp = AS_OF) -> Path:
    """Write what was learned of a fleet."""
    write_learned(*learned_of(fleet, as_of), folder, pd.Timestamp("2026-07-01"))
    return folder


def read(folder: Path, name: str) -> dict:
    """Return what one of the two files says."""
    return json.loads((folder / name).read_text(encoding="utf-8"))


def reseal(folder: Path, *, learned: object = None, manifest: dict | None = None) -> None:
    """Write changed content with hashes that fit, as somebody with bad intentions would."""
    reported = read(folder, MANIFEST) if manifest is None else dict(manifest)
    if learned is not None:
        data = json.dumps(learned).encode()
        (folder / LEARNED).write_bytes(data)
        reported["learned_sha256"] = sha256(data).hexdigest()
    rest = {name: value for name, value in reported.items() if name != "manifest_sha256"}
    reported["manifest_sha256"] = sha256(json.dumps(rest, sort_keys=True).encode()).hexdigest()
    (folder / MANIFEST).write_text(json.dumps(reported), encoding="utf-8")


def refusal(folder: Path) -> str:
    """Return the words with which a folder is refused."""
    with pytest.raises(FixableError) as refused:
        read_learned(folder, AS_OF)
    return str(refused.value)
