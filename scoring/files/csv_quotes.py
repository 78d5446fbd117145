"""Are the double quotes of a CSV file in order? A quote left open would swallow rows unseen."""

import numpy as np

_QUOTE, _COMMA, _LINE_FEED, _RETURN = b'",\n\r'


def quotes_are_in_order(data: bytes) -> bool:
    """Tell whether every quoted cell is quoted as a whole and closed again.

    Parameters
    ----------
    data : bytes
        A CSV file with commas between its cells, in UTF-8, without byte-order mark.

    Returns
    -------
    bool
        True if there is no quote, or each opens a cell, closes it, or stands doubled within.

    Examples
    --------
    >>> [quotes_are_in_order(line) for line in (b'a,"b, c"', b'a,"b', b'a,5" b,6" c')]
    [True, False, False]
    """
    if b'"' not in data:
        return True
    text = np.frombuffer(data, dtype=np.uint8)
    quotes = np.flatnonzero(text == _QUOTE)
    if len(quotes) % 2:
        return False
    opening, closing = quotes[::2], quotes[1::2]
    edges = (_COMMA, _LINE_FEED, _RETURN, _QUOTE)  # a doubled quote closes and opens again
    before, after = text[opening[opening > 0] - 1], text[closing[closing < len(text) - 1] + 1]
    doubled_before = np.isin(opening - 1, closing)[opening > 0]
    starts_cell = np.isin(before, edges[:3]) | doubled_before
    return bool(starts_cell.all() and np.isin(after, edges).all())
