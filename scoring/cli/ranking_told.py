"""What commands say of a ranking: how it stands, what it rests on, the worst units, odd records."""

from collections.abc import Mapping

import pandas as pd

from scoring.assessment import Assessment, FleetLearning
from scoring.cli.screen import counted, say, show_worst, warn
from scoring.contract.cautions import CAUTIONS
from scoring.contract.events import MODE_WORDS
from scoring.contract.ranking import VERDICTS
from scoring.learning.other_plants import OtherPlants
from scoring.validation.choose_basis import Basis

SHOWN_NOTES = 5
"""Odd records shown one by one; the others are counted."""


def tell_ranking(assessment: Assessment, show: int) -> None:
    """Print how many units have each verdict, the worst of them, and the cautions."""
    counts = assessment.ranking["verdict"].value_counts()
    by_verdict = {verdict: int(counts[verdict]) for verdict in VERDICTS}
    tell_worst(assessment.ranking.head(max(show, 1)), show, by_verdict, assessment.learning)


def tell_worst(
    worst: pd.DataFrame, show: int, counts: Mapping[str, int], learning: FleetLearning | None
) -> None:
    """Print the same of the worst units, at least one, and of how many have each verdict."""
    units = sum(counts.values())
    share = ", ".join(f"{counts.get(v, 0)} {v}" for v in VERDICTS)
    first = worst.iloc[0]
    say(f"{units} units in service on {first['as_of'].date()}: {share}")
    alone = "; the handbook's alone" if learning is None else ""
    say(f"chances of the first failure within {first['horizon_days']} days{alone}")
    if learning is not None:
        tell_basis(learning)
    say("")
    show_worst(worst, show)
    if units > show:
        say(f"... and {units - show} more")
    say(f"\n{CAUTIONS}")


def tell_basis(learning: FleetLearning) -> None:
    """Print what the chances of each failure rest on, and why."""
    if learning.others is not None:
        say(f"  learning began with {words_of(learning.others)}")
    for mode, basis in learning.basis.items():
        say(f"  {MODE_WORDS[mode]} by {basis.words}: {_learned_from(basis)}{basis.why}")


def words_of(others: OtherPlants, called: str = "other plant") -> str:
    """Say how many plants, units and failures a prior rests on."""
    failures = ", ".join(
        counted(others.failures(mode), words) for mode, words in MODE_WORDS.items()
    )
    plants = counted(len(others.plants), called)
    return f"{plants} of {counted(others.units, 'unit')}: {failures}"


def _learned_from(basis: Basis) -> str:
    if basis.learned is None or basis.learned.by_others_alone:
        return ""
    known = basis.learned.posterior
    of_handbook = f"where the handbook expected {known.expected:.1f}"
    return f"{counted(round(known.events), 'failure')} {of_handbook};\n      "


def tell_what_was_odd(assessment: Assessment) -> None:
    """Report looks that cannot mend a finding, and checks that contradict each other."""
    ignored, contradictory = assessment.known.better_but_ignored, assessment.contradictions
    tell_odd(ignored, contradictory, len(ignored) + len(contradictory))


def tell_odd(ignored: pd.DataFrame, contradictory: pd.DataFrame, count: int) -> None:
    """Report the first of them, and how many there are."""
    for row in ignored.head(SHOWN_NOTES).itertuples(index=False):
        warn(
            f"note: walkdown {row.walkdown_id} of {row.unit_id} finds "
            f"{row.check} {_said(row.value)}; "
            f"only re-work can mend it, so {_said(row.standing)} stands"
        )
    for row in contradictory.head(SHOWN_NOTES).itertuples(index=False):
        warn(f"note: {row.unit_id}: {row.one} and {row.other} contradict; the worse counts")
    more = count - sum(min(len(notes), SHOWN_NOTES) for notes in (ignored, contradictory))
    if more:
        warn(f"note: and {more} more of these")


def _said(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)
