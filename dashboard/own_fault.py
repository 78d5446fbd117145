"""A fault of ours: said in words to who meets it, and kept whole in the server's log."""

import logging
import secrets
import traceback
from datetime import UTC, datetime
from urllib.parse import urlsplit

from dashboard import spoken as st
from dashboard.presenters.own_fault_words import HEADING, own_fault_words
from scoring.contract.cautions import CAUTIONS
from scoring.left_out import without_secrets

LETTERS = "BCDFGHJKLMNPQRSTVWXZ"
"""They make no word, and no number, that would be told in another language."""

_log = logging.getLogger("mount_risk.pages")


def note(error: BaseException, where: str) -> str:
    """Write a fault into the log, and return the mark by which it is found there.

    Parameters
    ----------
    error : BaseException
        What nobody expected.
    where : str
        The page or request that met it.

    Returns
    -------
    str
        Six letters.
    """
    mark = "".join(secrets.choice(LETTERS) for _ in range(6))
    now = datetime.now(UTC).isoformat(timespec="seconds")
    whole = without_secrets("".join(traceback.format_exception(error)))
    _log.error("%s fault %s at %s\n%s", now, mark, where, whole)
    return mark


def show(error: Exception) -> bool:
    """Say on a page that it failed by a fault of ours; the framework need say no more.

    Parameters
    ----------
    error : Exception
        What nobody expected.

    Returns
    -------
    bool
        Always true: it has been shown.
    """
    mark = note(error, urlsplit(str(st.context.url)).path)  # what was asked stays out of the log
    st.header(HEADING)
    for words in own_fault_words(mark):
        st.text(words)
    st.caption(CAUTIONS)
    return True
