"""What every test shares: how thorough the run is."""

import os

import pytest

from tests import laws


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--thorough", action="store_true", help="try each law on ten times as many examples")


def pytest_configure(config: pytest.Config) -> None:
    laws.choose(thorough=config.getoption("thorough"))


def pytest_xdist_auto_num_workers() -> int:
    """Start two workers per core: a test of the app waits for as long as it works."""
    return 2 * len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else 2 * (os.cpu_count() or 1)
