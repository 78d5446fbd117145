"""What each word that an inspector may write asks for: common practice, no source; by hand."""

from functools import cache

import numpy as np
import pytest
from fleets import Book
from joints import joints

from scoring.limits import unit_limits
from scoring.rules.findings import find
from scoring.rules.rule import Severity
from scoring.rules.slip import CURES

HOLD, CORRECT, WATCH, GOOD = Severity.HOLD, Severity.CORRECT, Severity.WATCH, None
KEYED, DISC, BUSHING = "keyed_bore", "shrink_disc", "tapered_bushing"
WITH_BUSHINGS = "shrink_disc_support_bushings"

ASKED = {
    (DISC, "bore_condition"): {
        "clean_dry": GOOD,
        "dust_or_dirt": CORRECT,
        "oil_film": HOLD,
        "antiseize_or_grease": HOLD,
    },
    (DISC, "clamp_seat_condition"): {
        "clean_dry": GOOD,
        "dust_or_dirt": CORRECT,
        "oil_film": CORRECT,
        "antiseize_or_grease": CORRECT,
    },
    (DISC, "seated"): {"home": GOOD, "short": CORRECT},
    (WITH_BUSHINGS, "support_bushings"): {"seated": GOOD, "proud": CORRECT, "missing": HOLD},
    (BUSHING, "shaft_end"): {"reaches": GOOD, "short": HOLD},
    (KEYED, "shaft_end"): {"reaches": GOOD, "short": CORRECT},
    (KEYED, "shaft_seat"): {"sound": GOOD, "fretted": CORRECT, "worn": CORRECT},
    (KEYED, "key_condition"): {
        "right": GOOD,
        "loose": CORRECT,
        "short": CORRECT,
        "missing": HOLD,
    },
    (KEYED, "retention"): {"tight": GOOD, "loose": CORRECT, "missing": HOLD},
    (DISC, "screws_rechecked"): {"yes": GOOD, "no": CORRECT},
    (KEYED, "arm_bolts"): {"tight": GOOD, "loose": CORRECT, "missing": HOLD},
    (KEYED, "isolator_stack"): {
        "complete": GOOD,
        "washer_missing": CORRECT,
        "damaged": CORRECT,
        "isolator_missing": HOLD,
    },
    (KEYED, "metal_contact"): {"no": GOOD, "yes": HOLD},
    (KEYED, "breather"): {"open": GOOD, "plugged": CORRECT},
    (KEYED, "oil_level"): {"right": GOOD, "high": CORRECT, "low": HOLD},
    (KEYED, "oil_condition"): {
        "clean": GOOD,
        "wrong_type": CORRECT,
        "water": CORRECT,
        "metal": CORRECT,
    },
    (KEYED, "seal_lip"): {"clean": GOOD, "painted": CORRECT, "damaged": CORRECT},
    (KEYED, "guard"): {"fitted": GOOD, "missing": HOLD},
    (KEYED, "seal_weep"): {"dry": GOOD, "damp": WATCH, "dripping": CORRECT},
}
WORDS = [(*key, word, asked) for key, words in ASKED.items() for word, asked in words.items()]
OF_THEIR_OWN = {  # words whose work is another than that of the others of their check
    ("key_condition", "missing"): "key_missing",
    ("isolator_stack", "damaged"): "isolator_damaged",
    ("isolator_stack", "washer_missing"): "washer_missing",
    ("oil_condition", "metal"): "metal_in_oil",
    ("oil_condition", "water"): "oil_not_right",
    ("clamp_seat_condition", "oil_film"): "lubricant_under_disc",
    ("clamp_seat_condition", "dust_or_dirt"): "disc_seat_not_clean",
}


@cache
def found():
    """Return check, rule and severity of what is found at one unit for each word, by its name."""
    book = Book()
    for number, (mounting, check, word, _) in enumerate(WORDS):
        book.unit(f"U{number:02}", mounting=mounting)
        book.look("2024-05-02", f"U{number:02}", kind="periodic", **{check: word})
    known = book.known("2024-06-01")
    nothing = np.full(len(WORDS), 9.0)
    grip = joints(nothing, nothing, dict.fromkeys(CURES, np.ones(len(WORDS))))
    table = find(book.timeline(), known, unit_limits(known.units), grip).table
    return {one.unit_id: (one.check, one.rule, one.severity) for one in table.itertuples()}


@pytest.mark.parametrize(
    ("number", "check", "word", "asked"),
    [(number, check, word, asked) for number, (_, check, word, asked) in enumerate(WORDS)],
)
def test_what_a_word_asks_for(number, check, word, asked):
    told = found().get(f"U{number:02}")
    assert (told and (told[0], told[2])) == (None if asked is GOOD else (check, asked))
    if (check, word) in OF_THEIR_OWN:
        assert told[1] == OF_THEIR_OWN[check, word]
