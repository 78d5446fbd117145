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
from collections.abc import Iterator

from judged_mutants import Judged, judged, why_equivalent
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
    became = {package: Counter[str]() for package in drawn}
    for mutant, words, told in _tried(picked, asked, judged(ROOT)):
        became[mutant.path.parts[1]][words] += 1
        print(f"{number[id(mutant)]:4} {words:8} {_told(mutant)}  {told}")
        sys.stdout.flush()
    print()
    for package, counts in became.items():
        print(_rates(package, counts))
    return min(100, sum(counts[SURVIVED] for counts in became.values()))


def _tried(
    mutants: list[Mutant], asked: argparse.Namespace, known: list[Judged]
) -> Iterator[tuple[Mutant, str, str]]:
    """Yield each mutant, what became of it, and what is said beside it."""
    stands = dict.fromkeys(asked.packages, Reach({}, {}))
    if asked.plain:  # of what was judged all tests would be run
        for one in mutants:
            if why := why_equivalent(one, known):
                yield one, JUDGED, f"(not tried)\n{'':13} {why}"
        mutants = [one for one in mutants if not why_equivalent(one, known)]
    else:
        stands = noted_before(ROOT, asked.packages, tests_pass=asked.tests_pass)
        missing = [package for package in asked.packages if package not in stands]
        stands |= as_they_stand(missing, asked.at_once)
        for package in missing:
            note(ROOT, package, stands[package])
    for outcome in try_all(mutants, asked.at_once, stands):
        if mutant := outcome.trial.mutant:
            words, told = outcome.words, f"({outcome.seconds:.0f} s)"
            if words == SURVIVED and (why := why_equivalent(mutant, known)):
                words, told = JUDGED, f"{told}\n{'':13} {why}"
            yield mutant, words, told


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
