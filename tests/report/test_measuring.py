"""How two people measure a run: which posture, from where to where, what to enter."""

import re

import pytest

from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.catalogue import catalogue
from kitbuilder.foreign import visible
from kitbuilder.kitfile.starters import starter_text
from kitbuilder.report.cells import format_line
from kitbuilder.report.measuring import MeasuringStep, measuring_steps
from kitbuilder.report.numbers import System
from tests.assess.kits import assessed, config, lone_hose


def steps(text: str, tag: str) -> tuple[MeasuringStep, ...]:
    [figures] = [figures for figures in assessed(text).hoses if figures.hose.tag == tag]
    return measuring_steps(figures)


def lines_of(step: MeasuringStep, system: System = System.METRIC) -> list[str]:
    return [format_line(words, system) for words in step.paragraphs]


def test_a_primary_is_measured_in_its_pose_at_rest_and_over_its_free_stretch():
    """Looking left, the mouth is farthest from the right shoulder."""
    run, rest, span = steps(config("warm-single"), "primary hose")
    assert [step.key for step in (run, rest, span)] == ["run", "rest_run", "span"]
    spoken = " ".join(lines_of(run))
    assert "head left" in run.title
    assert "Look fully left" in spoken
    assert "Hold one end at: the ports on the right of a first stage behind the neck." in spoken
    assert "It ends at: where the hose enters a second stage held in the mouth, on the right." in spoken
    assert "arms down" in " ".join(lines_of(rest))


HOSES = [
    pytest.param(figures, id=f"{layout}-{figures.hose.tag}".replace(" ", "-"))
    for layout in ("single", "twinset", "sidemount")
    for figures in assessed(starter_text(layout, "a kit")).hoses
]
"""The usual hoses of every layout, of which nothing was measured."""


@pytest.mark.parametrize("figures", HOSES)
def test_the_run_is_that_of_the_worn_pose_that_needs_most(figures: HoseFigures):
    """The one that a string over the worn kit tells; how far a stowed hose goes to a partner is no run."""
    routed = figures.routed
    assert routed is not None
    worn = [need for need in routed.needs if need.is_worn and need.is_asked]
    most = max(worn, key=lambda need: need.length.value)
    run = measuring_steps(figures)[0]
    assert run.title == f"{figures.hose.tag}: run, {most.pose}"
    assert f"Position: {most.how}" in lines_of(run)


@pytest.mark.parametrize("figures", HOSES)
def test_each_step_says_who_where_from_which_way_and_where_to_in_this_order(figures: HoseFigures):
    """And last what the landmarks tell, so that a slip of the string is seen."""
    where = {mark.where for mark in catalogue().landmarks.values()}
    for step in measuring_steps(figures):
        starts = [line.split(":")[0] for line in lines_of(step)]
        if step.key == "span":
            assert starts == [
                "Position",
                "By landmarks it goes from",
                "Measure along the way, from hold to hold.",
                "By landmarks",
            ]
            continue
        assert [
            start for start in starts if start in ("Position", "Hold one end at", "It ends at", "By landmarks")
        ] == [
            "Position",
            "Hold one end at",
            "It ends at",
            "By landmarks",
        ]
        for line in lines_of(step):
            if line.startswith(("Hold one end at: ", "It ends at: ")):
                assert line.split(": ", 1)[1].removesuffix(".") in where
        assert starts.index("Hold one end at") < starts.index("It ends at")


@pytest.mark.parametrize("figures", HOSES)
def test_the_lengths_are_asked_for_in_the_order_they_are_laid(figures: HoseFigures):
    """The run, the same at rest unless the run is that already or the slack hangs or is stowed, the free span."""
    steps = measuring_steps(figures)
    routed = figures.routed
    assert routed is not None
    on_purpose = routed.route.hangs or routed.route.stowed
    rest = [] if on_purpose or steps[0].title.endswith(": run, at rest") else ["rest_run"]
    assert [step.key for step in steps] == ["run", *rest, "span"]


@pytest.mark.parametrize("figures", HOSES)
@pytest.mark.parametrize(("system", "unit", "other"), [(System.METRIC, "cm", "in"), (System.IMPERIAL, "in", "cm")])
def test_lengths_are_reported_in_the_unit_of_the_reader(figures: HoseFigures, system: System, unit: str, other: str):
    """Each step ends with what the landmarks tell and how far that may be off."""
    for step in measuring_steps(figures):
        lines = lines_of(step, system)
        assert re.fullmatch(rf"By landmarks: [\d.]+ ± [\d.]+ {unit}\.", lines[-1])
        assert not any(f" {other}." in line for line in lines)


def test_a_tag_that_would_command_the_terminal_is_only_shown():
    """Whether its route is known or not; the title is made visible where it is shown."""
    text = lone_hose(tag="\x1b[2J").replace("\x1b", "\\u001b")
    for layout in ("single", "twinset"):
        [figures] = assessed(text.replace('layout = "single"', f'layout = "{layout}"')).hoses
        for step in measuring_steps(figures):
            assert visible(step.title).startswith(r"\x1b[2J: ")
            assert all(line.isprintable() for line in lines_of(step))


def test_a_hose_that_hangs_or_is_stowed_is_not_measured_at_rest():
    """Its slack is there on purpose: a long hose, a necklace, and a short hose of sidemount that hangs."""
    for name, tag in (("twinset", "long hose"), ("twinset", "necklace hose"), ("sidemount", "short hose")):
        assert [step.key for step in steps(config(name), tag)] == ["run", "span"]


def test_what_the_landmarks_tell_stands_beside_in_the_reader_s_units():
    metric, imperial = (" ".join(lines_of(steps(lone_hose(), "hose")[0], system)) for system in System)
    assert metric.endswith(" cm.")
    assert imperial.endswith(" in.")


@pytest.mark.parametrize("layout", ["twinset", "sidemount"])
def test_a_hose_of_which_no_route_is_known_is_asked_for_its_run_alone(layout):
    """A primary of that name is not led there."""
    [step] = steps(lone_hose().replace('layout = "single"', f'layout = "{layout}"'), "hose")
    assert step.key == "run"
    assert "Measure from the port it leaves to the item it feeds" in " ".join(lines_of(step))
