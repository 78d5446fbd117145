"""What a command costs with all processes that it starts: processor, clock, memory together."""

import os
import subprocess
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

LOOKED_AFTER_S = 0.05
"""So often memory is looked at; a clock is told no finer. [s]"""


@dataclass(frozen=True)
class Cost:
    """Processor and clock [s], the most memory that all held at a time [byte], what was printed."""

    processor: float
    clock: float
    memory: int
    printed: str


def cost_of(command):
    """Run a command and return what it cost; stop where it fails.

    Of memory that several processes share each has its part.
    """
    with tempfile.TemporaryFile() as printed:
        begun = time.perf_counter()
        words = [str(word) for word in command]
        process = subprocess.Popen(words, stdout=printed, stderr=subprocess.DEVNULL)
        peak, ended = 0, 0
        while not ended:
            peak = max(peak, sum(_own_share(one) for one in _family_of(process.pid)))
            ended, status, used = os.wait4(process.pid, os.WNOHANG)
            if not ended:
                time.sleep(LOOKED_AFTER_S)
        clock = time.perf_counter() - begun
        process.returncode = os.waitstatus_to_exitcode(status)
        if process.returncode:
            raise SystemExit(f"{' '.join(words)} ended with {process.returncode}")
        printed.seek(0)
        said = printed.read().decode()
    return Cost(used.ru_utime + used.ru_stime, clock, peak, said)


def _family_of(pid):
    """Return a process and all that it started, and they."""
    family = [pid]
    for one in family:
        for task in Path(f"/proc/{one}/task").glob("*/children"):
            try:
                family.extend(int(child) for child in task.read_text().split())
            except OSError:  # it has ended
                continue
    return family


def _own_share(pid):
    try:
        lines = Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines()
    except OSError:  # it has ended
        return 0
    return sum(1024 * int(line.split()[1]) for line in lines if line.startswith("Pss:"))
