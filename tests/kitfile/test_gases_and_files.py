"""Values of the newer kinds: gases by name and in parts, pressures, pieces of lead, names of files."""

import pytest

from kitbuilder.kit.diver import DiverHeader, FloatCheck
from kitbuilder.kit.fields import field_named
from kitbuilder.kit.items import Cylinder, Header, Kit, Lead
from kitbuilder.kitfile.reader import read_kit
from kitbuilder.kitfile.values import Refusal, parse_value

PSI = 0.45359237 * 9.80665 / 0.0254**2
"""Pascals: the weight of a pound on a square inch, by the definitions of pound, gravity and inch."""


def value_of(record: type, key: str, written: object) -> object:
    """What a key makes of what is written."""
    table = getattr(record, "kind", "")
    return parse_value(field_named(record, key), table, written)


def refused(record: type, key: str, written: object) -> str:
    """Why a key does not take what is written."""
    with pytest.raises(Refusal) as refusal:
        value_of(record, key, written)
    return str(refusal.value)


# ---- gases ----


@pytest.mark.parametrize(
    ("written", "name", "oxygen", "helium"),
    [
        ("oxygen", "oxygen", 1.0, 0.0),
        ("Oxygen", "oxygen", 1.0, 0.0),
        ("nitrox 32", "nitrox 32", 0.32, 0.0),
        ("NITROX 32", "nitrox 32", 0.32, 0.0),
        ("  Nitrox \t 50 ", "nitrox 50", 0.50, 0.0),
        ("nitrox 1", "nitrox 1", 0.01, 0.0),
        ("nitrox 100", "nitrox 100", 1.0, 0.0),
        ("nitrox 032", "nitrox 32", 0.32, 0.0),
        ("nitrox32", "nitrox 32", 0.32, 0.0),
        ("nitrox 32 %", "nitrox 32", 0.32, 0.0),
        ("EAN32", "nitrox 32", 0.32, 0.0),
        ("EANx 32", "nitrox 32", 0.32, 0.0),
        ("nx32", "nitrox 32", 0.32, 0.0),
        ("32", "nitrox 32", 0.32, 0.0),
        ("32 %", "nitrox 32", 0.32, 0.0),
        ("21/35", "trimix 21/35", 0.21, 0.35),
        ("tx21/35", "trimix 21/35", 0.21, 0.35),
        ("trimix 18/45", "trimix 18/45", 0.18, 0.45),
        ("Trimix  18/45", "trimix 18/45", 0.18, 0.45),
        ("trimix 50/50", "trimix 50/50", 0.50, 0.50),
        ("trimix 8/92", "trimix 8/92", 0.08, 0.92),
        ("trimix 1/0", "trimix 1/0", 0.01, 0.0),
    ],
)
def test_gases_by_name(written: str, name: str, oxygen: float, helium: float) -> None:
    """Parts are those of the name; space and case do not matter, and one gas has one name."""
    gas = value_of(Cylinder, "gas", written)
    assert gas == (name, pytest.approx(oxygen), pytest.approx(helium))


@pytest.mark.parametrize("written", ["air", "AIR", " Air "])
def test_air(written: str) -> None:
    """Dry air has 20.9 to 21 % of oxygen, by every textbook of physics, and no helium that counts."""
    name, oxygen, helium = value_of(Cylinder, "gas", written)
    assert name == "air"
    assert 0.209 < oxygen < 0.210
    assert helium == 0.0


@pytest.mark.parametrize(
    "written",
    [
        "nitrox 0",
        "nitrox 120",
        "nitrox 101",
        "nitrox -32",
        "nitrox 32.5",
        "nitrox",
        "nitrox 1032",
        "trimix 60/50",
        "trimix 0/50",
        "trimix 18",
        "trimix 18/45/37",
        "trimix 18/100",
        "0",
        "120 %",
        "EAN",
        "32 bar",
        "60/50",
        "oxygen 100",
        "air 21",
        "argon",
        "nitrox 32\x00",
        "",
        " ",
    ],
)
def test_what_is_no_gas(written: str) -> None:
    """The message shows it, and every way to write one."""
    because = refused(Cylinder, "gas", written)
    assert because.startswith(f'found "{written}". Accepted: "air", "oxygen", "nitrox 31"')
    assert '"trimix 17/42"' in because
    assert "write the keys oxygen and helium" in because


@pytest.mark.parametrize("written", [32, 0.32, True, ["air"], {"oxygen": 32}])
def test_a_gas_is_a_text(written: object) -> None:
    assert refused(Cylinder, "gas", written).endswith("Write a text in quotes.")


# ---- parts of a gas ----


@pytest.mark.parametrize("key", ["oxygen", "helium", "nitrogen"])
@pytest.mark.parametrize(
    ("written", "part"),
    [("32 %", 0.32), ("32%", 0.32), ("31.8 %", 0.318), ("0 %", 0.0), ("100 %", 1.0), ("+5 %", 0.05)],
)
def test_parts_of_a_gas(key: str, written: str, part: float) -> None:
    assert value_of(Cylinder, key, written) == pytest.approx(part)


@pytest.mark.parametrize(
    ("written", "because"),
    [
        ("101 %", 'found "101 %". Accepted: from 0 to 100 %.'),
        ("100.1%", 'found "100.1%". Accepted: from 0 to 100 %.'),
        ("-1 %", 'found "-1 %". Accepted: from 0 to 100 %.'),
        (32, 'found 32, a number without a unit. Write it in quotes with its unit: "32 %".'),
        ("32", '"32" has no unit. Write "32 %".'),
        ("32 pct", '"32 pct" has an unknown unit. Write "31 %".'),
        ("32 % + 2 %", '"32 % + 2 %" is a calculation. Write the result, such as "31 %".'),
        ("0.3 + 0.02", '"0.3 + 0.02" is a calculation. Write the result, such as "31 %".'),
        ("32 bar", '"32 bar" is a pressure, not a fraction. Write "31 %".'),
        ("", 'the value is empty. Write "31 %".'),
    ],
)
def test_what_is_no_part_of_a_gas(written: object, because: str) -> None:
    assert refused(Cylinder, "oxygen", written) == because


@pytest.mark.parametrize(
    ("written", "meant"),
    [(0.32, "32 %"), ("0.32", "32 %"), (".5", "50 %"), (1.0, "100 %"), (1, "100 %"), (0.001, "0.1 %"), (21, "21 %")],
)
def test_a_part_of_one_is_not_taken_for_a_percent(written: object, meant: str) -> None:
    """Whoever writes 0.32 means 32 %; to follow the hint must not make a gas that nobody can breathe."""
    assert f'"{meant}"' in refused(Cylinder, "oxygen", written)
    assert '"0.32 %"' not in refused(Cylinder, "oxygen", written)


def test_a_gas_of_name_and_parts_are_both_kept() -> None:
    """Which of them counts is not the reader's to say."""
    cylinder = cylinders('gas = "nitrox 32"\noxygen = "31.8 %"')[0]
    assert cylinder.gas == ("nitrox 32", pytest.approx(0.32), 0.0)
    assert cylinder.oxygen == pytest.approx(0.318)
    assert (cylinder.helium, cylinder.nitrogen) == (None, None)


def cylinders(keys: str) -> list[Cylinder]:
    """The cylinders of a kit that has one, with these keys and its tag."""
    kit = read_kit(f'format = 1\nname = "x"\nlayout = "single"\n[[cylinder]]\ntag = "gas"\n{keys}\n').kit
    assert isinstance(kit, Kit)
    return [item for item in kit.items if isinstance(item, Cylinder)]


# ---- pressures ----


@pytest.mark.parametrize("key", ["filled", "turn", "reserve"])
@pytest.mark.parametrize(
    ("written", "pascals"),
    [
        ("232 bar", 232e5),
        ("0 bar", 0.0),
        ("305 bar", 305e5),
        ("3000 psi", 3000 * PSI),
        ("20 MPa", 20e6),
        ("232bar", 232e5),
    ],
)
def test_pressures(key: str, written: str, pascals: float) -> None:
    assert value_of(Cylinder, key, written) == pytest.approx(pascals, rel=1e-12)


@pytest.mark.parametrize(
    ("key", "written", "because"),
    [
        ("filled", "306 bar", 'found "306 bar". Accepted: from 0 to 305 bar.'),
        ("filled", "4500 psi", 'found "4500 psi". Accepted: from 0 to 305 bar.'),
        ("turn", "-10 bar", 'found "-10 bar". Accepted: from 0 to 305 bar.'),
        ("reserve", "50", '"50" has no unit. Write "50 bar" or "50 psi".'),
        ("reserve", 50, 'found 50, a number without a unit. Write it in quotes with its unit: "50 bar" or "50 psi".'),
        ("reserve", "12 L", '"12 L" is a volume, not a pressure. Write "232 bar" or "3000 psi".'),
        ("working_pressure", "49 bar", 'found "49 bar". Accepted: from 50 to 300 bar.'),
        ("working_pressure", "400 bar", 'found "400 bar". Accepted: from 50 to 300 bar.'),
    ],
)
def test_what_is_no_pressure(key: str, written: object, because: str) -> None:
    assert refused(Cylinder, key, written) == because


# ---- lead and bodies ----

COUNTS = ", ".join(str(number) for number in range(1, 25))


@pytest.mark.parametrize(("written", "pieces"), [(1, 1), (4, 4), (24, 24)])
def test_pieces_of_lead(written: int, pieces: int) -> None:
    assert value_of(Lead, "pieces", written) == pieces


@pytest.mark.parametrize(
    ("record", "key", "written", "because"),
    [
        (Lead, "mass", "200 kg", 'found "200 kg". Accepted: from 0.05 to 15 kg.'),
        (Lead, "mass", "0 kg", 'found "0 kg". Accepted: from 0.05 to 15 kg.'),
        (Lead, "pieces", 30, f"found 30. Accepted: {COUNTS}."),
        (Lead, "pieces", 0, f"found 0. Accepted: {COUNTS}."),
        (Lead, "pieces", 4.0, f"found 4.0. Accepted: {COUNTS}."),
        (Lead, "pieces", True, f"found true. Accepted: {COUNTS}."),
        (Lead, "pieces", "4", f'found "4". Accepted: {COUNTS}; without quotes.'),
        (DiverHeader, "mass", "5 kg", 'found "5 kg". Accepted: from 30 to 200 kg.'),
        (DiverHeader, "mass", "82", '"82" has no unit. Write "82 kg" or "82 lb".'),
        (DiverHeader, "stature", "20 cm", 'found "20 cm". Accepted: from 120 to 220 cm.'),
        (DiverHeader, "stature", "1.78", '"1.78" has no unit. Write "1.78 m".'),
        (DiverHeader, "lead_sizes", ["1 kg", "200 kg"], 'found "200 kg". Accepted: from 0.05 to 15 kg.'),
        (DiverHeader, "lead_sizes", ["1"], '"1" has no unit. Write "1 kg" or "1 lb".'),
        (DiverHeader, "lead_sizes", [1], 'found 1 in the list. Write a list of quantities: ["1 kg", "2 kg"].'),
        (DiverHeader, "lead_sizes", "1 kg", 'found "1 kg". Write a list of quantities: ["1 kg", "2 kg"].'),
    ],
)
def test_beyond_all_measure(record: type, key: str, written: object, because: str) -> None:
    assert refused(record, key, written) == because


def test_pieces_of_many_sizes() -> None:
    """In the order of the file; a list of none is a list."""
    assert value_of(DiverHeader, "lead_sizes", ["2 kg", "500 g", "1 lb"]) == pytest.approx((2.0, 0.5, 0.45359237))
    assert value_of(DiverHeader, "lead_sizes", []) == ()


# ---- names of files ----

NAMES = [(Header, "diver"), (FloatCheck, "kit")]


@pytest.mark.parametrize(("record", "key"), NAMES)
@pytest.mark.parametrize("written", ["x.toml", "my kit 2.toml", "a.b.toml", "Ü–ß.toml", "~.toml", "-x.toml", "x..toml"])
def test_files_of_the_same_folder(record: type, key: str, written: str) -> None:
    assert value_of(record, key, written) == written


@pytest.mark.parametrize(("record", "key"), NAMES)
@pytest.mark.parametrize(
    "written",
    [
        "../x.toml",
        "..\\x.toml",
        "./x.toml",
        "a/b.toml",
        "a\\b.toml",
        "/x.toml",
        "\\x.toml",
        "//server/share/x.toml",
        "c:\\x.toml",
        "c:x.toml",
        "c:/x.toml",
        ".hidden.toml",
        ".toml",
        "..toml",
        "x.txt",
        "x.toml.txt",
        "x",
        "toml",
        "..",
        "x.toml/",
        "a\x00b.toml",
        "a\nb.toml",
        "\u202ex.toml",
    ],
)
def test_files_elsewhere(record: type, key: str, written: str) -> None:
    """On no system may a name lead out of the folder, or stand for a file that the shelf would not list."""
    because = refused(record, key, written)
    assert because.startswith(f'found "{written}". Write the name of a .toml file in the same folder: "')


@pytest.mark.parametrize(("record", "key"), NAMES)
@pytest.mark.parametrize("written", ["", " ", " x.toml", "x.toml "])
def test_a_file_has_a_name(record: type, key: str, written: str) -> None:
    assert refused(record, key, written).endswith("Write at least one character, and no space at either end.")
