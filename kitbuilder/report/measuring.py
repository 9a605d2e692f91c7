"""How two people measure a hose's run with a string: the points, the posture, the way, and what to enter."""

from collections.abc import Iterator
from typing import NamedTuple

from kitbuilder.assess.figures import Figure
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.fit.routed_hose import RoutedHose
from kitbuilder.catalogue import catalogue
from kitbuilder.report.page import Estimate, Sentence

BEFORE = "Two people: one stands and wears the complete kit, with the hood; the other lays a string."
LAYING = "Lay it close, not tight, and around corners as wide as a hose bends. Measure twice: the longer one counts."
ENTERING = 'Type "62 cm" or "24.5 in"; enter goes on. An empty line changes nothing.'
"""What to say while nothing is typed."""


class MeasuringStep(NamedTuple):
    """One length to measure."""

    key: str
    """The key of the hose that takes it."""
    title: str
    """What it is of which hose."""
    paragraphs: tuple[Sentence, ...]
    """What to do."""


def measuring_steps(figures: HoseFigures) -> tuple[MeasuringStep, ...]:
    """List what to measure of a hose: its run, and where it matters the run at rest and the free span."""
    routed = figures.routed
    if routed is None:
        return (_unguided(figures),)
    return tuple(_guided(figures, routed))


def _unguided(figures: HoseFigures) -> MeasuringStep:
    role = catalogue().roles[figures.hose.role]
    return MeasuringStep(
        "run",
        f"{figures.hose.tag}: run",
        (
            (BEFORE,),
            (f"Position: the one in which a hose for this use ({role.name}) has to be longest.",),
            ("Measure from the port it leaves to the item it feeds, the way the hose is to go.",),
            (LAYING,),
        ),
    )


def _guided(figures: HoseFigures, routed: RoutedHose) -> Iterator[MeasuringStep]:
    tag, demanded = figures.hose.tag, routed.strung
    yield MeasuringStep(
        "run",
        f"{tag}: run, {demanded.pose}",
        (
            (BEFORE,),
            (f"Position: {demanded.how}",),
            *_way(demanded.path),
            (LAYING,),
            _expected(demanded.length),
        ),
    )
    if demanded is not routed.rest and not (routed.route.hangs or routed.route.stowed):
        yield MeasuringStep(
            "rest_run",
            f"{tag}: run at rest",
            ((f"Position: {routed.rest.how}",), *_way(routed.rest.path), _expected(routed.rest.length)),
        )
    start, end = (routed.route.path[number] for number in routed.span)
    yield MeasuringStep(
        "span",
        f"{tag}: longest free stretch",
        (
            ("Position: stand relaxed. Find the longest stretch that nothing holds: no band, no ring, no strap.",),
            (f"By landmarks it goes from: {_where(start)}; to: {_where(end)}.",),
            ("Measure along the way, from hold to hold.",),
            _expected(Figure(routed.span_m, routed.rest.length.components, "")),
        ),
    )


def _way(path: tuple[str, ...]) -> Iterator[Sentence]:
    yield (f"Hold one end at: {_where(path[0])}.",)
    if between := path[1:-1]:
        yield (f"Lead it by: {', '.join(between)}.",)
    yield (f"It ends at: {_where(path[-1])}.",)


def _where(landmark: str) -> str:
    return catalogue().landmarks[landmark].where


def _expected(length: Figure) -> Sentence:
    return ("By landmarks: ", Estimate(length, "length"), ".")
