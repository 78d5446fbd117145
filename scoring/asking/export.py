"""Write all there is of a fleet: records, ranking, a plan, and what every column means."""

import tempfile
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZipFile

import pandas as pd

from scoring.asking.documented_columns import columns
from scoring.contract import FLEET_TABLES, RANKING
from scoring.contract.windows import PLAN
from scoring.files.records_as_text import fleet_as_text
from scoring.files.write_records import WORKBOOK, write_records
from scoring.records import Fleet

DICTIONARY = "data_dictionary"


def write_everything(
    fleet: Fleet,
    out: Path,
    kind: str = "csv",
    *,
    ranking: pd.DataFrame | None = None,
    plan: pd.DataFrame | None = None,
) -> list[Path]:
    """Write records and answers, with a data dictionary beside them, and read the records back.

    Parameters
    ----------
    fleet : Fleet
        Checked tables.
    out : Path
        A new or empty folder, or an ``.xlsx`` file that is not there yet.
    kind : str
        How a folder's files are written: ``csv``, ``parquet`` or ``xlsx``.
    ranking, plan : DataFrame, optional
        Answers to write, too.

    Returns
    -------
    list of Path
        What was written.

    Raises
    ------
    FixableError
        If something lies there already, it cannot be written, or the format cannot hold a text.
    """
    answers = {RANKING.name: ranking, PLAN.name: plan}
    there = {name: frame for name, frame in answers.items() if frame is not None}
    named = [table.name for table in FLEET_TABLES] + list(there)
    beside = {**there, DICTIONARY: columns(*named)}
    return write_records(fleet_as_text(fleet), out, kind, beside)


def everything_bytes(fleet: Fleet, kind: str, ranking: pd.DataFrame) -> bytes:
    """Return all tables as the bytes of one file, for a page to hand out.

    Parameters
    ----------
    fleet : Fleet
        Checked tables.
    kind : str
        ``xlsx`` for a workbook; ``csv`` or ``parquet`` for an archive of such files.
    ranking : DataFrame
        The ranking.

    Returns
    -------
    bytes
    """
    with tempfile.TemporaryDirectory() as folder:
        if kind == "xlsx":
            path = Path(folder) / f"fleet{WORKBOOK}"
            write_everything(fleet, path, ranking=ranking)
            return path.read_bytes()
        place, archive = Path(folder) / "tables", Path(folder) / "tables.zip"
        write_everything(fleet, place, kind, ranking=ranking)
        with ZipFile(archive, "w", ZIP_DEFLATED) as zipped:
            for path in sorted(place.iterdir()):
                zipped.write(path, path.name)
        return archive.read_bytes()
