"""Write a fleet into a folder: CSV for the records, Parquet for the truth."""

from pathlib import Path

import pandas as pd
import pyarrow as pa
import pyarrow.csv as pa_csv
import pyarrow.parquet as pa_parquet

from demo_data.fleet import Fleet

RECORDS = ("units", "walkdowns", "events", "rework", "accepted")
TRUTHS = ("units", "actions", "checks", "effects")


def write_fleet(fleet: Fleet, folder: Path | str) -> None:
    """Write a fleet.

    Parameters
    ----------
    fleet : Fleet
        What to write.
    folder : path
        Made if it is not there; files of the same names are overwritten.

    Raises
    ------
    OSError
        If a file cannot be written.
    """
    folder = Path(folder)
    truth = folder / "truth"
    truth.mkdir(parents=True, exist_ok=True)
    for name in RECORDS:
        _write_csv(getattr(fleet, name), folder / f"{name}.csv")
    for name in TRUTHS:
        table = pa.Table.from_pandas(getattr(fleet.truth, name), preserve_index=False)
        pa_parquet.write_table(
            table.replace_schema_metadata(),
            truth / f"{name}.parquet",
            compression="zstd",
            compression_level=1,
        )


def _write_csv(table: pd.DataFrame, path: Path) -> None:
    table = table.astype({c: "str" for c in table if table[c].isna().all()})
    columns = pa.Table.from_pandas(table, preserve_index=False).replace_schema_metadata()
    options = pa_csv.WriteOptions(quoting_style="none", quoting_header="none")
    pa_csv.write_csv(columns, path, options)
