"""Pytest plugin for the one run that learns which test executes which line, how long it takes and whether it passes.

A cached answer hides the lines behind it from every test but the first, so the program forgets its answers before each
test. The catalogue keeps its own: reading it before each of some thousand tests would take longer than the tests.
"""

import json
import os
import sys
import time
from collections.abc import Callable, Generator
from pathlib import Path

import pytest
from hypothesis import settings

EXAMPLES = 10
"""Of a law, here: they execute what all of them execute, and the time is counted as if all had run."""
KEEPS = "kitbuilder.catalogue"


class Watch:
    """Notes the duration and the outcome of every test in a JSON file."""

    def __init__(self, notes: Path) -> None:
        self.notes = notes
        self.seconds: dict[str, float] = {}
        self.failed: set[str] = set()
        self.modules = 0
        self.forget: list[Callable[[], None]] = []
        self.laws: dict[object, int] = {}
        self.shortened: dict[str, float] = {}

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Try every law with a few examples."""
        for item in items:
            law = getattr(item, "obj", None)
            law = getattr(law, "__func__", law)
            own = getattr(law, "_hypothesis_internal_use_settings", None)
            if own is not None and law not in self.laws:
                self.laws[law] = own.max_examples
                law._hypothesis_internal_use_settings = settings(
                    own, max_examples=min(EXAMPLES, own.max_examples), deadline=None
                )
            if law in self.laws:
                self.shortened[item.nodeid] = max(1.0, self.laws[law] / EXAMPLES)

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_setup(self) -> None:
        """Let the program forget what it worked out in an earlier test."""
        if len(sys.modules) != self.modules:
            self.modules = len(sys.modules)
            self.forget = caches()
        for forget in self.forget:
            forget()
        # Tests of refused writes become another user, who must still be able to note what they execute.
        for data in self.notes.parent.glob("coverage.*"):
            data.chmod(0o666)

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None, object, object]:
        """Take the time of the processor, its children's too: a busy machine does not count."""
        started = _processor_s()
        try:
            return (yield)
        finally:
            self.seconds[item.nodeid] = (_processor_s() - started) * self.shortened.get(item.nodeid, 1.0)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Note a failure."""
        if not report.passed:
            self.failed.add(report.nodeid)

    def pytest_sessionfinish(self) -> None:
        """Write the notes."""
        ours = ("kitbuilder", "tests", "watching", "pytest_cov", "coverage", "__main__")
        packages = sorted(name for name in sys.modules if name.split(".")[0] not in ours)
        notes = {"seconds": self.seconds, "failed": sorted(self.failed), "packages": packages}
        self.notes.write_text(json.dumps(notes), encoding="utf-8")


def _processor_s() -> float:
    return time.process_time() + os.times().children_user + os.times().children_system


def caches() -> list[Callable[[], None]]:
    """What lets each function of the program forget its answers, except those of the catalogue."""
    modules = [
        module
        for name, module in sys.modules.items()
        if name.startswith("kitbuilder") and not name.startswith(KEEPS) and module is not None
    ]
    return [
        value.cache_clear
        for module in modules
        for value in vars(module).values()
        if hasattr(value, "cache_clear") and not getattr(value, "__module__", "").startswith(KEEPS)
    ]


def pytest_configure(config: pytest.Config) -> None:
    """Watch; let processes that a test starts be measured too, under that test's name."""
    os.environ["COVERAGE_PROCESS_START"] = os.environ["MUTANTS_COVERAGE"]
    config.pluginmanager.register(Watch(Path(os.environ["MUTANTS_NOTES"])))
