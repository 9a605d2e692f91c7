"""What the balance says, read off its screen, and what the commands say of the same files."""

import json
import re
from pathlib import Path

import pytest

from kitbuilder.app.widgets.page_view import PageView
from tests.commands.run import run

NUMBER = r"−?\d+\.\d"


def lead(app) -> tuple[float, float]:
    """The lead on the balance and its spread, as they are read off the screen."""
    line = str(app.screen.query_one("#lead", PageView).render()).splitlines()[0]
    if too_heavy := re.match(rf"none \(({NUMBER}) ± ({NUMBER}) (kg|lb) too heavy\)", line):
        return -float(too_heavy[1]), float(too_heavy[2])
    found = re.match(rf"({NUMBER}) ± ({NUMBER}) (kg|lb)", line)
    assert found is not None, line
    return float(found[1].replace("−", "-")), float(found[2])


def details(app) -> str:
    """The table below the pictures, its runs of spaces made one."""
    return " ".join(str(app.screen.query_one("#detail-lines", PageView).render()).split())


def command(*words) -> dict:
    """What the command says in JSON."""
    return json.loads(run(*map(str, words), cwd=Path.cwd()).stdout)


def shown_lead(figure: dict) -> tuple[float, float]:
    """A lead of the command, rounded as on the screen."""
    return pytest.approx((figure["value"], figure["spread"]), abs=0.05 + 1e-9)


def checked_lead(path: Path) -> tuple[float, float]:
    """The lead of a kit file, as `check` has it."""
    return shown_lead(command("check", "--json", path)["result"]["files"][0]["balance"]["lead_needed_kg"])
