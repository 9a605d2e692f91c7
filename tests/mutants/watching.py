"""Pytest plugin for the one run that learns which test executes which line, how long it takes and whether it passes.

A cached answer hides the lines behind it from every test but the first, so the program forgets its answers before each
test. The catalogue keeps its own: reading it before each of some thousand tests would take longer than the tests.
"""

import json
import os
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

KEEPS = "kitbuilder.catalogue"


class Watch:
    """Notes the duration and the outcome of every test in a JSON file."""

    def __init__(self, notes: Path) -> None:
        self.notes = notes
        self.seconds: dict[str, float] = {}
        self.failed: set[str] = set()
        self.modules = 0
        self.forget: list[Callable[[], None]] = []

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_setup(self) -> None:
        """Let the program forget what it worked out in an earlier test."""
        if len(sys.modules) != self.modules:
            self.modules = len(sys.modules)
            self.forget = _caches()
        for forget in self.forget:
            forget()

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Add up the phases of a test."""
        self.seconds[report.nodeid] = self.seconds.get(report.nodeid, 0.0) + report.duration
        if not report.passed:
            self.failed.add(report.nodeid)

    def pytest_sessionfinish(self) -> None:
        """Write the notes."""
        ours = ("kitbuilder", "tests", "watching", "pytest_cov", "coverage", "__main__")
        packages = sorted(name for name in sys.modules if name.split(".")[0] not in ours)
        notes = {"seconds": self.seconds, "failed": sorted(self.failed), "packages": packages}
        self.notes.write_text(json.dumps(notes), encoding="utf-8")


def _caches() -> list[Callable[[], None]]:
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
