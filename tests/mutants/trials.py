"""Run the tests that execute a mutated line, in a copy of the tree.

A fault inside a function is swapped into the running program: one process collects all tests and forks for every
mutant. Any other fault is written to the disk, and a fork that has imported no more than the packages of others imports
the program again.
"""

import ast
import contextlib
import gc
import importlib
import json
import os
import resource
import shutil
import signal
import sqlite3
import subprocess
import sys
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

import pytest
from coverage.numbits import numbits_to_nums
from hypothesis import settings
from mutations import PACKAGES, Mutant
from swapping import can_be_swapped, swap
from watching import caches

HERE = Path(__file__).parent
LEFT_OUT = ("tests/app", "tests/commands", "tests/test_terminal.py", "tests/test_house.py")
"""Tests of screens and commands, most of all time: they show what the other tests look at; and of the source itself."""
FIRST_SECONDS = 4.0
"""Most mutants die in tests that take this long together; only what survives them meets the rest."""
MEMORY = 6 * 2**30
ALL_PASSED, SWAP_FAILED = "all passed", "cannot be swapped in"
PYTEST = ("-o", "addopts=", "-q", "-x", "-p", "no:cacheprovider", "--hypothesis-seed=0", "--tb=short")
PYTEST += ("--snapshot-warn-unused",)
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
    given = json.loads(notes.read_text("utf-8"))
    seconds = {test: each for test, each in given["seconds"].items() if test not in set(given["failed"])}
    return Knowledge(seconds, _tests_by_line(tree, data, seconds.keys()))


def _tests_by_line(tree: Path, data: Path, passed: Iterable[str]) -> dict[str, dict[int, set[str]]]:
    """Tests by file and line; a context is the test and its phase, written in two ways."""
    known = set(passed)
    found: dict[str, dict[int, set[str]]] = defaultdict(lambda: defaultdict(set))
    with contextlib.closing(sqlite3.connect(data)) as base:
        rows = base.execute(
            "select path, context, numbits from line_bits "
            "join file on file.id = file_id join context on context.id = context_id"
        )
        for path, context, numbits in rows:
            test = context.split("|")[0]
            test = test if test in known else test.rsplit(" (", 1)[0]
            if test in known:
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
    if not _in_function(mutant, tree):
        tiers = [_of_name(mutant, tree, knowledge), set().union(*by_line.values())]
    if mutant.package == "catalogue":
        own = {test for test in knowledge.seconds if test.startswith("tests/catalogue/")}
        tiers = [tiers[0] & own, own, *tiers, set(knowledge.seconds)]
    chosen: dict[str, None] = {}
    spent = 0.0
    for tier in tiers:
        for test in sorted(tier - chosen.keys(), key=lambda test: (knowledge.seconds[test], test)):
            if spent + knowledge.seconds[test] > cap_s:
                break
            spent += knowledge.seconds[test]
            chosen[test] = None
    return list(chosen)


def _in_function(mutant: Mutant, tree: Path) -> bool:
    functions = (
        node for node in ast.walk(ast.parse((tree / mutant.file).read_bytes())) if isinstance(node, ast.FunctionDef)
    )
    return any(node.body[0].lineno <= mutant.line <= (node.end_lineno or 0) for node in functions)


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


def tried(
    mutants: Sequence[Mutant], tests: Mapping[Mutant, list[str]], tree: Path, knowledge: Knowledge, work: Path
) -> Iterator[Outcome]:
    """What becomes of each mutant: those that can be swapped in first, then the others from the disk."""
    swapped = [mutant for mutant in mutants if tests[mutant] and can_be_swapped(mutant, tree)]
    done = set()
    for line in _served(swapped, tests, tree, knowledge, work):
        number, verdict, killer = json.loads(line)
        if verdict != SWAP_FAILED:
            mutant = swapped[number]
            done.add(mutant)
            yield Outcome(mutant, verdict, killer, len(tests[mutant]))
    for mutant in mutants:
        if mutant not in done:
            yield _from_disk(mutant, tests[mutant], tree, knowledge, work)


def _from_disk(mutant: Mutant, tests: Sequence[str], tree: Path, knowledge: Knowledge, work: Path) -> Outcome:
    """Put a mutant into the tree, run its tests, and take it out again."""
    path = tree / mutant.file
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
                child = os.fork()
                if not child:
                    _run_again(part, tree, work, patience_of(part, knowledge))
                verdict, killer = ended(child, work)
    finally:
        path.write_bytes(source)
        os.utime(path, (times.st_atime, times.st_mtime))
    return Outcome(mutant, verdict, killer, len(tests))


def patience_of(tests: Sequence[str], knowledge: Knowledge) -> int:
    """Seconds of the processor after which a mutant is taken to run for ever."""
    return int(20.0 + 2.0 * sum(knowledge.seconds[test] for test in tests))


def begin_child(tree: Path, work: Path, patience_s: int) -> None:
    """Settle a fork: limits, quiet output, the tree in front."""
    os.setsid()
    shutil.rmtree(tree / ".hypothesis", ignore_errors=True)  # examples that an earlier mutant failed
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (patience_s, patience_s + 5))
    signal.alarm(40 * patience_s)  # for one that waits for ever
    _print_to(work / "last.log")
    (work / "killer").unlink(missing_ok=True)


def _print_to(log: Path) -> None:
    printed = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
    for stream in (1, 2):
        os.dup2(printed, stream)


def ended(child: int, work: Path) -> tuple[str, str]:
    """Wait for a child. Gives the verdict and the test that failed."""
    status = os.waitpid(child, 0)[1]
    with contextlib.suppress(ProcessLookupError, PermissionError):
        os.killpg(child, signal.SIGKILL)  # a program that a test left running
    if os.WIFSIGNALED(status) and os.WTERMSIG(status) in (signal.SIGXCPU, signal.SIGKILL, signal.SIGALRM):
        return "timed out", ""
    note = work / "killer"
    killer = note.read_text("utf-8") if note.exists() else "the process died"
    return ("survived", "") if killer == ALL_PASSED else ("killed", killer)


def _run_again(tests: Sequence[str], tree: Path, work: Path, patience_s: int) -> None:
    """Be a child that imports the program and the tests, runs them and leaves a note."""
    try:
        begin_child(tree, work, patience_s)
        _into(tree)
        chosen = Chosen(tests)
        code = pytest.main([*PYTEST, *sorted({test.split("::")[0] for test in tests})], plugins=[chosen])
        failed = chosen.failed or (f"pytest ended with {code!r}" if code in (2, 3, 4) else "")
        (work / "killer").write_text(failed or ALL_PASSED, "utf-8")
    finally:
        os._exit(0)


def _into(tree: Path) -> None:
    os.chdir(tree)
    os.environ.update(PYTHONPATH=str(tree), PYTHONDONTWRITEBYTECODE="1")
    sys.dont_write_bytecode = True
    sys.path.insert(0, str(tree))


def _served(
    mutants: Sequence[Mutant], tests: Mapping[Mutant, list[str]], tree: Path, knowledge: Knowledge, work: Path
) -> Iterator[str]:
    """Lines of a child that collects all tests once and forks for every mutant: number, verdict, killer."""
    if not mutants:
        return
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        try:
            os.close(reading)
            _print_to(work / "server.log")
            _into(tree)
            server = Server(mutants, tests, tree, knowledge, work, writing)
            files = sorted({test.split("::")[0] for test in knowledge.seconds})
            pytest.main([*PYTEST, *files], plugins=[server])
        finally:
            os._exit(0)
    os.close(writing)
    with os.fdopen(reading, encoding="utf-8") as lines:
        yield from lines
    os.waitpid(child, 0)


class Server:
    """Pytest plugin: instead of running the tests, forks for every mutant and runs the tests of that one there."""

    def __init__(
        self,
        mutants: Sequence[Mutant],
        tests: Mapping[Mutant, list[str]],
        tree: Path,
        knowledge: Knowledge,
        work: Path,
        answers: int,
    ) -> None:
        self.mutants, self.tests, self.tree, self.knowledge, self.work = mutants, tests, tree, knowledge, work
        self.answers = answers
        self.failed = ""

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Take the place of the run."""
        without_deadline(session.items)
        items = {item.nodeid: item for item in session.items}
        base = session.config._tmp_path_factory.getbasetemp()  # type: ignore[attr-defined]
        gc.collect()
        gc.freeze()
        for number, mutant in enumerate(self.mutants):
            chosen = [items[test] for test in self.tests[mutant] if test in items]
            child = os.fork()
            if not child:
                self._try(mutant, chosen, session.config)
            answer = [number, *ended(child, self.work)]
            os.write(self.answers, (json.dumps(answer) + "\n").encode())
            for left in base.iterdir():
                shutil.rmtree(left, ignore_errors=True)
        return True

    def _try(self, mutant: Mutant, items: Sequence[pytest.Item], config: pytest.Config) -> None:
        try:
            begin_child(self.tree, self.work, patience_of(self.tests[mutant], self.knowledge))
            config.get_terminal_writer()._file = open(os.devnull, "w")  # noqa: SIM115, PTH123
            note = self.work / "killer"
            note.write_text(SWAP_FAILED, "utf-8")
            swap(mutant, self.tree)
            for forget in caches():
                forget()
            for item, following in zip(items, [*items[1:], None], strict=True):
                item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
                if self.failed:
                    break
            note.write_text(self.failed or ALL_PASSED, "utf-8")
        finally:
            os._exit(0)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """A test that failed."""
        if report.failed and not self.failed:
            self.failed = report.nodeid


def without_deadline(items: Iterable[pytest.Item]) -> None:
    """Let laws take their time: one that is slow on a busy machine has noticed nothing."""
    for item in items:
        law = getattr(item, "obj", None)
        law = getattr(law, "__func__", law)
        if own := getattr(law, "_hypothesis_internal_use_settings", None):
            law._hypothesis_internal_use_settings = settings(own, deadline=None)


class Chosen:
    """Pytest plugin: only the chosen tests, in their order; notes the first that fails."""

    def __init__(self, tests: Sequence[str]) -> None:
        self.place = {test: number for number, test in enumerate(tests)}
        self.failed = ""

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Drop and sort."""
        chosen = [item for item in items if item.nodeid in self.place]
        items[:] = sorted(chosen, key=lambda item: self.place[item.nodeid])
        without_deadline(items)

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        """A file that cannot be imported any more."""
        if report.failed and not self.failed:
            self.failed = f"{report.nodeid} cannot be collected"

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """A test that failed."""
        if report.failed and not self.failed:
            self.failed = report.nodeid
