"""Write pictures as SVG files, under names that any file system takes."""

from collections.abc import Mapping
from pathlib import Path

from scoring.errors import FixableError
from scoring.files.whole_file import whole_file


def write_pictures(svg: Mapping[str, str], unit_id: str, folder: Path) -> list[Path]:
    """Write the pictures of a unit.

    Parameters
    ----------
    svg : mapping of str to str
        SVG documents by the word that ends the name of each file.
    unit_id : str
        The unit, which begins the name.
    folder : Path
        Made if need be; pictures of an earlier day are replaced.

    Returns
    -------
    list of Path
        What was written.

    Raises
    ------
    FixableError
        If the folder or a file cannot be written.
    """
    begin = safe_name(unit_id)
    paths = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for word, text in svg.items():
            path = folder / f"{begin}_{word}.svg"
            with whole_file(path) as place:
                place.write_text(text, encoding="utf-8")
            paths.append(path)
    except OSError as error:
        raise FixableError(
            f"{folder} cannot be written ({error.strerror or error}); give another folder: --out"
        ) from None
    return paths


def safe_name(unit_id: str) -> str:
    """Return a unit's id as a part of a file's name; two ids never share one.

    Examples
    --------
    >>> safe_name("NQ-219"), safe_name("../a/b"), safe_name("<1>")
    ('NQ-219', '%2E%2E%2Fa%2Fb', '%3C1%3E')
    """
    return "".join(
        letter if letter.isalnum() or letter in "-_" else _quoted(letter) for letter in unit_id
    )


def _quoted(letter: str) -> str:
    return "".join(f"%{byte:02X}" for byte in letter.encode())
