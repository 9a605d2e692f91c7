"""What every test shares: how thorough the run is."""

import pytest

from tests import laws


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--thorough", action="store_true", help="try each law on ten times as many examples")


def pytest_configure(config: pytest.Config) -> None:
    laws.choose(thorough=config.getoption("thorough"))
