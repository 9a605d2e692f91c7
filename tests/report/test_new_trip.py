"""A new trip by four questions: whatever is answered, the file reads, and its entries lead somewhere."""

from itertools import product
from pathlib import Path
from shutil import copy

import pytest

from kitbuilder.assess.findings import Signal
from kitbuilder.assess.trip.checks import findings_of_trip
from kitbuilder.kit.items import Kit
from kitbuilder.kit.resolved import ResolvedKit, resolve
from kitbuilder.kit.resolved_trip import Fate, ResolvedTrip
from kitbuilder.kitfile.new_trip import trip_text
from kitbuilder.kitfile.read import read
from kitbuilder.kitfile.trip_typed import allowance_typed
from kitbuilder.plans.new_trip import BOTH, CYLINDERS, LEAD, NOTHING, rentals_of
from kitbuilder.report.new_questions import UNKNOWN
from kitbuilder.report.new_trip_questions import trip_answers, trip_questions
from kitbuilder.report.numbers import System
from tests.kitfile.support import CONFIGS

KITS = ("warm-single.toml", "twinset.toml")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The kits that come along, with the files that they name."""
    folder = tmp_path_factory.mktemp("kits")
    for name in (*KITS, "diver.toml", "gear.toml"):
        copy(CONFIGS / name, folder)
    return folder


def kit_named(folder: Path, name: str) -> ResolvedKit:
    kit = read(folder / name).resolved
    assert kit is not None
    return kit


def made(folder: Path, kit: str, given: dict[str, str]) -> ResolvedTrip:
    """The trip that comes of answers, as it is read from the disk."""
    path = folder / "new-trip.toml"
    path.write_text(trip_text(trip_answers('the "far" reef', [(kit, kit_named(folder, kit))], given)), "utf-8")
    reading = read(path)
    assert reading.problems == ()
    assert isinstance(reading.contents, ResolvedTrip)
    return reading.contents


def test_there_are_four_questions_and_each_usual_answer_is_accepted() -> None:
    """As typed and as chosen; "don't know" is among the choices of each."""
    questions = trip_questions(System.METRIC)
    assert [question.key for question in questions] == ["allowance", "rented", "water", "days"]
    for question in questions:
        words = [choice.word for choice in question.choices]
        assert question.usual in words
        assert UNKNOWN in words


@pytest.mark.parametrize("kit", KITS)
def test_every_combination_of_answers_makes_a_sound_trip(folder: Path, kit: str) -> None:
    """Each choice of each question, and "don't know"; what the airline has to approve is a notice."""
    by_key = {
        question.key: ["", *(choice.word for choice in question.choices if choice.word != UNKNOWN)]
        for question in trip_questions(System.METRIC)
    } | {"days": ["", "2031-05-10 to 2031-05-24"], "water": ["", "ocean"]}
    for answers in product(*by_key.values()):
        trip = made(folder, kit, dict(zip(by_key, answers, strict=True)))
        signals = {finding.signal for finding in findings_of_trip(trip)}
        assert signals <= {Signal.NOTICE}, answers


def test_numbers_without_a_unit_are_in_the_readers_units(folder: Path) -> None:
    """50 lb are 22.7 kg (international pound)."""
    question = trip_questions(System.IMPERIAL)[0]
    assert question.read is not None
    trip = made(folder, KITS[0], {"allowance": question.read("2 x 50 hold, 20 cabin")})
    [leg] = trip.legs
    assert (leg.hold_pieces, leg.cabin_pieces) == (2, 1)
    assert leg.hold_piece_kg == pytest.approx(50 * 0.45359237)
    assert [(bag.tag, bag.goes) for bag in trip.bags] == [
        ("duffel", "hold"), ("duffel 2", "hold"), ("backpack", "cabin"),
    ]  # fmt: skip
    assert all(bag.mass_spread_kg for bag in trip.bags), "nobody has weighed them"


def test_what_is_answered_stands_in_the_file(folder: Path) -> None:
    given = {"allowance": "10 kg cabin", "rented": NOTHING, "water": "ocean", "days": "2031-05-10 to 2031-05-24"}
    trip = made(folder, KITS[0], given)
    header = trip.header
    assert (header.name, header.kits, header.water) == ('the "far" reef', (KITS[0],), "ocean")
    assert (str(header.from_), str(header.to)) == ("2031-05-10", "2031-05-24")
    assert [bag.goes for bag in trip.bags] == ["cabin"]
    assert trip.legs[0].hold_pieces == 0
    assert trip.rents == ()
    trip = made(folder, KITS[0], {"allowance": "23 kg hold"})
    assert [bag.goes for bag in trip.bags] == ["hold", "cabin"], "who names the hold alone still has a bag in the cabin"
    assert (trip.legs[0].cabin_pieces, trip.legs[0].cabin_piece_kg) == (None, None)


@pytest.mark.parametrize(
    ("rented", "stays"),
    [
        (NOTHING, set()),
        (LEAD, {"upper pockets"}),
        (CYLINDERS, {"right cylinder", "left cylinder", "stage", "manifold", "bands"}),
        (BOTH, {"right cylinder", "left cylinder", "stage", "manifold", "bands", "upper pockets"}),
    ],
)
def test_cylinders_are_rented_with_what_holds_them(folder: Path, rented: str, stays: set[str]) -> None:
    """The twinset: manifold and bands as well."""
    trip = made(folder, "twinset.toml", {"rented": rented})
    assert {item.item.tag for item in trip.every_item() if item.fate is Fate.RENT} == stays


def test_what_the_kit_does_not_have_is_not_rented(folder: Path) -> None:
    kit = kit_named(folder, KITS[0])
    assert rentals_of(resolve(Kit(kit.header, ())), BOTH) == ()


def test_the_line_of_an_allowance_is_one_of_the_choices() -> None:
    """Each choice reads as if it had been typed."""
    for choice in trip_questions(System.METRIC)[0].choices:
        if choice.word != UNKNOWN:
            assert allowance_typed(choice.word, "kg").as_typed == choice.word
