"""A sheet as one HTML file that prints: nothing is loaded from outside, nothing runs."""

from base64 import b64encode
from functools import cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined, Template
from markupsafe import Markup

from scoring.drawing.look_tokens import PAPER
from scoring.language.reading import current_reading
from scoring.printing.paper import Paper
from scoring.printing.plain_data import plain_data
from scoring.printing.told_sheet import told_sheet
from scoring.sheets.sheet_blocks import Sheet
from scoring.sheets.words_of_engines import WordsOfEngines

HERE = Path(__file__).parent


def as_html(sheet: Sheet, paper: Paper = Paper.A4) -> str:
    """Write a sheet as HTML.

    Parameters
    ----------
    sheet : Sheet
        In English; it is told as who reads it reads.
    paper : Paper
        For what it is printed on.

    Returns
    -------
    str
        One document with its style and pictures in it.

    Examples
    --------
    >>> from scoring.sheets.sheet_blocks import Prose, Section
    >>> page = as_html(Sheet("a sheet", (Section("one", (Prose("<b>"),)),)))
    >>> "<p>&lt;b&gt;</p>" in page
    True
    """
    plain = plain_data(told_sheet(sheet))
    return _template().render(
        sheet=plain.data,
        files={name: _inlined(name, file) for name, file in plain.files.items()},
        language=current_reading().language,
        paper=paper,
        look=PAPER,
        said=told_sheet(WordsOfEngines()),
    )


def _inlined(name: str, file: bytes) -> Markup:
    """Return what stands in ``src`` of a picture."""
    kind = {"svg": "image/svg+xml", "jpg": "image/jpeg"}[name.rpartition(".")[2]]
    return Markup(f"data:{kind};base64,{b64encode(file).decode()}")  # noqa: S704 - letters of base 64


@cache
def _template() -> Template:
    surroundings = Environment(
        loader=FileSystemLoader(HERE),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return surroundings.get_template("sheet.html")
