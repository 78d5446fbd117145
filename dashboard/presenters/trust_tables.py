"""How far to trust the numbers, as its page shows it."""

from collections.abc import Mapping, Sequence

import pandas as pd

from dashboard.presenters.words import day_said
from scoring.assessment import FleetLearning
from scoring.contract.events import MODE_WORDS
from scoring.explanation.what_the_fleet_says import PRIOR_ONLY, WhatWasLearned, share_in_words
from scoring.explanation.what_would_improve import Improvement
from scoring.learning.covariates import LEVEL_ALONE
from scoring.learning.observed_expected import exact_limits
from scoring.validation.better_than_others import in_words
from scoring.validation.choose_basis import Basis
from scoring.validation.predictions import COUNT, FLEET, HANDBOOK
from scoring.validation.validate import Validation
from scoring.validation.worst_fifth import WORST_SHARE, failures_among_worst

SHOWN_EFFECTS = 12
"""Effects drawn, those first that most failures speak of; the table has all."""

SCORE_WORDS = {
    "predicted_by": "predicted by",
    "units": "units predicted",
    "failures": "failures",
    "harrell": "concordance",
    "uno": "concordance, losses weighed",
    "brier": "Brier score",
    "ratio": "observed over predicted",
    "ratio_low": "from",
    "ratio_high": "to",
    "slope": "slope of calibration",
    "slope_error": "± its standard error",
    "worst_tenth": "failures from the worst tenth",
}

SCORES_MEAN = (
    "Concordance: of two units, how often the one that failed first was predicted more; 0.5 is "
    "chance, 1 perfect. Brier score: mean square distance of chances from what came true; lower "
    "is better. Slope of calibration: 1 is right, below 1 too bold, above 1 too timid; left out "
    "below 20 failures."
)


OTHERS_MEAN = (
    "Ours is the basis named at the top of this page. As of earlier days each learned from what "
    "had been recorded by then, and ordered the units; units of the same day are compared, by "
    "which failed first. The regression is told every finding, every number and word of the "
    "nameplate, site and age, and nothing of the handbook. Chance explains two standard errors."
)


def better_than_others(validation: Validation) -> dict[str, str]:
    """Return by the words of each failure whether ours is better than what a plant could do."""
    return {
        MODE_WORDS[str(mode)]: in_words(rows)
        for mode, rows in validation.compared.groupby("failure_mode", sort=False)
    }


def bases(learning: FleetLearning) -> dict[str, Basis]:
    """Return what each failure's hazards rest on, by its words."""
    return {MODE_WORDS[mode]: basis for mode, basis in learning.basis.items()}


def learned_from(basis: Basis) -> str:
    """Say how many failures were learned from, and how many the handbook had expected."""
    if basis.learned is None:
        return "no failures are kept"
    found = basis.learned.posterior
    return f"{found.events:,.0f} failures, {found.expected:,.0f} expected by the handbook"


def years(predictions: pd.DataFrame) -> pd.DataFrame:
    """Return failures that came and failures predicted, by year and failure.

    Parameters
    ----------
    predictions : DataFrame
        From ``FleetLearning``.

    Returns
    -------
    DataFrame
        ``failure``, ``year`` (as its first day), ``units``, ``observed`` with its exact 90 %
        limits ``low`` and ``high``, ``handbook`` and ``fleet`` predicted.
    """
    sums = (
        predictions.groupby(["failure_mode", "since"], as_index=False)
        .agg(
            units=("place", "size"),
            observed=("failed", "sum"),
            handbook=("expected_handbook", "sum"),
            fleet=("expected_fleet", "sum"),
        )
        .sort_values("since", kind="stable")
    )
    low, high = exact_limits(sums["observed"].to_numpy())
    return sums.assign(
        failure=sums["failure_mode"].map(MODE_WORDS),
        year=sums["since"].dt.strftime("%Y-%m-%d"),
        low=low,
        high=high,
    )


FEW_TO_COUNT = 5
"""Fewer failures of a year are not counted out; ours."""


def came_true(predictions: pd.DataFrame, basis: Mapping[str, Basis]) -> list[str]:
    """Say of the last year how many failures were among the worst fifth, as predicted and counted.

    Parameters
    ----------
    predictions : DataFrame
        From ``FleetLearning``: ``since``, ``failure_mode``, ``failed``, and what orders units.
    basis : mapping of str to Basis
        For each failure, what its chances rest on.

    Returns
    -------
    list of str
        A sentence for each failure; of failures that were few, how many there were.
    """
    said = []
    last = predictions[predictions["since"] == predictions["since"].max()]
    for mode, of_mode in last.groupby("failure_mode", sort=False):
        failure, failed = MODE_WORDS[str(mode)], int(of_mode["failed"].sum())
        since = of_mode["since"].iloc[0]
        year = f"in the year from {day_said(since)}"
        if failed < FEW_TO_COUNT:
            was = "was" if failed == 1 else "were"
            some = f"{failed or 'no'} {failure}{'' if failed == 1 else 's'}"
            said.append(f"There {was} {some} {year}: too few to tell.")
            continue
        ordered_by = FLEET if basis[str(mode)].used else HANDBOOK
        ours, counted = (failures_among_worst(of_mode, by) for by in (ordered_by, COUNT))
        said.append(
            f"Of {failed} {failure}s {year}, {ours:.0f} {'was' if round(ours) == 1 else 'were'} "
            "among the worst fifth as predicted; "
            f"by counting findings {counted:.0f}, by lot {WORST_SHARE * failed:.0f}."
        )
    return said


def groups(validation: Validation, scheme: str) -> pd.DataFrame:
    """Return groups of like risk of one scheme, in words."""
    table = validation.groups[validation.groups["scheme"] == scheme]
    return table.assign(
        failure=table["failure_mode"].map(MODE_WORDS), way=table["predicted_by"].astype(object)
    )


def scores(validation: Validation, scheme: str) -> pd.DataFrame:
    """Return the scores of one scheme, as they are drawn."""
    table = validation.scores[validation.scores["scheme"] == scheme]
    return table.assign(
        failure=table["failure_mode"].map(MODE_WORDS), way=table["predicted_by"].astype(object)
    )


def score_table(validation: Validation, scheme: str) -> pd.DataFrame:
    """Return the scores of one scheme, as a person reads them."""
    table = scores(validation, scheme)
    columns = {"failure": "failure", **SCORE_WORDS}
    shown = table[list(columns)].rename(columns=columns)
    numbers = shown.select_dtypes("float").columns
    return shown.assign(**{name: shown[name].round(3) for name in numbers})


def said(learned: WhatWasLearned, failure: str) -> pd.DataFrame:
    """Return what is said of the effects that most failures of one kind speak of."""
    table = learned.table
    mode = next(name for name, words in MODE_WORDS.items() if words == failure)
    rows = table[(table["failure_mode"] == mode) & table["part"].isin(["effects", "findings"])]
    rows = rows[rows["fleet"] > 1].nlargest(SHOWN_EFFECTS, "accounts_for")
    return _shown(rows, rows["label"] + ": " + rows["state"])


def nothing_said(failure: str) -> str:
    """Say why nothing is drawn of the effects of a failure."""
    mode = next(name for name, words in MODE_WORDS.items() if words == failure)
    if mode in LEVEL_ALONE:
        return f"{PRIOR_ONLY.capitalize()}: so few fail that nothing but their number is learned."
    return "No failure stood beside a finding."


def prior_only(said: pd.DataFrame) -> str:
    """Say which of what is drawn failures taught nothing of; empty where they taught of all."""
    alone = said.loc[said["learned"] == PRIOR_ONLY, "shown"]
    if alone.empty:
        return ""
    named = "all of these" if len(alone) == len(said) else "; ".join(alone)
    return f"{PRIOR_ONLY.capitalize()}: {named}."


def _shown(rows: pd.DataFrame, words: "pd.Series[str]") -> pd.DataFrame:
    return rows.assign(shown=words, learned=rows["share_learned"].map(share_in_words))


def nameplate(learned: WhatWasLearned, failure: str) -> pd.DataFrame:
    """Return what is said of numbers and words on the nameplate, what matters most first."""
    table = learned.table
    mode = next(name for name, words in MODE_WORDS.items() if words == failure)
    rows = table[(table["failure_mode"] == mode) & (table["part"] == "nameplate")]
    rows = rows[rows["unit_years"] > 0].sort_values("accounts_for", ascending=False, kind="stable")
    return _shown(rows, rows["label"] + ": " + rows["state"])


def sites(learned: WhatWasLearned, failure: str) -> pd.DataFrame:
    """Return what is said of sites."""
    table = learned.table
    mode = next(name for name, words in MODE_WORDS.items() if words == failure)
    rows = table[(table["failure_mode"] == mode) & (table["part"] == "site")]
    return _shown(rows, rows["label"])


def crews(learned: WhatWasLearned) -> pd.DataFrame:
    """Return failures and faults by crew, as a person reads them."""
    table = learned.crews
    if table.empty:
        return table
    shown = pd.DataFrame(
        {
            "failure": table["failure_mode"].map(MODE_WORDS),
            "hung by": table["installer"],
            "units": table["units"],
            "failures": table["failures"],
            "expected": table["expected"].round(1),
            "came over expected, drawn towards 1": table["drawn"].round(2),
            "from": table["drawn_low"].round(2),
            "to": table["drawn_high"].round(2),
            "faults seen": table["faults"].round(0),
            "faults expected": table["faults_expected"].round(0),
        }
    )
    return shown.reset_index(drop=True)


def ways_shown(ways: Sequence[Improvement]) -> pd.DataFrame:
    """Return what would make the numbers more certain, one thing to do a row."""
    return pd.DataFrame({"what to do": [one.do for one in ways], "why": [one.why for one in ways]})


def everything_said(learned: WhatWasLearned) -> pd.DataFrame:
    """Return the whole table of what is said, as a person reads it."""
    table = learned.table
    return pd.DataFrame(
        {
            "failure": table["failure_mode"].map(MODE_WORDS),
            "what": table["label"],
            "state": table["state"],
            "handbook x": table["handbook"].round(2),
            "handbook from": table["handbook_low"].round(2),
            "handbook to": table["handbook_high"].round(2),
            "with the fleet x": table["fleet"].round(2),
            "from": table["fleet_low"].round(2),
            "to": table["fleet_high"].round(2),
            "failures": table["failures"].round(0),
            "unit-years": table["unit_years"].round(0),
            "learned": table["share_learned"].map(share_in_words),
            "source": table["origin"],
        }
    ).reset_index(drop=True)
