"""Advice names six tags of the gear file, and counts what is left."""

import pytest

from kitbuilder.report.numbers import System
from kitbuilder.report.words import sentence
from tests.assess.kits import assessed
from tests.assess.rules.cases import of_item
from tests.assess.rules.test_owned import NOWHERE, beside, hose, kit


@pytest.mark.parametrize(("hoses", "more"), [(1, ""), (6, ""), (7, " and 1 more"), (9, " and 3 more")])
def test_what_else_the_gear_file_has_is_named_up_to_six(hoses: int, more: str) -> None:
    """A line holds no more."""
    tags = [f"N{number}" for number in range(hoses)]
    [finding] = of_item(assessed(kit(), beside(*(hose(tag) for tag in tags))), NOWHERE, "hose")
    said = sentence(finding.do, System.METRIC)
    assert ", ".join(f'"{tag}"' for tag in tags[:6]) + more in said
    assert ("more" in said) is bool(more)
