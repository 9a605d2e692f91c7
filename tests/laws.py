"""How many examples each law is tried on: few in the default run, many with `pytest --thorough`.

Hypothesis draws new examples in each run, so nothing here may depend on chance: a law holds for all that its strategies
draw. A failure prints the blob that repeats it.
"""

from hypothesis import HealthCheck, settings

MORE = 10
"""How many times more examples a thorough run tries."""

EXAMPLES = 100
"""Examples of a law that does not say otherwise; what `tried` counts in."""
DEFAULT_PART = 0.3
"""Of them in the default run, which stays within four minutes. Each run draws others, so that many runs try more."""

_BOTH = settings(
    deadline=None,  # a shared machine is slow now and then; what is drawn may be a whole kit
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
settings.register_profile("default", _BOTH, max_examples=round(EXAMPLES * DEFAULT_PART))
settings.register_profile("thorough", _BOTH, max_examples=EXAMPLES * MORE)


def choose(thorough: bool) -> None:
    """Choose the profile of this run, before any test is imported."""
    settings.load_profile("thorough" if thorough else "default")


def is_thorough() -> bool:
    """Whether this run tries all there is rather than one of each sort."""
    return settings.default.max_examples > EXAMPLES


def tried(times: int) -> settings:
    """Settings for a law whose examples are costly or small: tried so many times, ten times as often when thorough."""
    return settings(max_examples=max(1, times * settings.default.max_examples // EXAMPLES))
