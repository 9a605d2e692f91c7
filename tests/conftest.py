"""What every test shares: how thorough the run is, on how many workers, and an end to waiting."""

import gc
import os
import shutil
import signal
from collections.abc import Iterator
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from tests import laws
from tests.text_snapshot import TextSnapshot


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--thorough", action="store_true", help="try each law on ten times as many examples")


def pytest_configure(config: pytest.Config) -> None:
    os.environ["COLUMNS"] = "100"  # lines as wide as they get, whatever terminal the tests run in
    laws.choose(thorough=config.getoption("thorough"))
    gc.set_threshold(50_000)  # going through all that imports and collected tests keep takes a fifth of an app's time


def pytest_collection_finish() -> None:
    """Leave out what stays until the end from every later collection of garbage."""
    gc.freeze()


def pytest_xdist_auto_num_workers() -> int:
    """Start three workers per core: a test of the app waits for longer than it works."""
    return 3 * len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else 3 * (os.cpu_count() or 1)


@pytest.fixture(scope="session")
def settings_folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Keep tests, and the processes that they start, from the settings of whoever runs them."""
    with pytest.MonkeyPatch.context() as patch:
        folder = tmp_path_factory.mktemp("config")
        patch.setenv("XDG_CONFIG_HOME", str(folder))
        patch.setenv("XDG_STATE_HOME", str(tmp_path_factory.mktemp("state")))
        yield folder


@pytest.fixture(autouse=True)
def no_settings(settings_folder: Path) -> Iterator[None]:
    """Begin every test without settings, whatever the one before has changed."""
    yield
    shutil.rmtree(settings_folder / "kitbuilder", ignore_errors=True)


@pytest.fixture
def screen(snapshot: SnapshotAssertion) -> SnapshotAssertion:
    """A screen or a picture, held against its text of before."""
    return snapshot.use_extension(TextSnapshot)


@pytest.fixture
def no_waiting() -> Iterator[None]:
    """Stop what waits for the other end of a pipe, which nobody opens."""

    def stop(_signal: int, _frame: object) -> None:
        raise AssertionError("it waited")

    before = signal.signal(signal.SIGALRM, stop)
    signal.alarm(60)
    yield
    signal.alarm(0)
    signal.signal(signal.SIGALRM, before)
