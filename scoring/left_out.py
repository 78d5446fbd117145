"""What no message, page or log may hold: passwords, however they stand in what a person typed."""

import os
import re

LEFT_OUT = "***"

_NAMES = r"(?:pass[wpf]|kennwort|pwd|secret|token|sslkey|credential|apikey|api_key)"
_NAMED = re.compile(rf"(?i)\b(\w*{_NAMES}\w*)(\s*(?:=|%3d)\s*)('[^']*'|\"[^\"]*\"|[^\s&;,'\"]+)")
"""A name and what is said of it: in an address after its question mark, or in a list."""

_BEFORE_A_HOST = re.compile(r"(:/{1,3}[^\s:/@'\"]*):[^\s'\"]*@")
_BARE = re.compile(r"(?<![\w/])([^\s:/@'\"]+):(?!/)[^\s@/'\"]+@(?=[\w\[])")
"""Between a user's name and the host, with what stands before an address and without."""

_VARIABLES = ("PGPASSWORD", "PGSSLPASSWORD")
_LEAST = 4
"""A shorter value of a variable may stand in any text. [characters]"""


def without_secrets(text: str) -> str:
    """Return a text without the passwords in it.

    Parameters
    ----------
    text : str
        A message, as it would be shown.

    Returns
    -------
    str

    Examples
    --------
    >>> without_secrets("postgresql://ann:secret@db/plant?sslpassword=x&sslmode=require")
    'postgresql://ann:***@db/plant?sslpassword=***&sslmode=require'
    >>> without_secrets("the unit C-1 at 10:30: nothing to hide")
    'the unit C-1 at 10:30: nothing to hide'
    """
    for variable in _VARIABLES:
        value = os.environ.get(variable, "")
        if len(value) >= _LEAST:
            text = text.replace(value, LEFT_OUT)
    if "@" in text:
        text = _BEFORE_A_HOST.sub(rf"\1:{LEFT_OUT}@", text)
        text = _BARE.sub(rf"\1:{LEFT_OUT}@", text)
    if "=" in text or "%3" in text:
        text = _NAMED.sub(rf"\1\2{LEFT_OUT}", text)
    return text
