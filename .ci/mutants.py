"""Make small slips in the code and tell which ones the tests of its own package notice.

Run as ``python .ci/mutants.py --seed 7 --count 40 rules planning``. The work tree is never
touched: each slip, a mutant, stands alone in a copy of it. A mutant is killed when the tests in
``tests/PACKAGE`` or the examples in the mutated module fail, or do not end in time. One that is
reached only while its module is imported counts the same: each run imports the code anew. What
survives is code that nobody would miss: exits with the number of survivors.

A library (mutmut, cosmic-ray) would keep a data base, want a configuration of its own and mutate
whole modules in their order; a random draw, each package in turn, takes fewer lines than that.
"""

import argparse
import random
import sys

from mutant_runs import ROOT, SURVIVED, try_all
from mutations import Mutant, mutants_of

PACKAGES = ("mechanics", "rules", "handbook", "timeline", "planning")


def draw(packages: list[str], count: int, seed: int) -> list[Mutant]:
    """Draw mutants: each package in turn, each kind of change as likely, one a line of code."""
    chance = random.Random(seed)  # noqa: S311 - a draw, no secret
    left = {package: _by_kind(package) for package in packages}
    drawn: list[Mutant] = []
    lines: set[tuple[str, int]] = set()
    while len(drawn) < count and any(left.values()):
        for package in packages:
            while left[package] and len(drawn) < count:
                kind = chance.choice(sorted(left[package]))
                of_kind = left[package][kind]
                one = of_kind.pop(chance.randrange(len(of_kind)))
                if not of_kind:
                    del left[package][kind]
                if (str(one.path), one.line) not in lines:
                    lines.add((str(one.path), one.line))
                    drawn.append(one)
                    break
    return drawn


def _by_kind(package: str) -> dict[str, list[Mutant]]:
    kinds: dict[str, list[Mutant]] = {}
    for path in sorted((ROOT / "scoring" / package).rglob("*.py")):
        for one in mutants_of(path.relative_to(ROOT), path.read_bytes()):
            kinds.setdefault(one.kind, []).append(one)
    return kinds


def main() -> int:
    """Draw mutants, try them, tell what became of each; return how many survived."""
    parser = argparse.ArgumentParser(description="Which small slips do the tests notice?")
    parser.add_argument("packages", nargs="*", default=PACKAGES, help="folders of scoring")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=40)
    parser.add_argument("--only", type=int, nargs="+", help="numbers of the draw to try")
    parser.add_argument("--list", action="store_true", help="draw, and try nothing")
    asked = parser.parse_args()
    drawn = draw(list(asked.packages), asked.count, asked.seed)
    number = {one: place for place, one in enumerate(drawn, 1)}
    picked = [drawn[one - 1] for one in asked.only] if asked.only else drawn
    if asked.list:
        for one in picked:
            print(number[one], _told(one))
        return 0
    survived = 0
    for outcome in try_all(picked):
        if one := outcome.trial.mutant:
            survived += outcome.words == SURVIVED
            words = f"{number[one]:3} {outcome.words:8} {_told(one)}  ({outcome.seconds:.0f} s)"
            print(words, flush=True)
    print(f"\n{len(picked) - survived} of {len(picked)} mutants killed by their own tests")
    return survived


def _told(one: Mutant) -> str:
    return f"{one.path}:{one.line} [{one.kind}] {one.before} -> {one.after}"


if __name__ == "__main__":
    sys.exit(main())
