"""A data set of very many units: one generated fleet whose units come again under other ids."""

import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv as pa_csv
import pyarrow.parquet as pq

from demo_data.generate import generate_fleet
from demo_data.write import RECORDS, write_fleet

UNITS_MADE = 10_000
"""So many units are generated; the others are these again."""

IDS = ("unit_id", "asset_id", "walkdown_id", "event_id", "rework_id", "accepted_id")


def generated(folder, units, seed):
    """Return where a generated fleet lies as CSV; it is made unless it is there."""
    place = folder / f"generated-{units}"
    if not place.exists():
        write_fleet(generate_fleet(units, seed), place)
    return place


def data_set_of(folder, units, seed):
    """Return where a data set of Parquet lies, each table as files in a folder; made if need be."""
    whole = folder / f"parquet-{units}"
    if whole.exists():
        return whole
    made = generated(folder, min(UNITS_MADE, units), seed)
    for name in RECORDS:
        blank_is_missing = pa_csv.ConvertOptions(strings_can_be_null=True)
        table = pa_csv.read_csv(made / f"{name}.csv", convert_options=blank_is_missing)
        (whole / name).mkdir(parents=True)
        for copy in range(-(-units // UNITS_MADE)):
            again = table
            for place, heading in enumerate(table.column_names):
                if heading in IDS:
                    ids = pc.binary_join_element_wise(
                        pa.scalar(f"{copy:03}"), table.column(heading).cast(pa.string()), "-"
                    )
                    again = again.set_column(place, heading, ids)
            pq.write_table(again, whole / name / f"part-{copy:03}.parquet", compression="zstd")
    return whole
