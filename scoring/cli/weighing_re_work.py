"""Weigh re-work, and plan it, with nothing on the screen but that it is at work."""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager

import pandas as pd

from scoring.assessment import Assessment, FleetAssessor
from scoring.cli.screen import err
from scoring.planning.bundles import weigh_bundles
from scoring.what_if.rework_success import learn_rework_success
from scoring.what_if.site_efforts import SiteEfforts


def weighed(assessor: FleetAssessor, assessment: Assessment, efforts: SiteEfforts) -> pd.DataFrame:
    """Weigh every set of re-work, showing that it is at work."""
    with err.status("weighing re-work"):
        success = learn_rework_success(assessor.timeline, assessment.known.as_of)
        return weigh_bundles(assessor, assessment, success, efforts)


@contextmanager
def without_chatter() -> Iterator[None]:
    """Keep what the solver's own code writes now and then out of the result."""
    sys.stdout.flush()
    kept, nowhere = os.dup(1), os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 1)
        yield
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)
