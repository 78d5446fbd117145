"""The kept plants as data sets of Parquet: files in folders, rows in any order."""

import pandas as pd
import pyarrow as pa
import pyarrow.parquet as pq

from scoring.files.read_fleet import read_fleet


def text_tables(plant):
    """Return the tables of a plant as they are written, cells as text."""
    found = read_fleet(plant)
    return {
        name: pa.table(dict(zip(raw.headings, raw.cells, strict=True)))
        for name, raw in found.tables.items()
    }


def shuffled(table, seed):
    order = pd.Series(range(len(table))).sample(frac=1.0, random_state=seed)
    return table.take(pa.array(order.to_numpy()))


def write_data_set(tables, folder, *, by_site=True):
    """Write tables into folders: units by site as hive partitions, all else in three files."""
    for name, table in tables.items():
        place = folder / name
        if name == "units" and by_site:
            pq.write_to_dataset(shuffled(table, 1), place, partition_cols=["site"])
            continue
        place.mkdir(parents=True)
        mixed, third = shuffled(table, 2), -(-len(table) // 3)
        for part in range(3):
            pq.write_table(mixed.slice(part * third, third), place / f"part-{part}.parquet")
    return folder
