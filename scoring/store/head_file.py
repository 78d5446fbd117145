"""The head of a store's chain as a small file, to be kept where nobody who can write there can."""

import json
from pathlib import Path

from scoring.errors import FixableError
from scoring.files.whole_file import whole_file
from scoring.store.verify_store import Head

LONGEST = 2000
"""No head is longer. [bytes]"""


def write_head(head: Head, path: Path) -> None:
    """Write a head.

    Raises
    ------
    FixableError
        If the file cannot be written.
    """
    said = {"store": head.store_id, "lines": head.lines, "seal": head.seal}
    try:
        with whole_file(path) as place:
            place.write_text(json.dumps(said, indent=1) + "\n", encoding="utf-8")
    except OSError as error:
        raise FixableError(
            f"{path} cannot be written ({error.strerror or error}); give another file: --head-out"
        ) from None


def read_head(path: Path) -> Head:
    """Read a head.

    Raises
    ------
    FixableError
        If the file cannot be read, or holds none.
    """
    try:
        with path.open(encoding="utf-8") as file:
            said = json.loads(file.read(LONGEST))
        store_id, lines, seal = said["store"], said["lines"], said["seal"]
    except OSError as error:
        raise FixableError(f"{path} cannot be read ({error.strerror or error})") from None
    except (ValueError, KeyError, TypeError):
        raise FixableError(f"{path} holds no head; one is written by: --head-out") from None
    if not (isinstance(store_id, str) and isinstance(seal, str) and type(lines) is int):
        raise FixableError(f"{path} holds no head; one is written by: --head-out")
    return Head(store_id, lines, seal)
