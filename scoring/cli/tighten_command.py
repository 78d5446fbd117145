"""``mount-risk tighten``: torque of each pass and order of the screws."""

import click

from scoring.cli.screen import say
from scoring.contract.cautions import CAUTIONS
from scoring.contract.mountings import CLAMPED
from scoring.rules.tightening_schedule import LEAST_PASSES, tightening_table


@click.command()
@click.option("--mounting", type=click.Choice(CLAMPED), required=True)
@click.option("--screws", type=int, required=True, help="Clamp screws on the circle.")
@click.option(
    "--final-torque-nm",
    type=float,
    required=True,
    help="Final torque from the unit's own manual, in N·m.",
)
@click.option("--passes", type=int, default=LEAST_PASSES, show_default=True)
def tighten(mounting: str, screws: int, final_torque_nm: float, passes: int) -> None:
    """Print the torque of each pass and the order of the screws."""
    table = tightening_table(final_torque_nm, screws, mounting, passes)
    for row in table.to_dict("records"):
        say(f"pass {row['pass']}: {row['torque_nm']:g} N·m ({row['share']:.0%})")
        say(f"    screws {row['order']}")
    say(
        "Common practice, no source: screws hand-tight all round first; torque wrench for every "
        "pass. The final torque and the number of passes are those of the unit's own manual."
    )
    say(CAUTIONS)
