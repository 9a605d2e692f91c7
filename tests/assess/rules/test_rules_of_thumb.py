"""A rule of thumb says so: what rests on common practice alone is marked, what rests on physics is not."""

from functools import cache

import pytest

from kitbuilder.assess.findings import Finding, Signal
from tests.assess.kits import WHOLE, WRONG, assessed, shipped
from tests.assess.rules.test_every_rule import CASES

OF_THUMB = {
    "coarse on the neck",  # skins differ
    "much lead",  # what is seldom dived with
    "failed wing",  # what a fit diver can swim up against
    "trim",  # what reads as level
    "near a knob",  # room for a gloved hand
    "unlike its preset",  # how far is a slip
    "tight bend",  # radii of the trade
    "unusual length",  # custom
    "nothing vents",
    "wing and drysuit on one first stage",
    "coupling make",  # nobody has written down which makes go together
    "built-in swivel",
}
"""Rules whose every finding is one."""
IN_PART = {
    "stands off",  # from 20 cm on a text says so
    "all second stages on one first stage",  # a notice where there is but one
    "due before the dive",  # what a regulation asks for is none
}


@cache
def findings() -> list[Finding]:
    """All of the kits in which rules are shown to speak, and of those that come along."""
    kits = [assessed(case.wrong, case.beside_wrong) for case in CASES]
    return [finding for found in (*kits, *map(shipped, (*WHOLE, WRONG))) for finding in found.findings]


@pytest.mark.parametrize("name", sorted(OF_THUMB))
def test_a_rule_of_thumb_says_so(name: str) -> None:
    """Each of its findings."""
    found = [finding for finding in findings() if finding.rule == name]
    assert found
    assert all(finding.rule_of_thumb for finding in found)


def test_no_other_rule_says_so() -> None:
    """A finding of physics is not weakened."""
    others = [finding for finding in findings() if finding.rule not in OF_THUMB | IN_PART]
    assert len(others) > 100
    assert {finding.rule for finding in others if finding.rule_of_thumb} == set()


def test_standing_off_is_a_rule_of_thumb_up_to_20_cm() -> None:
    """From there on an open-water text says that nothing hangs so far below the body."""
    found = [finding for finding in findings() if finding.rule == "stands off"]
    assert {(finding.signal, finding.rule_of_thumb) for finding in found} == {
        (Signal.WARNING, False),
        (Signal.CAUTION, True),
    }


def test_the_only_first_stage_is_a_rule_of_thumb_and_one_of_several_that_feeds_all_is_not() -> None:
    """Many dive with one; whoever has two and hangs all on one gains nothing by the second."""
    found = [finding for finding in findings() if finding.rule == "all second stages on one first stage"]
    assert {(finding.signal, finding.rule_of_thumb) for finding in found} == {
        (Signal.WARNING, False),
        (Signal.NOTICE, True),
    }
