"""How far slack over a free span lets a hose bow out from the body."""

from kitbuilder.assess.figures import Figure, Range
from kitbuilder.physics.elastica import LARGEST_RATIO, Bend, bend


def bend_of(slack_m: float, span_m: float) -> Bend | None:
    """Give the shape of a hose with some slack [m] over a free span [m]; None for a loop."""
    length = span_m + max(slack_m, 0.0)
    return bend(length, span_m) if length <= span_m * LARGEST_RATIO else None


def stand_off_range(slack: Figure, span_m: float) -> Range | None:
    """Say how far slack over a free span stands off, and within which range [m]; None for a loop."""
    value = _stand_off(slack.value, span_m)
    if value is None:
        return None
    low = least_stand_off(slack, span_m)
    # More slack than a stand-off can be computed for is a loop; the range then ends where loops begin.
    most_slack = (LARGEST_RATIO - 1) * span_m * (1 - 1e-9)
    high = _stand_off(min(slack.value + slack.spread, most_slack), span_m)
    return Range(value, low if low is not None else 0.0, max(value, high if high is not None else value))


def least_stand_off(slack: Figure, span_m: float) -> float | None:
    """Say how far slack over a free span stands off at the lower end of its spread [m]; None for a loop."""
    return _stand_off(max(0.0, slack.value - slack.spread), span_m)


def _stand_off(slack_m: float, span_m: float) -> float | None:
    shape = bend_of(slack_m, span_m)
    return shape.stand_off_m if shape and slack_m >= 0 else None
