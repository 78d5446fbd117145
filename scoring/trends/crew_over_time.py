"""Whether a crew's hangings get better: the later half of them beside the earlier."""

from dataclasses import dataclass

import pandas as pd

from scoring.trends.change_with_interval import Change, change_of_shares

Counts = tuple[int, int]
"""How many were so, of how many."""


@dataclass(frozen=True)
class OverTime:
    """A share of the earlier hangings of a crew, and of the later ones.

    Attributes
    ----------
    what : str
        A check, or empty where it is all steps together.
    earlier, later : tuple of int
        How many looks found it wrong, of how many.
    """

    what: str
    earlier: Counts
    later: Counts

    @property
    def change(self) -> Change | None:
        """The change of the share, less being better; None where either half has no look."""
        if min(self.earlier[1], self.later[1]) == 0:
            return None
        return change_of_shares(self.later, self.earlier)


@dataclass(frozen=True)
class CrewOverTime:
    """The halves of a crew's hangings.

    Attributes
    ----------
    since : Timestamp or None
        The first day of the later half; None where there is but one day.
    shares : tuple of OverTime
        All steps together, then those that were asked for.
    """

    since: pd.Timestamp | None
    shares: tuple[OverTime, ...]


def crew_over_time(looks: pd.DataFrame, crew: str, checks: tuple[str, ...]) -> CrewOverTime:
    """Put the later half of a crew's hangings beside the earlier.

    Parameters
    ----------
    looks : DataFrame
        From ``looks_after_hanging``.
    crew : str
        The crew.
    checks : tuple of str
        Checks to be told one by one.

    Returns
    -------
    CrewOverTime
    """
    own = looks[looks["crew"] == crew]
    days = own.drop_duplicates(["unit_id", "hung_on"])["hung_on"].sort_values(ignore_index=True)
    if days.nunique() < 2:
        return CrewOverTime(None, ())
    middle = days.iloc[len(days) // 2]
    since = middle if middle > days.iloc[0] else days[days > middle].iloc[0]
    later = own["hung_on"] >= since
    shares = []
    for what in ("", *checks):
        some = own["check"] == what if what else own["check"].notna()
        halves = (own.loc[some & part, "wrong"] for part in (~later, later))
        earlier, now = ((int(wrong.sum()), len(wrong)) for wrong in halves)
        shares.append(OverTime(what, earlier, now))
    return CrewOverTime(since, tuple(shares))
