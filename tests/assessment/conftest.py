"""The builders of small and of generated fleets serve here too."""

import sys
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(TESTS / "learning_rows"), str(TESTS / "timeline")]
