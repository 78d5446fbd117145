"""Text that both databases keep to the letter."""

LONGEST_NAME = 100
"""Of the name of who changes something; planning value of ours. [characters]"""

LONGEST_REASON = 2000
"""Of a reason in a person's own words; planning value of ours. [characters]"""


def not_whole(text: str, longest: int) -> str:
    r"""Tell what is wrong with a text that is to be kept; empty where nothing is.

    PostgreSQL keeps no NUL, and half of a character cannot be written in UTF-8 at all.

    Parameters
    ----------
    text : str
        As typed.
    longest : int
        How many characters it may have.

    Returns
    -------
    str

    Examples
    --------
    >>> not_whole("Müller", 100), not_whole("a\0b", 100)
    ('', 'holds the character NUL')
    """
    if len(text) > longest:
        return f"is longer than {longest} characters"
    if "\0" in text:
        return "holds the character NUL"
    if any("\ud800" <= letter <= "\udfff" for letter in text):
        return "holds what is no whole character"
    return ""
