"""How long a hundred blank walkdown sheets in one PDF take, and how large they are.

``python tests/benchmarks/hundred_walkdown_sheets.py`` tells processor time, for the clock of a
busy machine tells little.
"""

import sys
from time import process_time

from scoring.asking.checked_records import read
from scoring.printing.as_pdf import as_pdf
from scoring.sheets.blank_walkdown import ANY_VISIT, Visit, blank_walkdowns

UNITS = 100


def main() -> None:
    """Print the table."""
    units = read("demo:ore_works").checked.fleet.units
    chosen = units["unit_id"].tolist()[:UNITS]
    for words, visit in (("all asked", ANY_VISIT), ("a round", Visit("periodic", "stopped"))):
        begun = process_time()
        sheet = blank_walkdowns(units, chosen, visit=visit)
        gathered = process_time()
        pdf = as_pdf(sheet)
        done = process_time()
        sys.stdout.write(
            f"{words}: gathered in {gathered - begun:.1f} s, set in {done - gathered:.1f} s of "
            f"processor time, {len(pdf) / UNITS / 1000:.0f} kB a unit, the same again: "
            f"{pdf == as_pdf(sheet)}\n"
        )


if __name__ == "__main__":
    main()
