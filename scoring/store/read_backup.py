"""Read a backup: what its manifest says, and its rows, each proved by a digest."""

import base64
import hashlib
import json
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, fields
from pathlib import Path

from scoring.errors import FixableError
from scoring.store.write_backup import FORMAT, MANIFEST, WRITTEN_BY, KeptTable

LARGEST_MANIFEST = 1 << 20
"""Planning value of ours. [byte]"""

LONGEST_LINE = 1 << 26
"""A row is no longer; planning value of ours. [byte]"""

MOST_UNPACKED = 200
"""A file that unpacks to more than so many times its size is no backup; planning value of ours."""

SMALL = 1 << 26
"""A file that unpacks to no more is never too large; planning value of ours. [byte]"""

_DAMAGES = (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError)


class DamagedBackupError(FixableError):
    """The file is no backup, or not a whole one."""

    def __init__(self, path: Path, wrong: str) -> None:
        super().__init__(
            f"{path} cannot be restored: {wrong}. Nothing was changed; fetch the file anew from "
            "where it was kept, or take an older backup"
        )


@dataclass(frozen=True)
class Manifest:
    """What a backup says of itself.

    Attributes
    ----------
    schema : str
        The schema of its tables.
    made_at : str
        When it was made. [UTC]
    tables : dict of str to KeptTable
        By name.
    """

    schema: str
    made_at: str
    tables: dict[str, KeptTable]


class Backup:
    """An open backup.

    Parameters
    ----------
    path : Path
        The file.
    archive : ZipFile
        It, open.
    """

    def __init__(self, path: Path, archive: zipfile.ZipFile) -> None:
        self.path = path
        self._archive = archive
        self.manifest = self._read_manifest()
        self._require_size()

    def rows(self, name: str) -> Iterator[dict[str, object]]:
        """Return the rows of a table, one after the other; the last proves that all are right.

        Raises
        ------
        DamagedBackupError
            If they are not those that were written.
        """
        table = self.manifest.tables[name]
        sha256 = hashlib.sha256()
        count = 0
        with self._archive.open(table.file) as part:
            while line := part.readline(LONGEST_LINE):
                sha256.update(line)
                count += 1
                values = json.loads(line)
                if not isinstance(values, list) or len(values) != len(table.columns):
                    raise self.damaged(f"line {count} of {name} is no row of it")
                yield dict(zip(table.columns, map(_from_json, values), strict=True))
        if sha256.hexdigest() != table.sha256 or count != table.rows:
            raise self.damaged(f"the table {name} is not as it was written")

    def damaged(self, wrong: str) -> DamagedBackupError:
        """Return the error to raise."""
        return DamagedBackupError(self.path, wrong)

    def _read_manifest(self) -> Manifest:
        if MANIFEST not in self._archive.namelist():
            raise self.damaged(f"it holds no {MANIFEST}, so mount-risk backup did not write it")
        with self._archive.open(MANIFEST) as part:
            found = json.loads(part.read(LARGEST_MANIFEST))
        if not isinstance(found, dict) or found.get("written_by") != WRITTEN_BY:
            raise self.damaged("mount-risk backup did not write it")
        if found["format"] != FORMAT:
            raise self.damaged("a newer version of this program wrote it; use that version")
        tables = [KeptTable(**one) for one in found["tables"]]
        if not all(_is_sound(table) for table in tables) or not isinstance(found["schema"], str):
            raise self.damaged(f"its {MANIFEST} is not as it was written")
        return Manifest(found["schema"], str(found["made_at"]), {t.name: t for t in tables})

    def _require_size(self) -> None:
        """Refuse, before anything is unpacked, what is not as large as it says."""
        there = {one.filename: one for one in self._archive.infolist()}
        for table in self.manifest.tables.values():
            if table.file not in there or there[table.file].file_size != table.bytes:
                raise self.damaged(f"the table {table.name} is not as it was written")
        unpacked = sum(one.file_size for one in there.values())
        if unpacked > max(SMALL, MOST_UNPACKED * self.path.stat().st_size):
            raise self.damaged(f"it would unpack to {unpacked >> 20} MB, which no backup does")


def _is_sound(table: KeptTable) -> bool:
    kinds = {"name": str, "columns": list, "rows": int, "bytes": int, "sha256": str}
    return all(isinstance(getattr(table, f.name), kinds[f.name]) for f in fields(table)) and all(
        isinstance(name, str) for name in table.columns
    )


def _from_json(value: object) -> object:
    return base64.b64decode(value["base64"], validate=True) if isinstance(value, dict) else value


@contextmanager
def open_backup(path: Path) -> Iterator[Backup]:
    """Open a backup; whatever turns out to be wrong with it is reported.

    Yields
    ------
    Backup

    Raises
    ------
    DamagedBackupError
        If it is none, or is damaged.
    FixableError
        If it cannot be opened.
    """
    try:
        with zipfile.ZipFile(path) as archive:
            yield Backup(path, archive)
    except OSError as error:
        raise FixableError(f"{path} cannot be opened ({error.strerror or error})") from None
    except _DAMAGES as error:
        raise DamagedBackupError(path, f"it is no whole ZIP file ({error})") from error
    except (KeyError, TypeError, ValueError) as error:
        raise DamagedBackupError(path, "something in it is not as it was written") from error
