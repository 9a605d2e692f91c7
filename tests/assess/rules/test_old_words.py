"""A file that still uses an old word is read, and its diver hears the new one."""

import pytest

from kitbuilder.kit.file_kinds import KIT_FILE
from kitbuilder.kitfile.reader import parse_as
from tests.assess.rules.cases import NOTICE, Case, check

NEW = """\
format = 1
name = "kit"
layout = "single"
gear = "cellar.toml"
"""
OLD = NEW.replace("gear", "locker")

CASES = [
    Case(
        "old word",
        NOTICE,
        None,
        "gear",
        OLD,
        NEW,
        says=("the file says `locker`, the old word for `gear`",),
        do=("Write `gear` instead",),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_rule(case: Case) -> None:
    """It speaks in one kit and not in the other."""
    check(case)


def test_the_finding_leads_to_the_line_of_the_old_word() -> None:
    assert parse_as(OLD, KIT_FILE).lines.of(None, "gear") == 4
