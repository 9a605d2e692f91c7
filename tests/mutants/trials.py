"""Run the tests that execute a mutated line, in a copy of the tree.

One process imports every package that the tests need, none of ours, and forks for every mutant: the child imports the
mutated program afresh and pays for nothing else.
"""

import ast
import contextlib
import importlib
import json
import os
import resource
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from collections import defaultdict
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import NamedTuple

import pytest
from coverage.numbits import numbits_to_nums
from hypothesis import settings
from mutations import PACKAGES, Mutant

HERE = Path(__file__).parent
LEFT_OUT = ("tests/app", "tests/commands", "tests/test_terminal.py", "tests/test_house.py")
"""Tests of screens and commands, most of all time: they show what the other tests look at; and of the source itself."""
FIRST_SECONDS = 4.0
"""Most mutants die in tests that take this long together; only what survives them meets the rest."""
MEMORY = 6 * 2**30
COVERAGE = """[run]
source_pkgs =
    {packages}
data_file = {data}
parallel = true
disable_warnings = module-not-imported, no-data-collected
context = ${{PYTEST_CURRENT_TEST-}}
"""


class Outcome(NamedTuple):
    """What became of a mutant."""

    mutant: Mutant
    verdict: str
    """killed, survived or timed out."""
    killer: str
    """The test that noticed, or what else happened."""
    tests: int
    seconds: float


class Knowledge(NamedTuple):
    """What one run of all tests on the unchanged tree taught."""

    seconds: dict[str, float]
    """Of every test that passed."""
    lines: dict[str, dict[int, set[str]]]
    """The tests by file and line."""


def learn(tree: Path, work: Path) -> Knowledge:
    """Run all tests once under coverage, unless that was done in this work folder before."""
    notes, data, settings = work / "notes.json", work / "coverage", work / "coverage.ini"
    if not notes.exists():
        packages = "\n    ".join(f"kitbuilder.{package}" for package in PACKAGES)
        settings.write_text(COVERAGE.format(packages=packages, data=data), "utf-8")
        command = [sys.executable, "-m", "pytest", "-o", "addopts=", "-q", "-p", "watching", "-p", "no:cacheprovider"]
        command += ["--cov", f"--cov-config={settings}", "--cov-context=test", "--cov-report=", "--hypothesis-seed=0"]
        command.append("--snapshot-warn-unused")
        environment = os.environ | {
            "PYTHONPATH": os.pathsep.join((str(tree), str(HERE))),
            "MUTANTS_NOTES": str(notes),
            "MUTANTS_COVERAGE": str(settings),
        }
        subprocess.run([*command, *(f"--ignore={path}" for path in LEFT_OUT)], cwd=tree, env=environment, check=False)
    told = json.loads(notes.read_text("utf-8"))
    seconds = {test: each for test, each in told["seconds"].items() if test not in set(told["failed"])}
    return Knowledge(seconds, _tests_by_line(tree, data, seconds.keys()))


def _tests_by_line(tree: Path, data: Path, passed: Iterable[str]) -> dict[str, dict[int, set[str]]]:
    """Tests by file and line; a context is the test and its phase, written in two ways."""
    names = {test: test for test in passed}
    found: dict[str, dict[int, set[str]]] = defaultdict(lambda: defaultdict(set))
    with contextlib.closing(sqlite3.connect(data)) as base:
        rows = base.execute(
            "select path, context, numbits from line_bits "
            "join file on file.id = file_id join context on context.id = context_id"
        )
        for path, context, numbits in rows:
            test = names.get(context.split("|")[0].rsplit(" (", 1)[0]) or names.get(context.split("|")[0])
            if test is not None:
                by_line = found[Path(path).relative_to(tree).as_posix()]
                for line in numbits_to_nums(numbits):
                    by_line[line].add(test)
    return found


def tests_for(mutant: Mutant, tree: Path, knowledge: Knowledge, cap_s: float) -> list[str]:
    """The tests that execute a mutated line, the fastest first, as many as fit into a time.

    A line that runs at import belongs to no test: then those count that execute a line which uses the name it sets,
    then those of the file. The catalogue is read once in a process, so every test may stand on it.
    """
    by_line = knowledge.lines.get(mutant.file, {})
    tiers = [by_line.get(mutant.line, set())]
    if not tiers[0]:
        tiers += [_of_name(mutant, tree, knowledge), set().union(*by_line.values())]
    if mutant.package == "catalogue":
        tiers += [{test for test in knowledge.seconds if test.startswith("tests/catalogue/")}, set(knowledge.seconds)]
    chosen: dict[str, None] = {}
    spent = 0.0
    for tier in tiers:
        for test in sorted(tier - chosen.keys(), key=lambda test: (knowledge.seconds[test], test)):
            if spent + knowledge.seconds[test] > cap_s:
                break
            spent += knowledge.seconds[test]
            chosen[test] = None
    return list(chosen)


def _of_name(mutant: Mutant, tree: Path, knowledge: Knowledge) -> set[str]:
    """The tests that execute a line which mentions a name that the mutated statement sets."""
    module = ast.parse((tree / mutant.file).read_bytes())
    around = [node for node in module.body if node.lineno <= mutant.line <= (node.end_lineno or node.lineno)]
    names = {
        target.id
        for node in around
        for target in (node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)])
        if isinstance(target, ast.Name)
    }
    found: set[str] = set()
    for file, by_line in knowledge.lines.items():
        for node in ast.walk(ast.parse((tree / file).read_bytes())):
            name = node.id if isinstance(node, ast.Name) else getattr(node, "attr", None)
            if name in names and isinstance(node, ast.expr):
                found |= by_line.get(node.lineno, set())
    return found


def import_what_tests_need(work: Path) -> None:
    """Import the packages that the tests had imported at their end, except ours, so that every fork has them."""
    for name in json.loads((work / "notes.json").read_text("utf-8"))["packages"]:
        with contextlib.suppress(Exception):
            importlib.import_module(name)


def tried(mutant: Mutant, tests: Sequence[str], tree: Path, knowledge: Knowledge, work: Path) -> Outcome:
    """Put a mutant into the tree, run its tests, and take it out again."""
    path, started = tree / mutant.file, time.monotonic()
    source, times = path.read_bytes(), path.stat()
    first, spent = 0, 0.0
    while first < len(tests) and spent < FIRST_SECONDS:
        spent += knowledge.seconds[tests[first]]
        first += 1
    try:
        path.write_bytes(mutant.applied(source))
        # Byte code is known by the time of its source, to a second.
        os.utime(path, (times.st_atime, times.st_mtime + 10.0))
        verdict, killer = "survived", "" if tests else "no test executes it"
        for part in (tests[:first], tests[first:]):
            if part and verdict == "survived":
                verdict, killer = _forked(part, tree, work, 60.0 + 4.0 * sum(knowledge.seconds[test] for test in part))
    finally:
        path.write_bytes(source)
        os.utime(path, (times.st_atime, times.st_mtime))
    return Outcome(mutant, verdict, killer, len(tests), time.monotonic() - started)


def _forked(tests: Sequence[str], tree: Path, work: Path, patience_s: float) -> tuple[str, str]:
    """Run tests in a child until one fails. Gives the verdict and the test that failed."""
    shutil.rmtree(tree / ".hypothesis", ignore_errors=True)  # examples that an earlier mutant failed
    note, log = work / "killer", work / "last.log"
    note.unlink(missing_ok=True)
    child = os.fork()
    if not child:
        _run(tests, tree, note, log)
    until = time.monotonic() + patience_s
    while os.waitpid(child, os.WNOHANG)[0] == 0:
        if time.monotonic() > until:
            os.killpg(child, signal.SIGKILL)
            os.waitpid(child, 0)
            return "timed out", f"after {patience_s:.0f} s"
        time.sleep(0.02)
    with contextlib.suppress(ProcessLookupError, PermissionError):
        os.killpg(child, signal.SIGKILL)  # a program that a test left running
    killer = note.read_text("utf-8") if note.exists() else "the process died"
    return ("survived", "") if killer == "all passed" else ("killed", killer)


def _run(tests: Sequence[str], tree: Path, note: Path, log: Path) -> None:
    """Be the child: run the tests and leave a note."""
    try:
        os.setsid()
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        printed = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        for stream in (1, 2):
            os.dup2(printed, stream)
        os.chdir(tree)
        os.environ.update(PYTHONPATH=str(tree), PYTHONDONTWRITEBYTECODE="1")
        sys.dont_write_bytecode = True
        sys.path[:] = [str(tree), *(entry for entry in sys.path if entry != str(HERE))]
        chosen = Chosen(tests)
        files = sorted({test.split("::")[0] for test in tests})
        words = ["-o", "addopts=", "-q", "-x", "-p", "no:cacheprovider", "--hypothesis-seed=0", "--tb=short"]
        code = pytest.main([*words, "--snapshot-warn-unused", *files], plugins=[chosen])
        failed = chosen.failed or (f"pytest ended with {code!r}" if code in (2, 3, 4) else "")
        note.write_text(failed or "all passed", "utf-8")
    finally:
        os._exit(0)


class Chosen:
    """Pytest plugin: only the chosen tests, in their order; notes the first that fails."""

    def __init__(self, tests: Sequence[str]) -> None:
        self.place = {test: number for number, test in enumerate(tests)}
        self.failed = ""

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Drop and sort; a law that is slow on a busy machine has noticed nothing."""
        items[:] = sorted(
            (item for item in items if item.nodeid in self.place), key=lambda item: self.place[item.nodeid]
        )
        for item in items:
            law = getattr(item, "obj", None)
            law = getattr(law, "__func__", law)
            if own := getattr(law, "_hypothesis_internal_use_settings", None):
                law._hypothesis_internal_use_settings = settings(own, deadline=None)

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        """A file that cannot be imported any more."""
        if report.failed and not self.failed:
            self.failed = f"{report.nodeid} cannot be collected"

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """A test that failed."""
        if report.failed and not self.failed:
            self.failed = report.nodeid
