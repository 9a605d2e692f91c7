"""What losses are written in: the same tags and times in the tables, in the rows of one loss, and in JSON."""

import json
from dataclasses import replace

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st
from syrupy.assertion import SnapshotAssertion

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.figures import Figure
from kitbuilder.kit.items import KINDS, FirstStage, Header, Kit
from kitbuilder.kit.resolved import resolve
from kitbuilder.plans.losses import LP_BURST, VALVE_CLOSED, Function, Loss, losses_of, work_out_losses
from kitbuilder.report.losses import (
    NOTHING,
    ONE_FIRST_STAGE,
    SHAPE,
    causes_list,
    cautions_page,
    loss_page,
    losses_page,
)
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Page
from kitbuilder.report.shapes import DEFINITIONS
from tests.assess.kits import WHOLE, WRONG, assessed, changed, config, shipped
from tests.laws import tried
from tests.report.pages import page_json, page_text
from tests.report.test_any_kit import records, tagged
from tests.text_snapshot import TextSnapshot

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL
EVERY = (*WHOLE, WRONG)
EVIL, ESCAPE = "\\u001b[2J\\u202e[red]", r"\x1b[2J\u202e[red]"
"""A text that would clear a terminal and turn its words round: as a file writes it, and as it is shown."""
BARE = 'format = 1\nname = "bare"\nlayout = "single"\n'


def page_of(assessment: Assessment) -> Page:
    return losses_page("kit.toml", work_out_losses(assessment))


def flat(text: str) -> str:
    return " ".join(text.split())


def lost(assessment: Assessment, cause: str, tag: str) -> Loss:
    """The one loss of that cause."""
    [found] = [loss for loss in losses_of(assessment) if (loss.cause, loss.tag) == (cause, tag)]
    return found


@pytest.mark.parametrize("name", ["twinset", "sidemount", "cold-single", WRONG])
def test_the_text(name: str, snapshot: SnapshotAssertion) -> None:
    """Read it as a diver does before a dive."""
    assert page_text(page_of(shipped(name)), width=80) == snapshot.use_extension(TextSnapshot)


@pytest.mark.parametrize("name", EVERY)
@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("width", [60, 80, 100])
def test_text_keeps_within_the_width_and_divides_no_word(name: str, system: System, width: int) -> None:
    """A word that is divided is one that the text in a wide line does not have."""
    page = page_of(shipped(name))
    text = page_text(page, system, width)
    assert max(map(len, text.splitlines())) <= width
    assert set(text.split()) <= set(page_text(page, system, 500).split())


def test_long_tags_are_whole() -> None:
    """They go on in further lines of their column."""
    long = "a hose whose name goes on and on and on and on"
    page = page_of(assessed(config("twinset").replace("necklace hose", long)))
    assert flat(long + ": LP burst") in flat(page_text(page, width=100))
    text = page_text(page, width=60)
    assert "…" not in text
    assert max(map(len, text.splitlines())) <= 60


@pytest.mark.parametrize(
    ("function", "says"),
    [
        (Function(("a", "b"), ()), "all"),
        (Function(("a",), ("b",)), "a"),
        (Function(("a", "c"), ("b",)), "a, c"),
        (Function((), ("b",)), "none"),
        (Function((), ()), "–"),
    ],
)
def test_what_still_does_a_job(function: Function, says: str) -> None:
    """The other functions of the twinset's last hose burst are lost or not as they are."""
    found = work_out_losses(shipped("twinset"))
    [burst] = [loss for loss in found.losses if loss.tag == "gauge hose"]
    loss = burst._replace(functions=burst.functions | {"breathing": function})
    text = page_text(losses_page("kit.toml", found._replace(losses=(loss,))))
    [row] = [line for line in text.splitlines() if line.startswith("  gauge hose: HP burst")][:1]
    cells = [cell.strip() for cell in row.split("  ") if cell.strip()]
    assert cells == ["gauge hose: HP burst", says, "all", "none", "none"]


@pytest.mark.parametrize(
    ("share", "shut_in", "says"),
    [
        (Figure(1.0, {}, ""), (), "100 %"),
        (Figure(0.5, {"a": 0.007}, ""), ("right",), '50 ± 1 %; the gas of "right" is shut in'),
        (Figure(1 / 3, {"a": 0.03, "b": -0.04}, ""), ("a", "b"), '33 ± 5 %; the gas of "a" and "b" is shut in'),
        (Figure(0.0, {}, ""), ("one", "two", "three"), 'none; the gas of "one", "two" and "three" is shut in'),
        (None, ("right",), 'not known; the gas of "right" is shut in'),
    ],
)
def test_the_gas_that_is_left(share: Figure | None, shut_in: tuple[str, ...], says: str) -> None:
    found = work_out_losses(shipped("sidemount"))
    loss = lost(shipped("sidemount"), VALVE_CLOSED, "right")._replace(
        gas_left=share, gas_left_at_depth=share, shut_in=shut_in
    )
    assert f"gas left {says} do" in flat(page_text(loss_page(found, loss)))


def test_all_there_is_to_say_about_a_burst() -> None:
    """Read off the sidemount's file; 30 m are 98 ft."""
    assessment = shipped("sidemount")
    page = loss_page(work_out_losses(assessment), lost(assessment, LP_BURST, "long hose"))
    rows = dict(line.split("  ", 1) for line in page_text(page, width=200).splitlines())
    spoken = {label: text.strip() for label, text in rows.items()}
    assert list(spoken) == ["breathe", "inflate", "drysuit", "gauge", "gas left", "empty in", "do", "fed by"]
    assert spoken["breathe"] == "necklace; lost: primary"
    assert spoken["inflate"] == "bladder"
    assert spoken["drysuit"] == "nothing; lost: drysuit"
    assert spoken["gauge"] == "left gauge; lost: right gauge"
    assert " at the surface; " in spoken["empty in"]
    assert spoken["empty in"].endswith(" at 30 m")
    assert spoken["do"].startswith('Close the valve of "right" at once.')
    assert spoken["fed by"] == '"right", on "right cylinder"'
    assert " at 98 ft\n" in page_text(page, IMPERIAL, 200)


def test_a_function_that_the_kit_does_not_have_has_no_row() -> None:
    """The warm single has no drysuit."""
    assessment = shipped("warm-single")
    page = loss_page(work_out_losses(assessment), lost(assessment, VALVE_CLOSED, "first"))
    labels = [line.split("  ")[0] for line in page_text(page, width=200).splitlines()]
    assert labels == ["breathe", "inflate", "gauge", "gas left", "do", "fed by"]


def test_the_list_of_causes_counts_what_still_works() -> None:
    """Read off the file: the right post feeds primary and wing, the left one necklace, drysuit and gauge."""
    found = work_out_losses(shipped("twinset"))
    _heads, *rows = page_text(Page([causes_list(found)])).splitlines()
    assert [row.rsplit("  ", 1)[1] for row in rows] == ["3 of 5"] * 4 + ["2 of 5"] * 5 + ["5 of 5", "3 of 5", "2 of 5"]
    assert rows[2].startswith("long hose ")
    assert " LP burst " in rows[2]


@pytest.mark.parametrize("name", EVERY)
def test_one_first_stage_is_said_in_plain_words(name: str) -> None:
    """Before the tables, and first of all on the screen."""
    found = work_out_losses(shipped(name))
    has_one = name not in ("twinset", "sidemount")
    assert (ONE_FIRST_STAGE in flat(page_text(losses_page("kit.toml", found)))) == has_one
    assert flat(page_text(cautions_page(found))).startswith(ONE_FIRST_STAGE) == has_one


def test_a_kit_without_first_stages_says_so() -> None:
    page = page_of(assessed(BARE))
    text = page_text(page)
    assert flat(text).count(NOTHING) == 1
    assert "burst" not in text
    assert page_json(page)["losses"] == []


@pytest.mark.parametrize("name", EVERY)
def test_json_holds_what_was_worked_out(name: str) -> None:
    """To six digits."""
    assessment = shipped(name)
    found = page_json(page_of(assessment))
    jsonschema.validate(found, SHAPE | {"$defs": DEFINITIONS})
    assert found["file"] == "kit.toml"
    assert len(found["losses"]) == len(losses_of(assessment))
    for row, loss in zip(found["losses"], losses_of(assessment), strict=True):
        assert (row["cause"], row["tag"], row["first_stage"]) == (loss.cause, loss.tag, loss.stage or None)
        for job, function in loss.functions.items():
            assert row["functions"][job] == {
                "works": list(function.works),
                "lost": list(function.lost),
                "not_breathable": list(function.not_breathable),
            }
        assert row["gas_shut_in"] == list(loss.shut_in)
        assert [each["time_s"]["value"] for each in row["empty"]] == pytest.approx(
            [each.time.value for each in loss.emptyings if each.time], rel=1e-5
        )
    assert found["assumptions"]


def test_linked_files_that_cannot_be_used_are_named() -> None:
    """At the head of the text; in JSON they are among the problems of the answer."""
    assessment = shipped("twinset")
    linked = assessment.kit.linked._replace(gear_problems=("gear.toml: no such file",))
    page = page_of(assessed(config("twinset"), linked))
    assert "\nNot used: gear.toml: no such file\n" in page_text(page)
    assert "linked_problems" not in page_json(page)


def test_a_hostile_tag_is_written_out() -> None:
    text = page_text(page_of(assessed(changed(config("twinset"), ('"long hose"\nrole', f'"{EVIL}"\nrole')))))
    assert "\x1b" not in text
    assert "\u202e" not in text
    assert ESCAPE in text


def breathing_kit(header: Header, cylinders: list, low: object, high: object) -> Kit:
    """Any cylinders, any two hoses, one on each kind of port of a first stage."""
    stage = FirstStage(tag="stage", preset="brass, DIN, 4 LP 2 HP")
    hoses = [replace(low, from_="item 0 LP1", in_spares=None), replace(high, from_="item 0 HP1", in_spares=None)]  # type: ignore[type-var]
    return Kit(header, tagged([stage, *cylinders, *hoses]))


ANY_KIT = st.builds(
    breathing_kit,
    records(Header, ""),
    st.lists(records(KINDS["cylinder"], "cylinder"), max_size=3),
    records(KINDS["hose"], "hose"),
    records(KINDS["hose"], "hose"),
)


@tried(60)
@given(kit=ANY_KIT, system=st.sampled_from(System))
def test_anything_a_file_may_say_is_reported(kit: Kit, system: System) -> None:
    """Any filling, gas, depth, bore and temperature within the limits of their keys: no error and no NaN."""
    found = work_out_losses(assess(resolve(kit)))
    page = losses_page("own.toml", found)
    assert max(map(len, page_text(page, system, 80).splitlines())) <= 80
    assert json.dumps(page_json(page), allow_nan=False)
    assert [loss.cause for loss in found.losses] == [
        "valve closed",
        "first stage lost",
        "LP burst",
        "HP burst",
    ]
