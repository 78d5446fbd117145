"""The builders of small fleets, generated ones and plain lives serve here too."""

import sys
from pathlib import Path

for folder in ("timeline", "learning_rows"):
    sys.path.insert(0, str(Path(__file__).resolve().parents[1] / folder))
