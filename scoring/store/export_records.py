"""Write the records of a store to files from which a load changes nothing."""

from pathlib import Path

from scoring.files.write_records import require_free, write_records
from scoring.store.open_store import Store
from scoring.store.read_records import read_records


def export_records(store: Store, out: Path, kind: str = "csv") -> list[Path]:
    """Write all records that are not withdrawn, and read them back to be sure.

    Parameters
    ----------
    store : Store
        The store.
    out : Path
        A new or empty folder, or an ``.xlsx`` file that is not there yet.
    kind : str
        How a folder's files are written: ``csv``, ``parquet`` or ``xlsx``.

    Returns
    -------
    list of Path
        What was written.

    Raises
    ------
    FixableError
        If something lies there already, it cannot be written, or the format cannot hold a text.
    """
    require_free(out)
    with store.reading() as connection:
        tables = read_records(connection, store.name)
    return write_records(tables, out, kind)
