"""A hose laid over a body by landmarks: how long it must be at rest and in every pose, and where it is free."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import dist, sqrt
from typing import NamedTuple

from kitbuilder.assess.figures import Figure, difference, from_catalogue
from kitbuilder.assess.fit.measures import Wearer
from kitbuilder.catalogue import Landmark, Pose, Route, catalogue
from kitbuilder.physics.polyline import distance_to_polyline, point_along, polyline_length, turned

BodyPoint = tuple[float, float, float]
"""To the right, forward and up from the skin over C7, the diver standing [m]."""

AT_REST, IN_USE = "at rest", "in the mouth"
SUIT, NECK_TURN, NECK_BACK = "suit", "neck turn", "neck back"
"""What a path depends on in addition to the measures of the survey."""


class RequiredLength(NamedTuple):
    """The length a hose must have for one task."""

    pose: str
    how: str
    """How to take this pose, in a sentence."""
    path: tuple[str, ...]
    """The landmarks it then goes by."""
    length: Figure
    """[m]"""
    is_asked: bool
    """Whether the task must be possible; otherwise it is only good to have."""
    is_worn: bool = True
    """Whether it is measured by a string over the worn kit; otherwise it is how far a stowed hose must go."""
    is_covered: bool = False
    """Whether a string was laid in a pose that needs at least as much, so that this one decides nothing."""


class Knob(NamedTuple):
    """How near a hose comes to the knob of a valve."""

    name: str
    distance: Figure
    """By landmarks [m]."""

    @property
    def room(self) -> Figure:
        """What is left beside a gloved hand that turns the knob, or is missing where negative [m]."""
        hand = catalogue().limits["knob_clearance"]
        needed = from_catalogue("room for a hand", hand)
        return difference(self.distance, needed, "distance from the knob less room for a hand")

    @property
    def is_blocked(self) -> bool:
        """Whether the hose is more likely in the way of the hand than not."""
        return self.room.value < 0

    @property
    def is_clear(self) -> bool:
        """Whether there is room for the hand, even with all that may be off."""
        below, _ = self.room.sides
        return self.room.value >= below


class HoldingPoint(NamedTuple):
    """One more place at which a hose could be held."""

    landmark: str
    """The landmark of its path, or the one before the place."""
    until: str
    """The landmark after the place; empty when the place is the landmark itself."""
    share: float
    """The longer part of the free stretch that it leaves, of the whole stretch."""


def hold_place(hold: HoldingPoint) -> str:
    """Say where a hold is, in words."""
    if hold.until:
        return f"in the middle, between {hold.landmark} and {hold.until}"
    # A landmark may be named as a place already, such as "behind the neck".
    return hold.landmark if hold.landmark.startswith(PLACES) else f"at the {hold.landmark}"


PLACES = ("behind ", "under ", "along ")


@dataclass(frozen=True, eq=False)
class RoutedHose:
    """A hose laid by landmarks. The same way over the same body is one object, so that figures of it can be kept."""

    route: Route
    points: tuple[BodyPoint, ...]
    """The landmarks of its path at rest."""
    needs: tuple[RequiredLength, ...]
    """At rest, then each pose."""
    span: tuple[int, int]
    """The landmarks of the path between which its longest free stretch lies."""
    span_m: float
    """The length of that stretch [m]."""
    knobs: tuple[Knob, ...]
    """The knobs of the layout, the nearest first."""

    @property
    def rest(self) -> RequiredLength:
        """The length it needs at rest."""
        return self.needs[0]

    @property
    def demanded(self) -> RequiredLength:
        """The longest length among those that must be possible."""
        return most_of(self.needs)

    @property
    def strung(self) -> RequiredLength:
        """The longest length among those that a string over the worn kit measures: the pose of the run."""
        return most_of([need for need in self.needs if need.is_worn])

    @property
    def hold(self) -> HoldingPoint:
        """The best place for one more hold in the longest free stretch: a landmark near its middle, else the middle."""
        start, end = self.span
        gone, places = 0.0, []
        for number, stretch in enumerate(self.stretches[start:end], start):
            places.append((number, gone, gone + stretch))
            gone += stretch
        inner = [
            HoldingPoint(self.route.path[number], "", max(begin, gone - begin) / gone)
            for number, begin, _ in places[1:]
        ]
        best = min(inner, key=lambda hold: hold.share, default=None)
        if best is not None and best.share <= NEAR_THE_MIDDLE:
            return best
        number = next(number for number, _, finish in places if finish >= gone / 2)
        return HoldingPoint(self.route.path[number], self.route.path[number + 1], 0.5)

    @property
    def stretches(self) -> tuple[float, ...]:
        """The lengths of its path from landmark to landmark, as it lies [m]."""
        return tuple(self.route.bow * dist(*ends) for ends in pairwise(self.points))


def most_of(needs: Sequence[RequiredLength]) -> RequiredLength:
    """Find the longest length among those that must be possible."""
    return max((need for need in needs if need.is_asked), key=lambda need: need.length.value)


@lru_cache(maxsize=1024)
def measure_route(route: Route, layout: str, wearer: Wearer) -> RoutedHose | None:
    """Route a hose over a body and measure it; None for a path that has no length."""
    values = values_of(wearer)
    points = _points(route.path, values)
    if polyline_length(points) <= 0:
        return None
    holds = sorted({0, len(points) - 1, *(i for i, name in enumerate(route.path) if name in route.holds)})
    stretches = [route.bow * dist(*ends) for ends in pairwise(points)]
    spans = [(sum(stretches[start:end]), (start, end)) for start, end in pairwise(holds)]
    span_m, span = max(spans)
    return RoutedHose(route, points, tuple(_needs(route, wearer, values)), span, span_m, _knobs(points, layout, values))


def values_of(wearer: Wearer) -> dict[str, float]:
    """Give what landmarks are made of: the measures of a wearer, and how it is dressed and turns its head."""
    return {name: figure.value for name, figure in figures_of(wearer).items()}


def figures_of(wearer: Wearer) -> dict[str, Figure]:
    """Give the same with their spreads."""
    return {**wearer.measures, **_settings(wearer)}


def _settings(wearer: Wearer) -> dict[str, Figure]:
    return {SUIT: wearer.suit, NECK_TURN: wearer.neck_turn, NECK_BACK: wearer.neck_back}


def point_of(landmark: Landmark, values: Mapping[str, float]) -> BodyPoint:
    """Say where a landmark lies on a body of these measures [m]."""
    right, forward, up = (
        plus + sum(factor * values[name] for name, factor in times)
        for plus, times in (landmark.right, landmark.forward, landmark.up)
    )
    return right, forward, up


def _points(path: Sequence[str], values: Mapping[str, float], turn: str = "") -> tuple[BodyPoint, ...]:
    landmarks = catalogue().landmarks
    points = ((landmarks[name], point_of(landmarks[name], values)) for name in path)
    if not turn:
        return tuple(point for _, point in points)
    axis = point_of(landmarks["neck axis"], values)
    return tuple(_turned(point, axis, turn, values) if mark.on_head else point for mark, point in points)


def _turned(point: BodyPoint, axis: BodyPoint, turn: str, values: Mapping[str, float]) -> BodyPoint:
    if turn == "back":
        return turned(point, axis, "right", values[NECK_BACK])
    return turned(point, axis, "up", values[NECK_TURN] if turn == "left" else -values[NECK_TURN])


class _Posed(NamedTuple):
    """The way a hose goes in one pose."""

    pose: str
    how: str
    path: tuple[str, ...]
    bow: float
    """How much longer it lies than the straight lines from landmark to landmark."""
    turn: str = ""
    """What the head does."""


def _needs(route: Route, wearer: Wearer, values: dict[str, float]) -> Iterator[RequiredLength]:
    poses = catalogue().poses
    at_rest = _Posed(AT_REST, "Stand relaxed, arms down, looking ahead.", route.path, route.bow)
    yield _need(at_rest, route, wearer, values)
    if route.in_use != route.path:
        yield _need(_pulled(poses[IN_USE], route.in_use), route, wearer, values)
    for name in route.poses:
        yield _need(_pulled(poses[name], route.in_use), route, wearer, values)
    for reach in route.reaches:
        need = _need(_pulled(poses[reach.pose], reach.path), route, wearer, values)
        yield need._replace(is_worn=not route.stowed)
    for reach in route.wishes:
        yield _need(_pulled(poses[reach.pose], reach.path), route, wearer, values)._replace(is_asked=False)


def _pulled(pose: Pose, path: tuple[str, ...]) -> _Posed:
    return _Posed(pose.name, pose.how, path, catalogue().limits["taut"].value, pose.turn)


def _need(posed: _Posed, route: Route, wearer: Wearer, values: dict[str, float]) -> RequiredLength:
    """Give the length of a path, with what each unknown of the body adds to its uncertainty."""
    path, turn = posed.path, posed.turn
    figures = figures_of(wearer)
    unknowns = {name: figures[name] for name in _measures_of(path, turn)}

    def length_m(values: Mapping[str, float]) -> float:
        return posed.bow * polyline_length(_points(path, values, turn))

    length = laid_length(length_m, values, unknowns, route.name)
    return RequiredLength(posed.pose, posed.how, path, length, is_asked=True)


def laid_length(
    length_m: Callable[[Mapping[str, float]], float],
    values: Mapping[str, float],
    unknowns: Mapping[str, Figure],
    route: str,
) -> Figure:
    """Give a length by landmarks, with what landmarks and unknown measures add to its spread [m].

    Args:
        length_m: Gives the length for the values that landmarks are made of.
        values: Those values, as they are known.
        unknowns: Of them, the measures that the length changes with, each with its spread.
        route: The name of the route.
    """
    length = length_m(values)
    components = {f"landmarks of the route {route}": landmark_spread(length)}
    for name, figure in unknowns.items():
        spread = figure.spread
        if not spread:
            continue
        step = SMALL_PART * spread
        change = (length_m({**values, name: values[name] + step}) - length) / step
        for source, share in figure.components.items():
            components[source] = components.get(source, 0.0) + change * share
    return Figure(length, components, "landmarks")


def landmark_spread(length_m: float) -> float:
    """Say how far a length by landmarks may be off because of the landmarks themselves [m].

    Each landmark errs by itself, so the error of a path grows with the square root of its length.
    """
    return catalogue().limits["landmark_spread"].value * sqrt(length_m / METRE)


@lru_cache(maxsize=1024)
def _measures_of(path: tuple[str, ...], turn: str) -> tuple[str, ...]:
    """Give the measures that a path changes with."""
    landmarks = [catalogue().landmarks[name] for name in (*path, *(["neck axis"] if turn else []))]
    terms = (terms for mark in landmarks for terms in (mark.right, mark.forward, mark.up))
    neck = [NECK_BACK if turn == "back" else NECK_TURN] if turn else []
    return tuple(dict.fromkeys([name for each in terms for name, _ in each.times] + neck))


METRE = 1.0
"""The run for which the spread of landmarks is given [m]."""
SMALL_PART = 0.01
"""Of a spread, by which a measure is moved to see what hangs on it: a path bent out by one measure may be bent back by
another of the same source, which steps of a whole spread would take for two ways to bend it out.
"""
NEAR_THE_MIDDLE = 0.55
"""The longer part of a stretch, of the whole, up to which a landmark counts as its middle."""
NEAR_THE_PORT_M = 0.1
"""The first part of a hose, which cannot but be near the knob of its valve."""


def _knobs(points: Sequence[BodyPoint], layout: str, values: Mapping[str, float]) -> tuple[Knob, ...]:
    start = min(NEAR_THE_PORT_M, polyline_length(points) / 2)
    away = (point_along(points, start), *_beyond(points, start))
    knobs = [mark for mark in catalogue().landmarks.values() if layout in mark.knob_of]
    off = catalogue().limits["knob_place"]
    found = (
        Knob(mark.name, Figure(distance_to_polyline(point_of(mark, values), away), {mark.name: off.value}, off.origin))
        for mark in knobs
    )
    return tuple(sorted(found, key=lambda knob: knob.distance.value))


def _beyond(points: Sequence[BodyPoint], distance_m: float) -> Iterator[BodyPoint]:
    """Give the points that lie further along than a distance."""
    gone = 0.0
    for start, end in pairwise(points):
        gone += dist(start, end)
        if gone > distance_m:
            yield end
