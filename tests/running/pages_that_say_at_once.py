"""The pages, saying at once what is being worked out and not after a moment."""

import sys

from dashboard import long_work
from scoring.cli.main import cli

if __name__ == "__main__":
    long_work.LOOK_AGAIN_S = 0.0
    cli(["dashboard", *sys.argv[1:]])
