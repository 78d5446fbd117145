"""The work order of a plan: the shutdown by day and by whom, then the pages of each job."""

from collections.abc import Iterator

from scoring.contract.cautions import CAUTIONS
from scoring.records import Fleet
from scoring.sheets.foot_of_pages import foot_of_pages
from scoring.sheets.job_on_paper import job_on_paper, spells_said
from scoring.sheets.sheet_blocks import Section, Sheet
from scoring.sheets.shutdown_on_paper import holds_on_paper, shutdown_on_paper
from scoring.sheets.work_to_order import WorkToOrder


def work_order(work: WorkToOrder, fleet: Fleet, host: str = "") -> Sheet:
    """Return the work order of a plan.

    Parameters
    ----------
    work : WorkToOrder
        The plan.
    fleet : Fleet
        Its records.
    host : str
        Where the pages are; by default a code holds the unit's id alone.

    Returns
    -------
    Sheet
        By shutdown: what is done on which day by whom, then each job in the order in which it
        begins. Before the jobs, what stays on hold.

    Raises
    ------
    FixableError
        If a code would be too long for a phone to read, or the host is no address.
    """
    return Sheet(
        "Work order",
        tuple(_sections(work, host)),
        foot_of_pages(fleet, work.assessment.known.as_of),
        CAUTIONS,
    )


def _sections(work: WorkToOrder, host: str) -> Iterator[Section]:
    windows = work.windows.to_dict("records")
    yield from (shutdown_on_paper(work, window) for window in windows)
    holds = holds_on_paper(work)
    if holds is not None:
        yield holds
    for window in windows:
        rows, days = work.days_of(window)
        spells = days.spells
        for job in [*spells["job"].drop_duplicates(), *days.not_fitting]:
            said = spells_said(spells[spells["job"] == job], window["starts_on"])
            yield job_on_paper(work, int(rows[job]), *said, host)
