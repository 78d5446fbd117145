"""From text cells to a checked fleet: nothing is guessed and nothing is lost."""

from scoring.intake.check_fleet import CheckedFleet, check_fleet
from scoring.intake.junk import refuse_junk
from scoring.intake.raw import RawTable, RawTrouble

__all__ = ["CheckedFleet", "RawTable", "RawTrouble", "check_fleet", "refuse_junk"]
