"""Put small faults into the program and count how many the tests notice.

    python tests/mutants/run.py                        the named faults and 200 drawn with seed 1
    python tests/mutants/run.py --list                 say which, run nothing
    python tests/mutants/run.py --only named           one sort: named or drawn
    python tests/mutants/run.py --only FILE            the drawn ones of one file, such as kitbuilder/physics/gas.py
    python tests/mutants/run.py --every --only FILE    every fault that the file can have
    python tests/mutants/run.py --tree PATH            another tree than this one

Needs the extras `test` and `mutants`. The first run in a work folder copies the tree and runs all tests once under
coverage; later runs with the same --work use that again, and are right only while the tree stays as it was.
"""

import argparse
import os
import shutil
import sys
import tempfile
import tomllib
from collections.abc import Sequence
from pathlib import Path

from mutations import PACKAGES, Mutant, named, sampled, statements_of
from trials import Outcome, import_what_tests_need, learn, tests_for, tried

HERE = Path(__file__).parent
VERDICTS = ("killed", "survived", "timed out")


def main() -> int:
    """Try the mutants and print what became of them; 1 when a named one is alive."""
    asked = _arguments()
    os.nice(10)
    work = asked.work or Path(tempfile.mkdtemp(prefix="mutants-"))
    tree = _copied(asked.tree.resolve(), work)
    mutants = _chosen(tree, asked)
    if asked.list:
        print(*mutants, sep="\n")
        return 0
    print(f"{len(mutants)} mutants in {tree}")
    knowledge = learn(tree, work)
    import_what_tests_need(work)
    tests = {mutant: tests_for(mutant, tree, knowledge, asked.cap) for mutant in mutants}
    outcomes = []
    for outcome in tried(mutants, tests, tree, knowledge, work):
        print(f"{outcome.verdict:9} {outcome.tests:5} tests  {outcome.mutant}  [{outcome.killer}]", flush=True)
        outcomes.append(outcome)
    print(_report(outcomes, f"seed {asked.seed}, {len(mutants)} mutants, at most {asked.cap:g} s of tests for each"))
    alive = {outcome.mutant for outcome in outcomes if outcome.verdict == "survived"}
    return 1 if alive & set(named(tree)) else 0


def _arguments() -> argparse.Namespace:
    words = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    words.add_argument("--seed", type=int, default=1, help="which mutants are drawn (default 1)")
    words.add_argument("--count", type=int, default=200, help="how many are drawn (default 200)")
    words.add_argument("--cap", type=float, default=40.0, help="seconds of tests for one mutant at most (default 40)")
    words.add_argument("--only", default="", help="named, drawn, or a file")
    words.add_argument("--every", action="store_true", help="all faults instead of a sample")
    words.add_argument("--list", action="store_true", help="print the mutants and run nothing")
    words.add_argument("--tree", type=Path, default=HERE.parents[1], help="the tree to test (default: this one)")
    words.add_argument("--work", type=Path, help="folder to keep the copy and the coverage in")
    return words.parse_args()


def _copied(tree: Path, work: Path) -> Path:
    """The copy of the tree that the mutants go into."""
    copy = work / "tree"
    if not copy.exists():
        shutil.copytree(
            tree, copy, ignore=shutil.ignore_patterns(".git", ".venv", ".hypothesis", "__pycache__", ".*_cache")
        )
    return copy.resolve()


def _chosen(tree: Path, asked: argparse.Namespace) -> list[Mutant]:
    if asked.every:
        files = sorted({path.relative_to(tree).as_posix() for path in (tree / "kitbuilder").rglob("*.py")})
        drawn = [one for file in files if file == asked.only for faults in statements_of(tree, file) for one in faults]
    else:
        drawn = sampled(tree, asked.seed, asked.count)
    if asked.only == "drawn":
        return drawn
    if asked.only not in ("", "named"):
        return [mutant for mutant in drawn if mutant.file == asked.only]
    return [*named(tree), *(drawn if not asked.only else [])]


def _report(outcomes: Sequence[Outcome], head: str) -> str:
    """Counts by package, rates with and without the equivalent ones, and the survivors."""
    equivalent = _equivalent()
    lines = [
        "",
        head,
        "",
        f"{'package':10}" + "".join(f"{verdict:>10}" for verdict in VERDICTS) + "      rate  of those that differ",
    ]
    for package in (*PACKAGES, "all"):
        here = [outcome for outcome in outcomes if package in ("all", outcome.mutant.package)]
        counts = [sum(outcome.verdict == verdict for outcome in here) for verdict in VERDICTS]
        same = sum(outcome.verdict == "survived" and _key(outcome.mutant) in equivalent for outcome in here)
        rates = f"{_rate(counts, 0):>10}{_rate(counts, same):>10}"
        lines.append(f"{package:10}" + "".join(f"{count:10}" for count in counts) + rates)
    lines.append("")
    for outcome in outcomes:
        if outcome.verdict == "survived":
            reason = equivalent.get(_key(outcome.mutant), outcome.killer)
            lines.append(f"{outcome.mutant}" + (f"  ({reason})" if reason else ""))
    return "\n".join(lines)


def _rate(counts: Sequence[int], same: int) -> str:
    """Part that was noticed; one that never ends is noticed too."""
    every = sum(counts) - same
    return f"{(counts[0] + counts[2]) / every:.1%}" if every else "-"


def _equivalent() -> dict[tuple[str, str, str, str], str]:
    entries = tomllib.loads((HERE / "equivalent.toml").read_text("utf-8")).get("mutant", [])
    return {(entry["file"], entry["line"], entry["old"], entry["new"]): entry["why"] for entry in entries}


def _key(mutant: Mutant) -> tuple[str, str, str, str]:
    return mutant.file, mutant.text, mutant.old, mutant.new


if __name__ == "__main__":
    sys.exit(main())
