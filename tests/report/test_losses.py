"""What losses are told in: the same tags and times in the table, in the rows of one loss, and in JSON."""

import json
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.figures import Figure, Range
from kitbuilder.kit.items import KINDS, FirstStage, Header, Kit
from kitbuilder.kit.resolved import resolve
from kitbuilder.plans.losses import LP_BURST, VALVE_CLOSED, Function, Loss, losses_of, work_out_losses
from kitbuilder.report.losses import (
    NOTHING,
    ONE_FIRST_STAGE,
    WIDTH,
    format_function,
    format_gas,
    format_plain,
    format_time,
    loss_rows,
    losses_json,
    losses_text,
)
from kitbuilder.report.numbers import System
from tests.assess.kits import WHOLE, WRONG, assessed, changed, config, shipped
from tests.laws import tried
from tests.report.test_any_kit import records, tagged

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL
EVERY = (*WHOLE, WRONG)
EVIL, ESCAPE = "\\u001b[2J\\u202e[red]", r"\x1b[2J\u202e[red]"
"""A text that would clear a terminal and turn its words round: as a file writes it, and as it is shown."""
BARE = 'format = 1\nname = "bare"\nlayout = "single"\n'


class TextSnapshot(SingleFileSnapshotExtension):
    """A report as a reviewer reads it in a diff."""

    file_extension = "txt"
    _write_mode = WriteMode.TEXT


def lost(assessment: Assessment, cause: str, tag: str) -> Loss:
    """The one loss of that cause."""
    [found] = [loss for loss in losses_of(assessment) if (loss.cause, loss.tag) == (cause, tag)]
    return found


@pytest.mark.parametrize("name", ["twinset", "sidemount", "cold-single", WRONG])
def test_the_text(name: str, snapshot: SnapshotAssertion) -> None:
    """Read it as a diver does before a dive."""
    assert losses_text(f"{name}.toml", work_out_losses(shipped(name)), METRIC) == snapshot.use_extension(TextSnapshot)


@pytest.mark.parametrize("name", EVERY)
@pytest.mark.parametrize("system", System)
def test_text_keeps_within_eighty_columns(name: str, system: System) -> None:
    assert WIDTH == 80
    assert max(map(len, losses_text(f"{name}.toml", work_out_losses(shipped(name)), system).splitlines())) <= WIDTH


def test_long_tags_are_cut() -> None:
    """A table stays a table."""
    text = config("twinset").replace("necklace hose", "a hose whose name goes on and on and on and on")
    text = text.replace('"necklace"', '"a necklace with a name as long as its hose"').replace(
        'role     = "a necklace with a name as long as its hose"', 'role     = "necklace"'
    )
    table = losses_text("kit.toml", work_out_losses(assessed(text)), METRIC).split("\n- ")[0]
    assert "a hose whose name…" in table
    assert "a necklace…" in table
    assert max(map(len, table.splitlines())) <= WIDTH


@pytest.mark.parametrize(
    ("time", "says"),
    [
        (Range(79.6, 42.9, 184.7), "80 s (43 to 180)"),
        (Range(55.4, 5.04, 127.8), "55 s (5 to 130)"),
        (Range(0.0, 0.0, 0.0), "0 s (0 to 0)"),
        (Range(119.0, 64.0, 276.0), "120 s (64 to 280)"),
        (Range(200.0, 106.5, 461.0), "3.3 min (1.8 to 7.7)"),
        (Range(2387.0, 883.9, 6705.0), "40 min (15 to 110)"),
        (None, "not known"),
    ],
)
def test_a_time_in_two_digits(time: Range | None, says: str) -> None:
    """By hand: seconds up to two minutes, then minutes."""
    assert format_time(time) == says


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
    assert format_function(function) == says


@pytest.mark.parametrize(
    ("share", "shut_in", "says"),
    [
        (Figure(1.0, {}, ""), (), "100 %"),
        (Figure(0.5, {"a": 0.007}, ""), ("right",), "50 ± 1 %; that of right is shut in"),
        (Figure(0.5, {"a": 0.001}, ""), ("right",), "50 ± 1 %; that of right is shut in"),
        (Figure(1 / 3, {"a": 0.03, "b": -0.04}, ""), ("a", "b"), "33 ± 5 %; that of a and b is shut in"),
        (Figure(0.0, {}, ""), ("one", "two", "three"), "none; that of one, two and three is shut in"),
        (None, ("right",), "not known; that of right is shut in"),
    ],
)
def test_the_gas_that_is_left(share: Figure | None, shut_in: tuple[str, ...], says: str) -> None:
    """A spread is never rounded to nought."""
    loss = lost(shipped("sidemount"), VALVE_CLOSED, "right")._replace(gas_left=share, shut_in=shut_in)
    assert format_gas(loss) == says


def test_the_rows_of_a_burst() -> None:
    """Read off the sidemount's file; 30 m are 98 ft."""
    assessment = shipped("sidemount")
    metric = loss_rows(lost(assessment, LP_BURST, "long hose"), METRIC)
    assert [label for label, _ in metric] == [
        "breathe",
        "inflate",
        "drysuit",
        "gauge",
        "gas left",
        "empty in",
        "",
        "do",
    ]
    told = [text for _, text in metric]
    assert told[:4] == [
        "necklace; lost: primary",
        "bladder",
        "nothing; lost: drysuit",
        "left gauge; lost: right gauge",
    ]
    assert told[5].endswith("at the surface")
    assert told[6].endswith("at 30 m")
    assert told[7].startswith("close the valve of right at once")
    assert loss_rows(lost(assessment, LP_BURST, "long hose"), IMPERIAL)[6][1].endswith("at 98 ft")


def test_what_the_kit_has_none_of_has_no_row() -> None:
    """The warm single has no drysuit."""
    rows = loss_rows(lost(shipped("warm-single"), VALVE_CLOSED, "first"), METRIC)
    assert [label for label, _ in rows] == ["breathe", "inflate", "gauge", "gas left", "do"]


@pytest.mark.parametrize("name", EVERY)
def test_one_first_stage_is_told_in_plain_words(name: str) -> None:
    assessment = shipped(name)
    says = ONE_FIRST_STAGE if name not in ("twinset", "sidemount") else ""
    assert format_plain(work_out_losses(assessment)) == says


def test_a_kit_without_first_stages_says_so() -> None:
    text = losses_text("bare.toml", work_out_losses(assessed(BARE)), METRIC)
    assert " ".join(text.split()).count(NOTHING) == 1
    assert "burst" not in text
    assert losses_json("bare.toml", work_out_losses(assessed(BARE)))["losses"] == []


@pytest.mark.parametrize("name", EVERY)
def test_json_holds_what_was_worked_out(name: str) -> None:
    assessment = shipped(name)
    found = json.loads(json.dumps(losses_json(f"{name}.toml", work_out_losses(assessment)), allow_nan=False))
    assert found["file"] == f"{name}.toml"
    assert len(found["losses"]) == len(losses_of(assessment))
    for row, loss in zip(found["losses"], losses_of(assessment), strict=True):
        assert (row["cause"], row["tag"], row["first_stage"]) == (loss.cause, loss.tag, loss.stage)
        for job, function in loss.functions.items():
            assert row["functions"][job] == {"works": list(function.works), "lost": list(function.lost)}
        assert [each["time_s"]["value"] for each in row["empty"]] == [
            each.time.value for each in loss.emptyings if each.time
        ]
    assert found["assumptions"]


def test_a_hostile_tag_is_written_out() -> None:
    text = losses_text(
        "kit.toml",
        work_out_losses(assessed(changed(config("twinset"), ('"long hose"\nrole', f'"{EVIL}"\nrole')))),
        METRIC,
    )
    assert "\x1b" not in text
    assert "\u202e" not in text
    assert ESCAPE in text


def breathing_kit(header: Header, cylinders: list, low: object, high: object) -> Kit:
    """Any cylinders, any two hoses, one on each kind of port of a first stage."""
    stage = FirstStage(tag="stage", preset="brass, DIN, 4 LP 2 HP")
    hoses = [replace(low, from_="item 0 LP1"), replace(high, from_="item 0 HP1")]  # type: ignore[type-var]
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
def test_anything_a_file_may_say_is_told(kit: Kit, system: System) -> None:
    """Any filling, gas, depth, bore and temperature within the limits of their keys: no error and no NaN."""
    found = work_out_losses(assess(resolve(kit)))
    assert max(map(len, losses_text("own.toml", found, system).splitlines())) <= WIDTH
    assert json.dumps(losses_json("own.toml", found), allow_nan=False)
    assert [loss.cause for loss in found.losses] == [
        "valve closed",
        "first stage lost",
        "LP burst",
        "HP burst",
    ]
