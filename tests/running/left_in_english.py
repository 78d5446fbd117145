"""English words that are left of a message as somebody reads it who reads German."""

import re

from scoring.language.reading import Reading, reading_as
from scoring.language.tell import told

ENGLISH = re.compile(
    r"\b(the|there|this|that|nothing|changed|again|with|cannot|store|database|may|one|from|by|"
    r"been|than|which|holds|give|use|put|it)\b"
)


def left_in_english(words):
    """Return English words of a message, commands and addresses left out."""
    with reading_as(Reading("de")):
        said = told(words)
    return ENGLISH.findall(re.sub(r"mount-risk( --?[a-z-]+| [A-Za-z:/._]+)*|sqlite:\S+", "", said))
