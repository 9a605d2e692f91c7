"""Whether a hose fits: the one judgement that findings, bench, fitting and fewest hoses ask.

A length is tried in every pose. Each margin has its spread, which covers 95 %:

    too short in a required pose by more than the spread    does not fit
    a margin within its spread, to either side              cannot be said yet: measure the run
    long enough in every required pose by the spread        fits, whatever slack is left at rest
    bows out at rest beyond the limit, by more than its
    spread, or more of it is folded away than there is
    room for, and a shorter length is sold that is long
    enough and lies within the limit, or closer by at
    least as much as the limit                              does not fit: too long

Slack that hangs or is folded away on purpose is no fault. The limit of the stand-off is a rule of thumb.
"""

from collections.abc import Sequence
from math import erf, inf, sqrt
from typing import NamedTuple

from kitbuilder.assess.figures import Figure
from kitbuilder.physics.spread import NORMAL_95

FITS, DOES_NOT_FIT, CANNOT_BE_SAID = "fits", "does not fit", "cannot be said yet"
OUTCOMES = (FITS, DOES_NOT_FIT, CANNOT_BE_SAID)
TOO_SHORT, TOO_LONG = "too short", "too long"
"""What is wrong with a length; or may be, while it cannot be said yet."""

CERTAIN = 1 - 1e-13
"""The best odds: a normal distribution is never quite certain, but a float rounds it to 0 or 1."""
AT_SPREAD = (1 + erf(2 / sqrt(2))) / 2
"""The odds of a margin as large as its spread, which is two standard deviations."""


class Test(NamedTuple):
    """One pose tried with one length."""

    pose: str
    how: str
    margin: Figure
    """What is left of the hose, or missing where negative [m]."""
    is_asked: bool
    decides: bool
    """Whether it is required, and no string in a pose that needs at least as much covers it."""
    needed: Figure
    """The length that the pose asks for [m]."""
    by_string: bool
    """Whether a string measured it; otherwise the landmarks of the route."""

    @property
    def passes(self) -> bool:
        """Whether the length is enough, as far as is known."""
        return self.margin.value >= 0

    @property
    def odds(self) -> float:
        """How likely the length is enough, from 0 to 1."""
        return odds_of(self.margin.value, self.margin.spread)


class Verdict(NamedTuple):
    """Whether a length fits, and what decides it."""

    outcome: str
    """One of `OUTCOMES`."""
    fault: str
    """`TOO_SHORT` or `TOO_LONG`; what it may be where that cannot be said yet; empty for a hose that fits."""
    test: Test
    """The pose that decides: the one it is most too short for, else least certain to be long enough for, else the one
    with the least to spare.
    """
    has_slack: bool
    """Whether so much is left at rest that it bows out beyond the limit, not on purpose."""

    @property
    def words(self) -> tuple[str, str, bool]:
        """The verdict without its numbers: outcome, fault, and whether it has too much slack."""
        return self.outcome, self.fault, self.has_slack

    @property
    def is_right(self) -> bool:
        """Whether it fits and lies close, or its slack is there on purpose."""
        return self.outcome == FITS and not self.has_slack

    @property
    def is_too_short(self) -> bool:
        """Whether it does not fit, being too short."""
        return self.outcome == DOES_NOT_FIT and self.fault == TOO_SHORT

    @property
    def is_too_long(self) -> bool:
        """Whether it does not fit, being too long."""
        return self.outcome == DOES_NOT_FIT and self.fault == TOO_LONG

    @property
    def seems_too_short(self) -> bool:
        """Whether it is too short as far as is known, certain or not."""
        return not self.test.passes

    @property
    def is_open(self) -> bool:
        """Whether it cannot be said yet, until the run is measured."""
        return self.outcome == CANNOT_BE_SAID

    @property
    def pulls_and_bows(self) -> bool:
        """Whether it is, or may be, too short in one pose and has too much slack at rest."""
        return self.fault == TOO_SHORT and self.has_slack


def judge(tests: Sequence[Test], *, has_slack: bool, is_too_long: bool) -> Verdict:
    """Say whether a length fits.

    Args:
        tests: The length tried in every pose.
        has_slack: Whether it bows out beyond the limit at rest, not on purpose.
        is_too_long: Whether that is certain, and a shorter length would fit and be worth having.
    """
    # With its spread, which takes time to work out, next to it.
    asked = [(test, test.margin.value, test.margin.spread) for test in tests if test.decides]
    short = [each for each in asked if each[1] < -each[2]]
    if short:
        worst, *_ = min(short, key=lambda each: each[1])
        return Verdict(DOES_NOT_FIT, TOO_SHORT, worst, has_slack)
    worst, margin_m, spread_m = min(asked, key=lambda each: _certainty(each[1], each[2]))
    if margin_m < spread_m:
        return Verdict(CANNOT_BE_SAID, TOO_SHORT, worst, has_slack)
    least, *_ = min(asked, key=lambda each: each[1])
    if is_too_long:
        return Verdict(DOES_NOT_FIT, TOO_LONG, least, has_slack)
    return Verdict(FITS, "", least, has_slack)


def odds_of(margin_m: float, spread_m: float) -> float:
    """Give the odds that a margin is not negative, never quite 0 or 1: 97.5 % for one as large as its spread."""
    if not spread_m:
        return CERTAIN if margin_m >= 0 else 1 - CERTAIN
    deviations = margin_m / spread_m * NORMAL_95
    return min(max((1 + erf(deviations / sqrt(2))) / 2, 1 - CERTAIN), CERTAIN)


def must_measure(odds: float | None) -> bool:
    """Say whether a length with these odds leaves its run to be measured: its margin lies within its spread.

    False where the odds are not known.
    """
    return odds is not None and odds < AT_SPREAD


def _certainty(margin_m: float, spread_m: float) -> float:
    """Give the margin in spreads. The odds would do, but they are all one where they are rounded."""
    if spread_m:
        return margin_m / spread_m
    return inf if margin_m >= 0 else -inf
