"""The clock: the one place that is asked which day it is, so that a test can set it."""

from datetime import date


def today() -> date:
    """Give the day that it is here, in local time."""
    return date.today()
