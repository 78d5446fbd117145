"""How a sheet is to be made: options that all kinds share, as one thing."""

from collections.abc import Callable
from dataclasses import dataclass, fields
from functools import wraps
from pathlib import Path
from typing import Any

import click

from scoring.cli.screen import say
from scoring.contract.quantities import METRIC
from scoring.errors import FixableError
from scoring.files.whole_file import whole_file
from scoring.language.reading import ENGLISH, LANGUAGES, MEASURES, reading_as, reading_from
from scoring.printing.file_of_sheet import check_suffix_of_sheet, file_of_sheet
from scoring.printing.paper import Paper
from scoring.sheets.sheet_blocks import Sheet

_OPTIONS: tuple[Callable[[Any], Any], ...] = (
    click.option(
        "--out",
        type=click.Path(path_type=Path, dir_okay=False),
        required=True,
        help="The file to write: .pdf or .html.",
    ),
    click.option(
        "--paper",
        type=click.Choice([paper.value for paper in Paper]),
        default=Paper.A4.value,
        show_default=True,
        help="Its size.",
    ),
    click.option(
        "--language",
        type=click.Choice(tuple(LANGUAGES)),
        default=ENGLISH,
        show_default=True,
        help="In which it speaks.",
    ),
    click.option(
        "--measures",
        type=click.Choice(MEASURES),
        default=METRIC,
        show_default=True,
        help="Units of measure.",
    ),
    click.option(
        "--host",
        default="",
        metavar="ADDRESS",
        help="Where the pages are, as https://plant.example:8501; put into the codes.  [the "
        "unit's id alone]",
    ),
)


@dataclass(frozen=True)
class SheetAsked:
    """A sheet to be made, as the person who asks gave it."""

    out: Path
    paper: str
    language: str
    measures: str
    host: str

    def write(self, sheet: Sheet) -> None:
        """Write a sheet, and say where.

        Raises
        ------
        FixableError
            If the file cannot be written.
        """
        kept = {"language": self.language, "measures": self.measures}
        with reading_as(reading_from(kept)):
            file = file_of_sheet(sheet, self.out.suffix, Paper(self.paper))
        try:
            with whole_file(self.out) as place:
                place.write_bytes(file)
        except OSError as error:
            raise FixableError(
                f"{self.out} cannot be written ({error.strerror or error}); give another file: "
                "--out"
            ) from None
        say(f"{self.out}: {sheet.title}, {len(file) / 1000:.0f} kB")
        if sheet.cautions:
            say(sheet.cautions)


def asks_for_a_sheet(command: Callable[..., None]) -> Callable[..., None]:
    """Add the options of making a sheet; the command gets them as a ``SheetAsked``."""

    @wraps(command)
    def gathered(**given: Any) -> None:  # noqa: ANN401 - whatever click hands over
        asked = SheetAsked(**{part.name: given.pop(part.name) for part in fields(SheetAsked)})
        check_suffix_of_sheet(asked.out.suffix)
        command(asked=asked, **given)

    for option in reversed(_OPTIONS):
        gathered = option(gathered)
    return gathered
