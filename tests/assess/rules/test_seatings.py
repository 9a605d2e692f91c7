"""First stages on valves: what the trade knows of clamps and of the two lengths of DIN thread."""

import pytest

from kitbuilder.assess.findings import Finding
from tests.assess.kits import SALT, assessed
from tests.assess.rules.cases import CAUTION, DANGER, WARNING, Case, check, of_item

SEAT, RATING = "first stage on its valve", "pressure rating"
HEAD = f'format = 1\nname = "one cylinder"\nlayout = "single"\n{SALT}\n'
YOKE, DIN = "brass, yoke, 4 LP 2 HP", "brass, DIN, 4 LP 2 HP"


def kit(first: str, cylinder: str, connection: str = "") -> str:
    given = f'connection = "{connection}"\n' if connection else ""
    return f'{HEAD}[[cylinder]]\ntag = "tank"\n{cylinder}\n[[first_stage]]\ntag = "first"\npreset = "{first}"\n{given}'


LOW, HIGH = 'preset = "steel 12 L 232 long"', 'preset = "steel 12 L 300"'
CASES = [
    Case(
        SEAT,
        WARNING,
        "first",
        "connection",
        kit(YOKE, HIGH),
        kit(YOKE, LOW),
        says=("yoke on a valve with DIN 300",),
        do=("Use another first stage or another cylinder, so that the two fit each other",),
    ),
    Case(
        SEAT,
        WARNING,
        "first",
        "connection",
        kit(DIN, HIGH, "DIN 232"),
        kit(DIN, HIGH, "DIN 300"),
        says=("DIN 232 on a valve with DIN 300",),
        do=("Use another first stage or another cylinder, so that the two fit each other",),
    ),
    Case(
        SEAT,
        CAUTION,
        "first",
        "connection",
        kit(DIN, f'{LOW}\noutlet = "yoke"', "DIN 232"),
        kit(YOKE, f'{LOW}\noutlet = "yoke"'),
        says=("only with an adapter", "DIN 232 on a valve with yoke"),
        do=("Keep the adapter or the insert with the kit, or use a first stage that fits",),
    ),
    Case(
        SEAT,
        None,
        "first",
        "connection",
        kit(DIN, HIGH),
        kit(DIN, LOW),
        says=("DIN on a valve with DIN 300", "its thread is too short for its O-ring to reach"),
    ),
    Case(
        RATING,
        DANGER,
        "first",
        "connection",
        kit(YOKE, f'{HIGH}\nfilled = "280 bar"'),
        kit(YOKE, f'{HIGH}\nfilled = "232 bar"'),
        says=("the cylinder is filled to 280 bar; the limit of the connection yoke is 232 bar (207 bar to 237 bar)",),
        do=("Fill no further than the limit",),
    ),
    Case(
        RATING,
        CAUTION,  # stamps of up to 3442 psi, 237.3 bar, are met on clamps: practice of the United States
        "first",
        "connection",
        kit(YOKE, f'{HIGH}\nfilled = "237 bar"\noutlet = "yoke"'),
        kit(YOKE, f'{LOW}\nfilled = "220 bar"\noutlet = "yoke"'),
        says=("the limit of the connection yoke is 232 bar (207 bar to 237 bar)",),
        do=("Read the pressure stamped on it", "Read the pressure stamped on it"),
    ),
    Case(
        RATING,
        DANGER,
        "first",
        "connection",
        kit(DIN, f'{HIGH}\noutlet = "DIN 232"', "DIN 300"),  # as full as it is stamped for
        kit(DIN, HIGH, "DIN 300"),
        says=("the cylinder is filled to 300 bar; the limit of the connection DIN 232 is 232 bar",),
        do=("Fill no further than the limit",),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_rule(case: Case) -> None:
    """It speaks in one kit and not in the other."""
    check(case)


# From pages of the trade (titled "DIN SCUBA Fittings"; EN ISO 12209:2013) and, for adapters, from memory.
TABLE = {
    ("yoke", "yoke"): None,
    ("yoke", "DIN 232 with insert"): None,
    ("yoke", "DIN 300"): WARNING,
    ("DIN 232", "yoke"): CAUTION,
    ("DIN 232", "DIN 232"): None,
    ("DIN 232", "DIN 300"): WARNING,
    ("DIN 300", "yoke"): CAUTION,
    ("DIN 300", "DIN 232"): None,
    ("DIN 300", "DIN 300"): None,
    ("M26x2 for nitrox", "M26x2 for nitrox"): None,
    ("M26x2 for nitrox", "DIN 232"): CAUTION,
}


@pytest.mark.parametrize(
    ("pair", "signal"), TABLE.items(), ids=lambda each: " on ".join(each) if isinstance(each, tuple) else ""
)
def test_every_pair_of_the_table(pair: tuple[str, str], signal: object) -> None:
    connection, outlet = pair
    found = of_item(assessed(kit(DIN, f'{LOW}\nfilled = "200 bar"\noutlet = "{outlet}"', connection)), SEAT, "first")
    assert [result.signal for result in found if isinstance(result, Finding)] == ([signal] if signal else [])


def test_a_clamp_on_a_cylinder_of_3442_psi_is_usual() -> None:
    """Its valve takes a clamp; what it bears, the clamp's own stamp says."""
    found = assessed(kit(YOKE, 'metal = "steel"\nvolume = "12.9 L"\nmass = "15 kg"\nworking_pressure = "3442 psi"'))
    assert not of_item(found, SEAT, "first")
    assert [finding.signal for finding in of_item(found, RATING, "first")] == [CAUTION]
    beyond = assessed(kit(YOKE, 'metal = "steel"\nvolume = "10 L"\nmass = "15 kg"\nworking_pressure = "3500 psi"'))
    assert [finding.signal for finding in of_item(beyond, SEAT, "first")] == [WARNING]


def test_both_posts_of_a_manifold_bear_the_greater_filling() -> None:
    """A joined twinset: what one gauge shows stands on both first stages."""
    posts = "".join(
        f'[[cylinder]]\ntag = "{side} cylinder"\npreset = "steel 12 L 300"\nvalve = "none"\nfilled = "{bars} bar"\n'
        f'[[first_stage]]\ntag = "{side} post"\npreset = "{YOKE}"\n'
        for side, bars in (("left", 200), ("right", 250))
    )
    text = f'{HEAD.replace("single", "twinset")}{posts}[[other]]\ntag = "manifold"\npreset = "manifold"\n'
    found = assessed(text)
    assert [len(of_item(found, RATING, f"{side} post")) for side in ("left", "right")] == [1, 1]
