"""How two people measure a hose's run with a string: which point to hold, which posture, which way, what to enter."""

from collections.abc import Iterator
from typing import NamedTuple

from kitbuilder.assess.figures import Figure
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.fit.routed_hose import RoutedHose
from kitbuilder.catalogue import catalogue
from kitbuilder.foreign import visible
from kitbuilder.report.numbers import System, with_spread

BEFORE = "Two people: one wears all of it as for the dive, hood too, and stands; the other lays a string."
LAYING = "Lay it snug, not tight, as wide round corners as a hose bends. Twice; the longer counts."
ENTERING = 'Type "62 cm" or "24.5 in"; enter goes on. Nothing typed leaves it as it is.'
"""What to say while nothing is typed."""


class MeasuringStep(NamedTuple):
    """One length to measure."""

    key: str
    """The key of the hose that takes it."""
    title: str
    lines: tuple[str, ...]
    """What to do, a paragraph a line."""


def measuring_steps(figures: HoseFigures, system: System) -> tuple[MeasuringStep, ...]:
    """What to measure of a hose, one length after another: its run, and where it matters the rest and the free span."""
    routed = figures.routed
    if routed is None:
        return (_unguided(figures),)
    return tuple(_guided(figures, routed, system))


def _unguided(figures: HoseFigures) -> MeasuringStep:
    role = catalogue().roles[figures.hose.role]
    return MeasuringStep(
        "run",
        f"{visible(figures.hose.tag)}: its run",
        (
            BEFORE,
            f"Posture: the one that asks for most of a hose of this use ({role.name}).",
            "From the port it leaves to the item it feeds, the way the hose is to go.",
            LAYING,
        ),
    )


def _guided(figures: HoseFigures, routed: RoutedHose, system: System) -> Iterator[MeasuringStep]:
    tag, demanded = visible(figures.hose.tag), routed.strung
    yield MeasuringStep(
        "run",
        f"{tag}: its run, {demanded.pose}",
        (
            BEFORE,
            f"Posture: {demanded.how}",
            *_way(demanded.path),
            LAYING,
            _expected(demanded.length, system),
        ),
    )
    if demanded is not routed.rest and not (routed.route.hangs or routed.route.stowed):
        yield MeasuringStep(
            "rest_run",
            f"{tag}: the same at rest",
            (f"Posture: {routed.rest.how}", *_way(routed.rest.path), _expected(routed.rest.length, system)),
        )
    start, end = (routed.route.path[number] for number in routed.span)
    yield MeasuringStep(
        "span",
        f"{tag}: its longest free stretch",
        (
            "Posture: stand at ease. Find the longest stretch that nothing holds: no band, no ring, no strap.",
            f"By landmarks it goes from: {_where(start)}; to: {_where(end)}.",
            "Measure along the way, from hold to hold.",
            f"By landmarks: {with_spread(Figure(routed.span_m, routed.rest.length.components, ''), 'length', system)}.",
        ),
    )


def _way(path: tuple[str, ...]) -> Iterator[str]:
    yield f"Hold one end at: {_where(path[0])}."
    if between := path[1:-1]:
        yield f"Lead it by: {', '.join(between)}."
    yield f"It ends at: {_where(path[-1])}."


def _where(landmark: str) -> str:
    return catalogue().landmarks[landmark].where


def _expected(length: Figure, system: System) -> str:
    return f"By landmarks: {with_spread(length, 'length', system)}."
