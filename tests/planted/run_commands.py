"""Run commands of ``mount-risk`` in this process and tell as JSON what became of each."""

import contextlib
import io
import json
import sys
import traceback
from pathlib import Path

from click.testing import CliRunner

import scoring
from scoring.cli.main import cli
from scoring.errors import FixableError


def told_of(words: list[str]) -> dict[str, object]:
    """Run one command; what a person can put right is an answer, anything else is not."""
    done = CliRunner().invoke(cli, words)
    error, died_of, said = done.exception, "", done.output
    if isinstance(error, FixableError):
        said += str(error)
    elif error is not None and not isinstance(error, SystemExit):
        died_of = "".join(traceback.format_exception(error))
    return {"code": done.exit_code, "said": said, "died_of": died_of}


def main() -> None:
    """Answer what is asked on standard input; only the report goes to standard output."""
    with contextlib.redirect_stdout(io.StringIO()):
        reported = [told_of(words) for words in json.load(sys.stdin)]
    runs_from = str(Path(scoring.__file__).parents[1])
    sys.stdout.write(json.dumps({"runs_from": runs_from, "told": reported}))


if __name__ == "__main__":
    main()
