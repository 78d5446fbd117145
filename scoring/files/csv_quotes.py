"""Are the double quotes of a CSV file in order? A quote left open would swallow rows unseen."""

import numpy as np

_QUOTE, _COMMA, _LINE_FEED, _RETURN = b'",\n\r'
_AT_ONCE = 1 << 22


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
    edges = (_COMMA, _LINE_FEED, _RETURN, _QUOTE)  # a doubled quote closes and opens again
    count = 0
    for start in range(0, len(text), _AT_ONCE):
        quotes = np.flatnonzero(text[start : start + _AT_ONCE] == _QUOTE) + start
        opening, closing = quotes[count % 2 :: 2], quotes[1 - count % 2 :: 2]
        before = text[opening[opening > 0] - 1]
        after = text[closing[closing < len(text) - 1] + 1]
        if not (np.isin(before, edges).all() and np.isin(after, edges).all()):
            return False
        count += len(quotes)
    return count % 2 == 0
