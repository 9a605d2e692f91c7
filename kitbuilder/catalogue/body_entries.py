"""What the catalogue holds of bodies and of the ways hoses are led over them. Lengths in metres, masses in kg."""

from typing import NamedTuple


class Usual(NamedTuple):
    """Of a sex: mean and standard deviation of something, in SI."""

    mean: float
    sd: float


class MeasureEstimate(NamedTuple):
    """One measure of a body from others: a sum of terms, and how far single bodies lie about it."""

    plus: float
    """[m]"""
    times: dict[str, float]
    """Factors of what it is made from, by name: stature, mass [m/kg], or a measure of the survey."""
    sd: float
    """Standard deviation about it. [m]"""


class Statistics(NamedTuple):
    """One measure of the bodies of a sex. [m]"""

    mean: float
    sd: float
    estimates: tuple[MeasureEstimate, ...]
    """The first from stature alone."""


class Measure(NamedTuple):
    """A length of the body."""

    name: str
    where: str
    """Where it is measured."""
    of: dict[str, Statistics]
    """By sex: "male" and "female"."""


class Survey(NamedTuple):
    """Measures of many bodies."""

    stature: dict[str, Usual]
    """By sex. [m]"""
    mass: dict[str, Usual]
    """By sex. [kg]"""
    measures: dict[str, Measure]
    origin: str


class Terms(NamedTuple):
    """One coordinate of a landmark: a length, and measures of the body times a number."""

    plus: float
    """[m]"""
    times: tuple[tuple[str, float], ...]


class Landmark(NamedTuple):
    """A point on the body or the kit, from the skin over C7, the diver standing."""

    name: str
    where: str
    """How to find it on a worn kit."""
    right: Terms
    forward: Terms
    up: Terms
    on_head: bool
    """Whether it turns with the head."""
    knob_of: tuple[str, ...]
    """Of the knob of a valve: the layouts it belongs to."""
    origin: str


class Pose(NamedTuple):
    """Something a diver does that asks for hose."""

    name: str
    how: str
    turn: str
    """What the head does: "left", "right", "back", or nothing."""
    origin: str


class Reach(NamedTuple):
    """A pose in which the hose goes another way."""

    pose: str
    path: tuple[str, ...]


class Route(NamedTuple):
    """A way a hose is led, and what it must be able to do."""

    name: str
    layouts: tuple[str, ...]
    roles: tuple[str, ...]
    side: str
    """Of the first stage it leaves from: "left", "right", or nothing where there is but one."""
    path: tuple[str, ...]
    """Landmarks at rest, from the port to the other end."""
    holds: tuple[str, ...]
    """Landmarks of the path, other than its ends, at which something holds it."""
    in_use: tuple[str, ...]
    """Landmarks when the second stage is in the mouth and the hose is pulled."""
    bow: float
    """How much longer it lies than the straight lines from landmark to landmark."""
    hangs: bool
    """Whether its slack hangs in a loop on purpose."""
    stowed: bool
    """Whether what is left over is folded away on purpose."""
    poses: tuple[str, ...]
    reaches: tuple[Reach, ...]
    wishes: tuple[Reach, ...]
    """Reaches that a longer hose would allow, and that are not required."""
    given: tuple[str, ...]
    """Landmarks from the port to where the hose leaves the body, when the second stage is handed to another diver;
    empty where nobody hands it over."""
    origin: str
