"""The verdict on a length, from margins that are known exactly: which outcome, and which pose decides."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.figures import Figure
from kitbuilder.assess.fit.verdict import (
    CANNOT_BE_SAID,
    DOES_NOT_FIT,
    FITS,
    TOO_LONG,
    TOO_SHORT,
    Verdict,
    judge,
)
from kitbuilder.assess.fit.verdict import Test as PoseTest

RUN = Figure(0.7, {"string": 0.015}, "string")
ORDER = {(DOES_NOT_FIT, TOO_SHORT): 0, (CANNOT_BE_SAID, TOO_SHORT): 1, (FITS, ""): 2, (DOES_NOT_FIT, TOO_LONG): 3}


def pose(name: str, left_cm: float, spread_cm: float = 2.0, **keys: bool) -> PoseTest:
    """A required pose with that margin."""
    margin = Figure(left_cm / 100, {"all": spread_cm / 100}, "an example")
    return PoseTest(**{  # type: ignore[arg-type]
        "pose": name, "how": "", "margin": margin, "is_asked": True, "decides": True, "needed": RUN, "by_string": True,
    } | keys)  # fmt: skip


def verdict(*tests: PoseTest, has_slack: bool = False, is_too_long: bool = False) -> Verdict:
    return judge(tests, has_slack=has_slack, is_too_long=is_too_long)


@pytest.mark.parametrize(
    ("left_cm", "outcome", "fault"),
    [
        (-2.1, DOES_NOT_FIT, TOO_SHORT),
        (-2.0, CANNOT_BE_SAID, TOO_SHORT),  # not more than the spread
        (0.0, CANNOT_BE_SAID, TOO_SHORT),
        (1.9, CANNOT_BE_SAID, TOO_SHORT),
        (2.0, FITS, ""),
        (50.0, FITS, ""),
    ],
)
def test_the_outcome_turns_at_the_spread_to_either_side(left_cm: float, outcome: str, fault: str) -> None:
    """2 cm of spread, which covers 95 %."""
    found = verdict(pose("at rest", left_cm))
    assert (found.outcome, found.fault, found.test.pose) == (outcome, fault, "at rest")


def test_the_pose_that_decides() -> None:
    """The one it is most too short for; else the least certain; else the one with the least left."""
    assert verdict(pose("near", -3), pose("far", -9), pose("vague", -9.5, 10.0)).test.pose == "far"
    assert verdict(pose("sure", 3), pose("vague", 5, 10.0)).test.pose == "vague"
    assert verdict(pose("sure", 3), pose("vague", 12, 10.0)).test.pose == "sure"


def test_a_pose_that_is_not_required_or_that_a_string_covers_decides_nothing() -> None:
    """However short the hose is for it."""
    wished = pose("wished", -20, is_asked=False, decides=False)
    covered = pose("covered", 1, 4.0, decides=False)
    assert verdict(pose("strung", 3), wished, covered).outcome == FITS


def test_too_long_counts_only_where_it_is_certain_to_reach() -> None:
    """What may be too short is measured first, however much slack it has at rest."""
    assert verdict(pose("a", 3), has_slack=True, is_too_long=True).is_too_long
    assert verdict(pose("a", 1), has_slack=True, is_too_long=True).is_open
    assert verdict(pose("a", -3), has_slack=True, is_too_long=True).is_too_short
    assert verdict(pose("a", 1), has_slack=True).pulls_and_bows
    assert not verdict(pose("a", 3), has_slack=True).pulls_and_bows


def test_slack_alone_is_no_fault() -> None:
    """It fits; but it is not right."""
    found = verdict(pose("a", 3), has_slack=True)
    assert (found.outcome, found.fault, found.is_right) == (FITS, "", False)
    assert verdict(pose("a", 3)).is_right


MARGINS = st.lists(st.tuples(st.floats(-0.5, 0.5), st.floats(0.001, 0.2)), min_size=1, max_size=6)


def poses(margins: list[tuple[float, float]]) -> list[PoseTest]:
    """A required pose for each margin and spread [m]."""
    some = pose("some", 0)
    return [some._replace(margin=Figure(left, {"all": spread}, "an example")) for left, spread in margins]


@given(margins=MARGINS, longer=st.floats(0, 0.5), has_slack=st.booleans())
def test_more_hose_never_makes_it_shorter(margins: list[tuple[float, float]], longer: float, has_slack: bool) -> None:
    """Too short, cannot be said, fits: in that order as every margin grows."""
    grown = [(left + longer, spread) for left, spread in margins]
    here, there = (verdict(*poses(each), has_slack=has_slack) for each in (margins, grown))
    assert ORDER[here.outcome, here.fault] <= ORDER[there.outcome, there.fault]


@given(margins=MARGINS)
def test_the_outcome_by_every_pose(margins: list[tuple[float, float]]) -> None:
    """Too short if it is in any pose, by more than its spread; it fits if every pose has its spread to spare."""
    found = verdict(*poses(margins))
    # The spread as the figure has it: the root of a square may be larger by one part in 1e16.
    needed = [pose.margin for pose in poses(margins)]
    assert found.is_too_short == any(-margin.value > margin.spread for margin in needed)
    assert (found.outcome == FITS) == all(margin.value >= margin.spread for margin in needed)
    if found.is_too_short:
        assert -found.test.margin.value > found.test.margin.spread
