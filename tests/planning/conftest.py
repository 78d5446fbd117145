"""The builders of small and of generated fleets serve here too."""

import sys
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS / name) for name in ("learning_rows", "timeline", "what_if", "rules")]
