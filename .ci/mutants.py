"""Make small slips in the code and tell which ones the tests of its own package notice.

Run as ``python .ci/mutants.py rules planning --sample 150 --seed 7``. The work tree is never
touched: each slip, a mutant, stands alone in a copy of it. A mutant is killed when the tests in
``tests/PACKAGE`` or the examples in the mutated module fail, or work several times as long as they
do without it. One that is reached only while its module is imported counts the same: each run
imports the code anew. What survives is code that nobody would miss, unless it changes nothing:
that is judged by a person, in ``tests/mutants/judged_equivalent.toml``, and both rates are told.
Exits with the number of survivors that nobody judged, a hundred at most.
"""

import argparse
import sys
from collections import Counter

from judged_mutants import judged, why_equivalent
from mutant_runs import ROOT, SURVIVED, as_they_stand, try_all
from mutations import Mutant, draw
from noted_reach import note, noted_before
from tests_that_reach import Reach

PACKAGES = ("mechanics", "rules", "handbook", "timeline", "planning")
JUDGED = "judged"


def main() -> int:
    """Draw mutants, try them, tell what became of each; return how many nobody can explain."""
    asked = _asked()
    drawn = {one: draw(ROOT, one, asked.sample, asked.seed) for one in asked.packages}
    number = {id(one): place for some in drawn.values() for place, one in enumerate(some, 1)}
    mutants = [one for some in drawn.values() for one in some]
    picked = [one for one in mutants if not asked.only or number[id(one)] in asked.only]
    if asked.list:
        for one in picked:
            print(number[id(one)], _told(one))
        return 0
    known, became = judged(ROOT), {package: Counter[str]() for package in drawn}
    if asked.plain:
        taken = [one for one in picked if why_equivalent(one, known)]
        picked = [one for one in picked if one not in taken]
        for one in taken:
            became[one.path.parts[1]][JUDGED] += 1
            print(f"{number[id(one)]:4} {JUDGED:8} {_told(one)}  (not tried)")
    stands = noted_before(ROOT, asked.packages, tests_pass=asked.tests_pass)
    if asked.plain:
        stands = dict.fromkeys(asked.packages, Reach({}, {}))
    missing = [package for package in asked.packages if package not in stands]
    stands |= as_they_stand(missing, asked.at_once)
    for package in missing:
        note(ROOT, package, stands[package])
    for outcome in try_all(picked, asked.at_once, stands):
        if mutant := outcome.trial.mutant:
            why = why_equivalent(mutant, known) if outcome.words == SURVIVED else None
            words = JUDGED if why else outcome.words
            became[outcome.trial.package][words] += 1
            print(f"{number[id(mutant)]:4} {words:8} {_told(mutant)}  ({outcome.seconds:.0f} s)")
            if why:
                print(f"{'':13} {why}")
            sys.stdout.flush()
    print()
    for package, counts in became.items():
        print(_rates(package, counts))
    return min(100, sum(counts[SURVIVED] for counts in became.values()))


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="Which small slips do the tests notice?")
    parser.add_argument("packages", nargs="*", default=PACKAGES, help="folders of scoring")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--sample", type=int, default=150, help="mutants of each package")
    parser.add_argument("--only", type=int, nargs="+", help="numbers of the draw to try")
    parser.add_argument("--list", action="store_true", help="draw, and try nothing")
    parser.add_argument("--at-once", type=int, default=2, help="processes beside one another")
    parser.add_argument(
        "--tests-pass",
        action="store_true",
        help="tests may have changed since they were noted, and pass: do not run them unchanged",
    )
    parser.add_argument(
        "--plain",
        action="store_true",
        help="tests pass, and nothing is noted of them: try all, those that name the module first; "
        "what was judged is not tried again",
    )
    return parser.parse_args()


def _told(one: Mutant) -> str:
    return f"{one.path}:{one.line} [{one.kind}] {one.before} -> {one.after}"


def _rates(package: str, counts: Counter[str]) -> str:
    """Tell how many were killed of all, and of those that nobody judged to change nothing."""
    made, left = counts.total(), counts[SURVIVED] + counts[JUDGED]
    killed, worth = made - left, made - counts[JUDGED]
    return (
        f"{package}: {made} mutants, {killed} killed ({killed / max(made, 1):.1%}), {left} "
        f"survived, {counts[JUDGED]} of them judged to change nothing; "
        f"without those {killed / max(worth, 1):.1%}"
    )


if __name__ == "__main__":
    sys.exit(main())
