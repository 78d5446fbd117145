"""The floor: read the four files as text with pandas, and write the same ranking.

``python text_floor.py FOLDER RANKING.pickle RANKING.csv``. It prints what taking the ranking up
took of a processor and of the clock, which is no part of the floor. [s]
"""

import sys
import time
from pathlib import Path

import pandas as pd

if __name__ == "__main__":
    folder, kept, out = sys.argv[1:]
    tables = [
        pd.read_csv(Path(folder) / f"{name}.csv", dtype=str)
        for name in ("units", "walkdowns", "events", "rework")
    ]
    begun = time.process_time(), time.perf_counter()
    ranking = pd.read_pickle(kept)  # noqa: S301 - written by the same command a moment ago
    sys.stdout.write(f"{time.process_time() - begun[0]} {time.perf_counter() - begun[1]}\n")
    ranking.to_csv(out, index=False)
