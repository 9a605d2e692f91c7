"""Whether one item does for another: each reason by hand, and laws."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.fit.stock_lengths import is_one_stock_length
from kitbuilder.assess.gear.sameness import (
    BODY,
    BORE,
    CLEAN,
    ENDS,
    FITS,
    KIND,
    LENGTH,
    MAKE,
    NAME,
    PRESET,
    SAME_BORE_M,
    HoseRecord,
    PartRecord,
    Piece,
    Record,
    does_for,
    record_of,
    unfit,
    unlike,
)
from kitbuilder.kit.gear import OwnedHose, OwnedLead
from kitbuilder.kit.items import Hose

HOSE = HoseRecord("LP", "LP 3/8", "second stage 9/16", "rubber", 0.75, 0.006, "grey")
STAGE = PartRecord("first_stage", ("LP1 3/8-24 UNF",), "brass", "grey")


def changed(record: Record, **changes: object) -> Record:
    names = record.__dataclass_fields__
    return type(record)(**({name: getattr(record, name) for name in names} | changes))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("have", "reasons"),
    [
        (HOSE, ()),
        (changed(HOSE, service="HP"), (ENDS,)),
        (changed(HOSE, from_end="LP 1/2"), (ENDS,)),
        (changed(HOSE, to_end="second stage 1/2"), (ENDS,)),
        (changed(HOSE, body="braided"), (BODY,)),
        (changed(HOSE, length_m=0.80), (LENGTH,)),
        (changed(HOSE, length_m=0.762), ()),
        (changed(HOSE, bore_m=0.0055), (BORE,)),
        (changed(HOSE, bore_m=None), ()),
        (changed(HOSE, make="black"), (MAKE,)),
        (changed(HOSE, make=None), ()),
        (changed(HOSE, body="braided", length_m=0.80, make="black"), (BODY, LENGTH, MAKE)),
        (STAGE, (KIND,)),
    ],
)
def test_why_a_hose_does_not_do(have: Record, reasons: tuple[str, ...]) -> None:
    assert unlike(have, HOSE) == reasons
    assert does_for(have, HOSE) is not bool(reasons)


@pytest.mark.parametrize(
    ("have", "reasons"),
    [
        (STAGE, ()),
        (changed(STAGE, kind="gauge"), (KIND,)),
        (changed(STAGE, fits=()), (FITS,)),
        (changed(STAGE, preset="titanium"), (PRESET,)),
        (changed(STAGE, preset=None), ()),
        (changed(STAGE, make="black"), (MAKE,)),
    ],
)
def test_why_a_first_stage_does_not_do(have: Record, reasons: tuple[str, ...]) -> None:
    assert unlike(have, STAGE) == reasons


def test_body_and_length_can_be_left_to_another_question() -> None:
    other = changed(HOSE, body="braided", length_m=0.8)
    assert unlike(other, HOSE, any_body=True) == (LENGTH,)
    assert unlike(other, HOSE, any_length=True) == (BODY,)


@pytest.mark.parametrize(
    ("have", "want", "reasons"),
    [
        (Piece(HOSE, "A"), Piece(HOSE), ()),
        (Piece(HOSE, "A"), Piece(HOSE, "A"), ()),
        (Piece(HOSE, "A"), Piece(HOSE, "B"), (NAME,)),
        (Piece(HOSE), Piece(HOSE, "B"), (NAME,)),
        (Piece(HOSE), Piece(HOSE, must_be_clean=True), (CLEAN,)),
        (Piece(HOSE, is_clean=True), Piece(HOSE, must_be_clean=True), ()),
        (Piece(HOSE, must_be_clean=True), Piece(HOSE, must_be_clean=True), ()),  # it is used with rich gas already
    ],
)
def test_named_and_clean(have: Piece, want: Piece, reasons: tuple[str, ...]) -> None:
    assert unfit(have, want) == reasons


def test_a_length_without_its_ends_and_one_from_end_to_end() -> None:
    """By hand: two ends of 2.2 cm each; 94 cm without them are 98.4 cm."""
    bare = OwnedHose(
        tag="O", body="rubber", length_m=0.94, measured="hose only", from_end="LP 3/8", to_end="second stage 9/16"
    )
    whole = Hose(tag="hose", role="primary", body="rubber", length_m=0.984)
    assert record_of(bare) == record_of(whole) == HoseRecord("LP", "LP 3/8", "second stage 9/16", "rubber", 0.984)


def test_lead_is_screwed_on_nowhere() -> None:
    assert record_of(OwnedLead(tag="lead", mass_kg=1.0)) is None


def test_the_limits_belong_to_what_is_the_same() -> None:
    """1.6 % of the longer length; a twentieth of a millimetre of bore."""
    assert is_one_stock_length(0.984, 1.0)
    assert is_one_stock_length(1.0, 0.94 + 0.022 + 0.022)
    assert not is_one_stock_length(0.98399, 1.0)
    assert not unlike(changed(HOSE, bore_m=0.006 + SAME_BORE_M), HOSE)
    assert unlike(changed(HOSE, bore_m=0.006051), HOSE) == (BORE,)


RECORDS = st.builds(
    HoseRecord,
    st.just("LP"),
    st.just("LP 3/8"),
    st.sampled_from(("second stage 9/16", "second stage 1/2")),
    st.sampled_from(("rubber", "braided")),
    st.floats(0.05, 5.0),
    st.none() | st.floats(0.002, 0.015),
    st.sampled_from((None, "grey", "black")),
)


@given(RECORDS, RECORDS)
def test_one_does_for_the_other_and_the_other_for_the_one(one: HoseRecord, other: HoseRecord) -> None:
    assert unlike(one, other) == unlike(other, one)
    assert does_for(one, one)
