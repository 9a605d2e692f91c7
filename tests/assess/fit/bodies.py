"""Bodies to lay hoses over: percentiles of the body survey ANSUR II of 2012, men and women."""

from kitbuilder.assess.fit.measures import Wearer, wearer_of
from kitbuilder.kit.diver import Diver, DiverHeader
from kitbuilder.kit.items import Header, Kit
from kitbuilder.kit.resolved import LinkedFiles, resolve

STATURE_AND_MASS = {
    ("male", 5): (1.648, 64.4),
    ("male", 50): (1.755, 84.6),
    ("male", 95): (1.870, 110.7),
    ("female", 5): (1.525, 51.3),
    ("female", 50): (1.626, 66.8),
    ("female", 95): (1.740, 87.1),
}
"""Stature [m] and mass [kg] by sex and percentile: the survey's summary table."""
BARE = Kit(Header(format=1, name="nothing worn", layout="single"), ())


def body(
    sex: str | None = None, stature_m: float | None = None, mass_kg: float | None = None, **more: object
) -> Wearer:
    """The wearer of no suit of whom this is given."""
    header = DiverHeader(
        format=1, holds="diver", name="somebody", sex=sex, stature_m=stature_m, mass_kg=mass_kg, **more
    )
    return wearer_of(resolve(BARE, LinkedFiles(diver=Diver(header, ()))))


def percentile(sex: str, which: int) -> Wearer:
    """A body of one percentile in stature and in mass."""
    return body(sex, *STATURE_AND_MASS[sex, which])
