"""The pages there are."""

from dataclasses import dataclass

from scoring.access.acts import Act


@dataclass(frozen=True)
class Page:
    """A page: its file, its name in the address, how it is called, and who may open it."""

    file: str
    path: str
    title: str
    act: Act = Act.SEE


BRINGING_IN = Page("views/bring_in_records.py", "bring", "Bring in records", Act.BRING)
"""Where pages lead that have nothing to show."""

PAGES = (
    Page("views/start.py", "start", "Start"),
    Page("views/what_to_fix_first.py", "fix", "What to fix first"),
    Page("views/shutdown_plan.py", "plan", "What to do in a shutdown", Act.SEE_PLANS),
    Page("views/where_to_look.py", "look", "Where to look next"),
    Page("views/one_unit.py", "unit", "One unit"),
    Page("views/enter_walkdowns.py", "walkdowns", "Walkdowns"),
    BRINGING_IN,
    Page("views/getting_better.py", "trend", "Is it getting better", Act.SEE_TREND),
    Page("views/how_far_to_trust.py", "trust", "How far to trust it"),
)
"""In the order of the header; the first is shown where the address names none."""
