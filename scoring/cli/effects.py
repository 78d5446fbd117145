"""``mount-risk effects``: the handbook as a table."""

from pathlib import Path

import click

from scoring.cli.screen import say
from scoring.files.write_table import check_suffix, write_table
from scoring.handbook.base_rates import BASE_RATES
from scoring.handbook.effect import MODES
from scoring.handbook.effects_table import effects_table


@click.command()
@click.option(
    "--out", type=click.Path(path_type=Path), help="Write the table: .csv, .parquet, .xlsx."
)
def effects(out: Path | None) -> None:
    """Print by what each finding multiplies the hazard of each failure, and on whose word."""
    table = effects_table()
    if out is not None:
        check_suffix(out)
        write_table(table, out, sheet="effects")
    for mode in MODES:
        rate = BASE_RATES[mode]
        say(f"{mode}: field rate {rate.field_rate:g} a unit-year; {rate.origin}")
        for row in table[table["failure_mode"] == mode].to_dict("records"):
            say(
                f"  {row['effect']}, {row['state']}: x {row['multiplier']:.2g} "
                f"({row['low']:.2g} to {row['high']:.2g}); usual in {row['usual_share']:.0%}; "
                f"{row['origin']}"
            )
        say("")
