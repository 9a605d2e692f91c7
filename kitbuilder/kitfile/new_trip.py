"""The text of a new trip file."""

from typing import NamedTuple

from kitbuilder.catalogue.allowances import allowances
from kitbuilder.kit.file_kinds import TRIP_FILE
from kitbuilder.kitfile import edits
from kitbuilder.kitfile.edits import TomlValue
from kitbuilder.kitfile.reader import parse_as
from kitbuilder.kitfile.trip_typed import Allowance


class TripAnswers(NamedTuple):
    """What a new trip is made from. None and empty stand for "don't know"."""

    name: str
    kits: tuple[str, ...]
    """Files of the folder."""
    allowance: Allowance | None = None
    rentals: tuple[dict[str, str], ...] = ()
    """The keys of each rental."""
    water: str | None = None
    days: tuple[str, str] | None = None
    """First and last, as a trip file has them."""


def trip_text(answers: TripAnswers) -> str:
    """Give the text of a new trip: what is rented, usual bags for what is allowed, and one leg."""
    head: dict[str, TomlValue] = {"name": answers.name, "kits": list(answers.kits)}
    if answers.days:
        head |= {"from": answers.days[0], "to": answers.days[1]}
    if answers.water:
        head["water"] = answers.water
    text = (
        f"{TRIP_FILE.schema_line}"
        "# A trip: what is rented or left at home, the bags, and what each leg allows. Weigh the empty bags and the\n"
        "# luggage, and read the limits off the ticket; the airline has the last word.\n\n"
        'format = 1\nholds  = "trip"\nname   = "x"\n'
    )
    for key, value in head.items():
        text = edits.set_value(text, parse_as(text, TRIP_FILE).blocks[0], key, value, TRIP_FILE)
    tables: list[tuple[str, dict[str, TomlValue]]] = [("rent", dict(keys)) for keys in answers.rentals]
    tables += _bags(answers.allowance)
    if answers.allowance:
        tables.append(("leg", _leg(answers.allowance)))
    for table, values in tables:
        text = edits.insert_item(text, parse_as(text, TRIP_FILE).blocks[-1], edits.item_lines(table, values))
    return text


def _bags(allowance: Allowance | None) -> list[tuple[str, dict[str, TomlValue]]]:
    """Give a usual bag for each piece that is allowed; without an answer, one for the hold and one for the cabin."""
    pieces = {"hold": 1, "cabin": 1}
    if allowance:
        cabin = 1 if allowance.cabin_pieces is None else allowance.cabin_pieces
        pieces = {"hold": allowance.hold_pieces, "cabin": cabin}
    bags: list[tuple[str, dict[str, TomlValue]]] = []
    for goes, count in pieces.items():
        values = usual_bag(goes)
        for number in range(1, count + 1):
            tag = values["tag"] if number == 1 else f"{values['tag']} {number}"
            bags.append(("bag", {**values, "tag": tag}))
    return bags


def usual_bag(goes: str) -> dict[str, TomlValue]:
    """Give the keys of a usual bag for a place, until the traveller weighs the real one."""
    usual = allowances().bag_for(goes)
    mass, spread = f"{usual.mass.expected:.1f} kg", f"{usual.mass.spread:.1f} kg"
    volume = f"{usual.volume.expected * 1e3:.0f} L"
    return {"tag": usual.name, "goes": goes, "mass": f"{mass} ± {spread}", "volume": volume}


def _leg(allowance: Allowance) -> dict[str, TomlValue]:
    keys: dict[str, TomlValue] = {"tag": "flight", "hold_pieces": allowance.hold_pieces}
    if allowance.hold:
        keys["hold_piece"] = allowance.hold
    if allowance.cabin_pieces is not None:
        keys["cabin_pieces"] = allowance.cabin_pieces
    if allowance.cabin:
        keys["cabin_piece"] = allowance.cabin
    return keys
