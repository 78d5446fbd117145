"""Write an invented fleet: ``python -m demo_data FOLDER --units 2000 --seed 7``."""

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from demo_data.families import FAMILIES, PLAIN
from demo_data.generate import generate_fleet
from demo_data.plants import FOLDER, PLANTS
from demo_data.write import write_fleet


def _arguments(words: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        prog="python -m demo_data",
        description="Write an invented fleet: five years of records, and the truth beside them.",
    )
    parser.add_argument("folder", type=Path, nargs="?", help="where to write it")
    parser.add_argument("--units", type=int, default=400, help="number of units (default 400)")
    parser.add_argument("--seed", type=int, default=1, help="everything follows from it")
    parser.add_argument("--sites", type=int, help="number of sites (default: by units, 1 to 12)")
    parser.add_argument("--family", choices=FAMILIES, default=PLAIN, help="default plain")
    parser.add_argument("--end", default="2026-06-30", help="last day of the records")
    parser.add_argument(
        "--plants", action="store_true", help="write the plants of this package again instead"
    )
    given = parser.parse_args(words)
    if given.folder is None and not given.plants:
        parser.error("say where to write the fleet, or --plants")
    return given


def main(words: Sequence[str] | None = None) -> int:
    """Write what the command line asks for; return the exit status."""
    given = _arguments(words)
    try:
        if given.plants:
            for name, plant in PLANTS.items():
                write_fleet(plant.generate(), (given.folder or FOLDER) / name)
        else:
            fleet = generate_fleet(
                given.units, given.seed, given.sites, given.end, family=given.family
            )
            write_fleet(fleet, given.folder)
    except (OSError, ValueError) as error:
        sys.stderr.write(f"demo_data: {error}\n")
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main())
