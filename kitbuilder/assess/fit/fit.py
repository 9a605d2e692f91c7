"""How a hose's length suits its run: the present hose in every pose, and the stock lengths around it."""

from typing import NamedTuple

from kitbuilder.assess.figures import Figure, Range
from kitbuilder.assess.fit.routed_hose import RoutedHose
from kitbuilder.assess.fit.stand_off import bend_of, least_stand_off
from kitbuilder.assess.fit.stock_lengths import neighbour_length
from kitbuilder.assess.fit.trial import STOWED, Closest, Option, Trial, trial_of, try_length
from kitbuilder.assess.fit.verdict import Verdict
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.items import Hose
from kitbuilder.physics.elastica import Bend, curve


class Fit(NamedTuple):
    """How a hose fits its run: by string where it was measured, else by the landmarks of its route."""

    trial: Trial
    present: Option
    shorter: Option | None
    """The nearest stock length below the present one."""
    longer: Option | None
    """The nearest stock length above the present one."""

    @property
    def verdict(self) -> Verdict:
        """Whether the present hose fits."""
        return self.present.verdict

    @property
    def run(self) -> Figure:
        """What it must cover in the position that decides [m]."""
        return self.verdict.test.needed

    @property
    def slack(self) -> Figure:
        """What is left in that pose, less what is stowed; missing where negative [m]."""
        return self.verdict.test.margin

    @property
    def stowed_then_m(self) -> float:
        """How much of it is folded away in that pose, beside what covers the run [m]."""
        is_worn = any(need.is_worn for need in self.trial.needs if need.pose == self.verdict.test.pose)
        return (self.trial.hose.stowed_m or 0.0) if is_worn else 0.0

    @property
    def is_estimated(self) -> bool:
        """Whether the run comes from landmarks, since nobody has laid a string for that pose."""
        return not self.verdict.test.by_string

    @property
    def rest_slack(self) -> Figure:
        """What is left at rest [m]."""
        return self.present.rest_slack

    @property
    def rest_is_measured(self) -> bool:
        """Whether a string was laid at rest as well, or the pose of the run is the one at rest."""
        return self.trial.rest_is_strung

    @property
    def slack_is_measured(self) -> bool:
        """Whether a string shows too much slack: at rest, or in the position of the run, where less is left."""
        if self.rest_is_measured or self.strung_slack is None:
            return self.rest_is_measured
        least = least_stand_off(self.strung_slack, self.span_m)
        return least is None or least > catalogue().limits["stand_off_caution"].value

    @property
    def strung_slack(self) -> Figure | None:
        """Slack by string: at rest, else in the position of the run [m]; None where no string was laid."""
        if self.rest_is_measured:
            return self.rest_slack
        return next((test.margin for test in self.present.tests if test.by_string and test.decides), None)

    @property
    def strung_radius_m(self) -> float | None:
        """The tightest bend of that slack [m]; None when there is none, for a loop, and where no string was laid."""
        slack = self.strung_slack
        shape = bend_of(slack.value, self.span_m) if slack and slack.value > 0 and not self.slack_by_design else None
        return shape.tightest_radius_clamped_m if shape else None

    @property
    def slack_by_design(self) -> str:
        """How slack at rest is meant to be used up: "hangs", "stowed", or empty."""
        return self.trial.slack_by_design

    @property
    def stowed_m(self) -> float:
        """How much of it is folded away: as its file says, else the slack that is meant to be stowed [m]."""
        if self.trial.hose.stowed_m is not None:
            return self.trial.hose.stowed_m
        return max(self.rest_slack.value, 0.0) if self.slack_by_design == STOWED else 0.0

    @property
    def span_m(self) -> float:
        """The longest free stretch, in which all the slack can gather [m]."""
        return self.trial.span_m

    @property
    def stand_off(self) -> Range | None:
        """[m]; None when the hose is too short at rest, a loop, or slack on purpose."""
        return self.present.stand_off

    @property
    def is_loop(self) -> bool:
        """Whether the hose has so much slack that it hangs in a loop and no stand-off can be computed."""
        return self.present.is_loop

    @property
    def bend(self) -> Bend | None:
        """Its shape at rest; None when the hose is too short at rest, a loop, or slack on purpose."""
        return None if self.stand_off is None else bend_of(self.rest_slack.value, self.span_m)

    @property
    def tightest_radius_m(self) -> float | None:
        """With both holds keeping the hose along the body: the smaller, careful figure [m]."""
        return self.bend.tightest_radius_clamped_m if self.bend and self.rest_slack.value > 0 else None

    @property
    def closest_stock(self) -> Closest | None:
        """The shortest stock length that is certain to be long enough; None when none is."""
        return self.trial.closest


def fit_hose(hose: Hose, routed: RoutedHose | None = None) -> Fit | None:
    """Say how the hose fits.

    Args:
        hose: The hose.
        routed: The hose by landmarks; what its run is taken from when no string was laid.

    Returns:
        None when its run was neither measured nor can be estimated.
    """
    trial = trial_of(hose, routed)
    if trial is None:
        return None
    return Fit(trial, try_length(trial, hose.length_m), _neighbour(trial, -1), _neighbour(trial, +1))


def _neighbour(trial: Trial, by: int) -> Option | None:
    length_m = neighbour_length(trial.hose, by)
    return None if length_m is None else try_length(trial, length_m)


def rest_curve(fit: Fit, points: int) -> tuple[tuple[float, float], ...]:
    """Give the hose at rest over its free span, from hold to hold: (along the body, away from it) [m].

    Empty for a hose that is too short at rest, and for a loop.
    """
    return curve(fit.bend, points) if fit.bend else ()
