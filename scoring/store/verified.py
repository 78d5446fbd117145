"""A store, or a backup of one, verified whole."""

from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from scoring.store.integrity import check_store
from scoring.store.open_store import open_store
from scoring.store.restore_backup import restore_backup
from scoring.store.store_or_files import is_store_address
from scoring.store.verify_store import Head, head_of


@dataclass(frozen=True)
class Verified:
    """What was found.

    Attributes
    ----------
    faults : list of str
        In words; empty where nothing was changed past this program.
    head : Head
        How far the chain reaches.
    remarks : list of str
        What a person should know, and is no fault: that the clock was set back.
    """

    faults: list[str]
    head: Head
    remarks: list[str]


def verify(where: str, kept: Head | None = None) -> Verified:
    """Verify a store, or a backup by restoring it beside.

    Parameters
    ----------
    where : str
        Address of a store, or path of a backup.
    kept : Head, optional
        A head that was kept elsewhere.

    Raises
    ------
    FixableError
        If it cannot be read.
    """
    if is_store_address(where):
        return _verified(where, kept)
    with TemporaryDirectory(prefix="verify-") as folder:
        beside = f"sqlite:///{Path(folder) / 'restored.db'}"
        restore_backup(Path(where), beside)
        return _verified(beside, kept)


def _verified(where: str, kept: Head | None) -> Verified:
    with closing(open_store(where)) as store, store.reading() as connection:
        found = check_store(connection, kept)
        return Verified(found.faults, head_of(connection), found.remarks)
