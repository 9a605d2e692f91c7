"""Real kit files to work on, and a user whom the disk can refuse something."""

import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.kitfile.support import CONFIGS

NOBODY = 65534


@pytest.fixture(autouse=True, scope="session")
def _state(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Keep off the developer's own state folder."""
    folder = tmp_path_factory.mktemp("state")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("kitbuilder.kitfile.journal.state_folder", lambda: folder)
        yield


@pytest.fixture
def reef(tmp_path: Path) -> Path:
    """A copy of a kit with many comments."""
    return Path(shutil.copy(CONFIGS / "warm-single.toml", tmp_path / "reef.toml"))


@pytest.fixture
def refusable() -> Iterator[Path]:
    """A folder in which nothing is allowed that its modes forbid; root, whom nothing is forbidden, steps down."""
    folder = Path(tempfile.mkdtemp())
    root = os.geteuid() == 0
    if root:
        os.chown(folder, NOBODY, NOBODY)
        os.seteuid(NOBODY)
    yield folder
    if root:
        os.seteuid(0)
    folder.chmod(0o700)
    shutil.rmtree(folder)
