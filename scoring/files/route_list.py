"""A list of units in the order in which they are walked to, as a CSV file."""

from pathlib import Path

from scoring.errors import UnreadableFleetError
from scoring.files.csv_reading import read_csv

_HEADING = "unit_id"


def read_route_list(path: Path) -> list[str]:
    """Read which units are walked to.

    Parameters
    ----------
    path : Path
        A CSV file with a column ``unit_id``; other columns are left alone.

    Returns
    -------
    list of str
        Their ids, in the order of the file; empty cells left out.

    Raises
    ------
    UnreadableFleetError
        If it cannot be read, or lacks the column or any unit.
    """
    if not path.is_file():
        raise UnreadableFleetError(f"there is no file {path}")
    table = read_csv(path, "units")
    if table.headings.count(_HEADING) != 1:
        raise UnreadableFleetError(
            f"{path.name} needs one column {_HEADING}, with the units in the order of the walk"
        )
    if table.ragged:
        raise UnreadableFleetError(
            f"{path.name}, row {table.ragged[0].row}: has not as many cells as there are headings"
        )
    ids = [cell.strip() for cell in table.column(_HEADING) if cell.strip()]
    if not ids:
        raise UnreadableFleetError(f"{path.name} names no unit under {_HEADING}")
    return ids
