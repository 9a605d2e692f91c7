"""How two people measure a run: which posture, from where to where, what to enter."""

import pytest

from kitbuilder.report.measuring import measuring_steps
from kitbuilder.report.numbers import System
from tests.assess.kits import assessed, config, lone_hose


def steps(text: str, tag: str, system: System = System.METRIC):
    [figures] = [figures for figures in assessed(text).hoses if figures.hose.tag == tag]
    return measuring_steps(figures, system)


def test_a_primary_is_measured_in_its_pose_at_rest_and_over_its_free_stretch():
    """Looking left, the mouth is farthest from the right shoulder."""
    run, rest, span = steps(config("warm-single"), "primary hose")
    assert [step.key for step in (run, rest, span)] == ["run", "rest_run", "span"]
    told = " ".join(run.lines)
    assert "head left" in run.title
    assert "Look fully left" in told
    assert "Hold one end at: the ports on the right of a first stage behind the neck." in told
    assert "It ends at: where the hose enters a second stage held in the mouth, on the right." in told
    assert "arms down" in " ".join(rest.lines)


def test_a_hose_that_hangs_or_is_stowed_is_not_measured_at_rest():
    """Its slack is there on purpose."""
    for tag in ("long hose", "necklace hose"):
        assert [step.key for step in steps(config("twinset"), tag)] == ["run", "span"]


def test_what_the_landmarks_tell_stands_beside_in_the_reader_s_units():
    metric, imperial = (" ".join(steps(lone_hose(), "hose", system)[0].lines) for system in System)
    assert metric.endswith(" cm.")
    assert imperial.endswith(" in.")


@pytest.mark.parametrize("layout", ["twinset", "sidemount"])
def test_a_hose_of_which_no_route_is_known_is_asked_for_its_run_alone(layout):
    """A primary of that name is not led there."""
    [step] = steps(lone_hose().replace('layout = "single"', f'layout = "{layout}"'), "hose")
    assert step.key == "run"
    assert "From the port it leaves to the thing it feeds" in " ".join(step.lines)
