"""The way home: what may be too heavy wet, and what to dry or move. Masses are those of `test_trip_packing.py`.

Dry, the duffel weighs 2.6 + 1.5 + 2.0 + 0.3 + 0.2 = 6.6 kg. A suit of 1.5 kg holds 0.3 to 0.8 of its mass, 0.825 kg; a
jacket of 2.0 kg holds 0.1 to 0.35 of it, 0.45 kg. Each is evenly within 0.375 and 0.25 kg: a deviation of 0.217 and
0.144 kg, together 0.26 kg. The limit has to lie 1.645 of them above the mean: 0.43 kg, and 0.24 kg with the suit dry.
"""

import pytest

from kitbuilder.assess.findings import Signal, Word
from kitbuilder.kit.entry import Entry
from kitbuilder.kit.trip import Bag, Leg, Luggage, Pin
from kitbuilder.plans.trip_home import RULE
from kitbuilder.plans.trip_packing import TripPacking
from tests.plans.test_trip_packing import BACKPACK, DUFFEL, packed

PINS = (Pin(item="suit", bag="duffel"), Pin(item="jacket", bag="duffel"))
PAPERS = Luggage(tag="papers", mass_kg=0.05, goes="cabin")
TRIP = (DUFFEL, BACKPACK, *PINS, PAPERS, Luggage(tag="clothes", mass_kg=0.5))
DUFFEL_HOLD = Bag(tag="hold", goes="hold", mass_kg=2.6)
FULL_OUT = Leg(tag="out", way="out", cabin_piece_kg=1.0)
"""With a backpack of 0.9 kg, all but the papers is in the duffel."""


def home(limit_kg: float, **values: float) -> Leg:
    return Leg(tag="home", way="home", hold_piece_kg=limit_kg, **values)  # type: ignore[arg-type]


def done(found: TripPacking) -> list[str]:
    """What to do, a sentence for each finding about the way home."""
    return ["".join(map(_word, finding.do)) for finding in found.findings if finding.rule == RULE]


def _word(word: Word) -> str:
    assert isinstance(word, str)
    return word


@pytest.mark.parametrize(
    ("entries", "said"),
    [
        # 7.875 + 0.43 = 8.30 kg wet; 7.05 + 0.24 = 7.29 kg with the suit dry
        ([DUFFEL, home(8.4)], []),
        ([DUFFEL, home(7.5)], ["Dry suit well before you pack."]),
        ([DUFFEL, home(7.2)], ["Dry suit, jacket well before you pack."]),
        ([DUFFEL, home(6.5)], ["No drying and no single move is enough"]),
        # 8.375 + 0.43 = 8.80 kg with clothes; 0.2 kg of the computer is not enough, 0.5 kg of the clothes is
        ([*TRIP, FULL_OUT, home(8.4)], ["Dry suit well before you pack, or move clothes into backpack on the way"]),
        ([*TRIP, FULL_OUT, home(8.4, cabin_piece_kg=1.0)], ["Dry suit well before you pack."]),
        ([*TRIP, FULL_OUT, home(23.0, hold_total_kg=8.4)], ["Dry suit well before you pack, or move clothes into"]),
        ([*TRIP, FULL_OUT, home(23.0, total_kg=9.2)], ["Dry suit well before you pack."]),
        # a bag called like a limit of several
        ([DUFFEL_HOLD, home(7.5, hold_total_kg=7.5)], 2 * ["Dry suit well before you pack."]),
    ],
)
def test_what_may_be_too_heavy_wet_says_what_to_dry_or_move(entries: list[Entry], said: list[str]) -> None:
    found = packed(*entries)
    assert not found.packing.missing
    assert found.is_packed == (not said)
    sentences = done(found)
    assert len(sentences) == len(said)
    assert all(sentence.startswith(part) for sentence, part in zip(sentences, said, strict=True))


def test_the_finding_stands_at_its_bag_with_the_mass_and_the_limit() -> None:
    [finding] = packed(DUFFEL, home(7.5)).findings
    assert (finding.signal, finding.item) == (Signal.WARNING, 2)  # after two rentals
    _, mass, _, limit = finding.what
    assert mass[0] == pytest.approx(7.875, abs=0.001)
    # The tail of two even spreads a and b beyond t is (a + b - t)² / 8ab: 0.025 at 0.488 kg.
    assert mass[2] - mass[0] == pytest.approx(0.488, abs=0.005)
    assert limit[0] == 7.5
