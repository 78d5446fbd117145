"""Everything a store holds in one file: every table, the history too, of one moment."""

import base64
import hashlib
import json
import zipfile
from collections.abc import Iterator
from contextlib import closing
from dataclasses import asdict, dataclass
from pathlib import Path

from sqlalchemy import Connection, MetaData, Table, select

from scoring.errors import FixableError
from scoring.store.open_store import open_of_any_schema
from scoring.store.schema_version import schema_of
from scoring.store.writing import now

WRITTEN_BY = "mount-risk backup"
FORMAT = 1
MANIFEST = "manifest.json"
SCHEMA_TABLE = "alembic_version"
"""Where a database keeps the name of its schema; the manifest tells it."""

ROWS_AT_ONCE = 100
"""Rows held in memory at once; a row may be a photo."""


@dataclass(frozen=True)
class KeptTable:
    """What the manifest says of a table.

    Attributes
    ----------
    name : str
        The table.
    columns : list of str
        In the order of the values of each line.
    rows, bytes : int
        How many lines, and how long they are in all.
    sha256 : str
        Digest of the lines, hexadecimal.
    """

    name: str
    columns: list[str]
    rows: int
    bytes: int
    sha256: str

    @property
    def file(self) -> str:
        """Name of its part of the backup."""
        return f"tables/{self.name}.jsonl"


def back_up(where: str, out: Path) -> list[KeptTable]:
    """Write all that a store holds to one file.

    Parameters
    ----------
    where : str
        The store's address; its schema may be an older one.
    out : Path
        The file, which is not there yet.

    Returns
    -------
    list of KeptTable

    Raises
    ------
    FixableError
        If the file is there, or cannot be written.
    StoreError
        If the store cannot be read.
    """
    if out.exists():
        raise FixableError(f"{out} is there already; give a new name, so that nothing is lost")
    begun = out.with_name(f"{out.name}.part")  # half a backup never bears the name of a whole one
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        with (
            closing(open_of_any_schema(where)) as store,
            store.reading() as connection,
            zipfile.ZipFile(begun, "w", zipfile.ZIP_DEFLATED) as archive,
        ):
            kept = _write(connection, archive)
        begun.rename(out)
    except OSError as error:
        raise FixableError(
            f"{out} cannot be written ({error.strerror or error}); give another place: --out"
        ) from None
    finally:
        begun.unlink(missing_ok=True)
    return kept


def _write(connection: Connection, archive: zipfile.ZipFile) -> list[KeptTable]:
    metadata = MetaData()
    metadata.reflect(bind=connection)
    kept = [
        _write_table(connection, archive, table)
        for table in metadata.sorted_tables
        if table.name != SCHEMA_TABLE
    ]
    manifest = {
        "written_by": WRITTEN_BY,
        "format": FORMAT,
        "made_at": now(),
        "schema": schema_of(connection),
        "tables": [asdict(table) for table in kept],
    }
    archive.writestr(MANIFEST, json.dumps(manifest, indent=1))
    return kept


def _write_table(connection: Connection, archive: zipfile.ZipFile, table: Table) -> KeptTable:
    names = [column.name for column in table.columns]
    rows = size = 0
    sha256 = hashlib.sha256()
    with archive.open(KeptTable(table.name, names, 0, 0, "").file, "w", force_zip64=True) as part:
        for line in _lines(connection, table):
            part.write(line)
            sha256.update(line)
            rows += 1
            size += len(line)
    return KeptTable(table.name, names, rows, size, sha256.hexdigest())


def _lines(connection: Connection, table: Table) -> Iterator[bytes]:
    query = select(table).order_by(*table.primary_key.columns)
    for row in connection.execution_options(yield_per=ROWS_AT_ONCE).execute(query):
        values = [_as_json(value) for value in row]
        yield json.dumps(values, ensure_ascii=False, separators=(",", ":")).encode() + b"\n"


def _as_json(value: object) -> object:
    if isinstance(value, bytes | memoryview):
        return {"base64": base64.b64encode(value).decode("ascii")}
    return value
