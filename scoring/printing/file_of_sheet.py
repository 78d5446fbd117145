"""A sheet as the bytes of a file of some kind, by the end of its name."""

from scoring.errors import FixableError
from scoring.printing.as_html import as_html
from scoring.printing.as_pdf import as_pdf
from scoring.printing.paper import Paper
from scoring.sheets.sheet_blocks import Sheet

SUFFIXES = (".pdf", ".html")


def check_suffix_of_sheet(suffix: str) -> None:
    """Refuse a kind of file that no sheet is written as, before anything is worked out.

    Raises
    ------
    FixableError
        If it is neither ``.pdf`` nor ``.html``.

    Examples
    --------
    >>> check_suffix_of_sheet(".pdf")
    """
    if suffix.lower() not in SUFFIXES:
        raise FixableError(
            f"a sheet cannot be written as {suffix or 'a file without an ending'!r}; give a name "
            f"that ends in {' or '.join(SUFFIXES)}: --out"
        )


def file_of_sheet(sheet: Sheet, suffix: str, paper: Paper = Paper.A4) -> bytes:
    """Return a sheet as the bytes of a file.

    Parameters
    ----------
    sheet : Sheet
        What stands on it.
    suffix : str
        ``.pdf`` or ``.html``.
    paper : Paper
        Its size.

    Raises
    ------
    FixableError
        If it is another kind of file.
    """
    check_suffix_of_sheet(suffix)
    return as_pdf(sheet, paper) if suffix.lower() == ".pdf" else as_html(sheet, paper).encode()
