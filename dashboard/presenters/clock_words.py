"""What a page says where the clock of its machine is behind what was entered before."""

from datetime import datetime


def clock_words(latest: str) -> str:
    """Say that a clock is wrong.

    Parameters
    ----------
    latest : str
        The latest moment in the records, ISO 8601; empty where the clock is not behind it.

    Returns
    -------
    str
        Empty where there is nothing to say.

    Examples
    --------
    >>> clock_words("")
    ''
    """
    if not latest:
        return ""
    moment = datetime.fromisoformat(latest).astimezone()
    return (
        "The clock of the server is behind what was entered before, last on "
        f"{moment:%Y-%m-%d %H:%M}. What is signed now is kept in its order, with the hour of a "
        "clock that is wrong: have it set right."
    )
