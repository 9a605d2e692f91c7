"""Work at the bench: every joint that the catalogue knows can be worked on, and nothing is said without an origin."""

from pathlib import Path

import pytest

from kitbuilder.catalogue import CatalogueError, catalogue
from kitbuilder.catalogue.bench_work import DEVICE, HOSE, INSTRUMENT, PLUG, PORT, bench_work, load_bench_work
from kitbuilder.catalogue.load import FOLDER
from kitbuilder.units import parse_quantity

TEXT = (FOLDER / "bench_work.toml").read_text(encoding="utf-8")


def test_every_port_of_every_preset_takes_a_hose_and_a_plug() -> None:
    for (kind, _), preset in catalogue().presets.items():
        for port in preset.ports if kind == "first_stage" else ():
            name, thread = port.split(" ", 1)
            for part in (HOSE, PLUG):
                assert bench_work().joint(PORT, part, thread, name[:2]), f"{part} in {port}"


def test_every_end_of_a_hose_can_be_screwed_on() -> None:
    for fitting in catalogue().fittings.values():
        at = PORT if fitting.place == "first stage" else DEVICE
        assert bench_work().joint(at, HOSE, fitting.joint, fitting.service), fitting.name


def test_both_sides_of_every_adapter_that_is_not_dangerous() -> None:
    for adapter in catalogue().adapters.values():
        if not adapter.defeats_coding:
            for thread, _ in (adapter.hose_side, adapter.far_side):
                places = [bench_work().joint(at, HOSE, thread, adapter.service) for at in (PORT, DEVICE)]
                assert any(places), f"{adapter.name}, {thread}"


def test_a_transmitter_goes_into_an_hp_port() -> None:
    assert bench_work().joint(PORT, INSTRUMENT, "7/16-20 UNF", "HP")


def test_only_couplings_go_on_by_hand() -> None:
    couplings = {name for name, coupling in catalogue().couplings.items() if coupling.kind == "quick-disconnect"}
    assert {work.thread for work in bench_work().joints.values() if work.by_hand} == couplings


@pytest.mark.parametrize(
    ("thread", "service", "ring"),
    [("3/8-24 UNF", "LP", "011"), ("7/16-20 UNF", "HP", "012"), ("1/2-20 UNF", "LP", "013")],
)
def test_rings_of_ports(thread: str, service: str, ring: str) -> None:
    """Common practice, no source: 011 in 3/8, 012 in 7/16, 013 in 1/2."""
    for part in (HOSE, PLUG):
        work = bench_work().joint(PORT, part, thread, service)
        assert work is not None
        assert work.o_rings == (ring,)


def test_a_ring_goes_over_its_thread_and_into_its_port() -> None:
    """A ring stretched over the relief behind a thread is no wider inside than the thread, nor much narrower."""
    for (at, _, thread, _), work in bench_work().joints.items():
        known = catalogue().threads.get(thread)
        if at == PORT and known:
            for size in work.o_rings:
                inner = bench_work().o_rings[size].inner.value
                assert 0.75 * known.major.value < inner < known.major.value


def test_a_lp_hose_end_is_never_tightened_beyond_forty_inch_pounds() -> None:
    """Common practice, no source: 40 lbf·in at most at the first stage."""
    most = parse_quantity("40 lbf·in", "torque")
    for (at, part, _, service), work in bench_work().joints.items():
        if (at, part, service) == (PORT, HOSE, "LP"):
            assert work.torque is not None
            assert work.torque.high == pytest.approx(most, abs=0.05)


def test_two_rings_on_the_pin_of_a_gauge() -> None:
    work = bench_work().joint(DEVICE, HOSE, "gauge swivel", "HP")
    assert work is not None
    assert work.o_rings == ("003", "003")
    assert work.hold_with


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('o_rings = ["013"]', 'o_rings = ["999"]', "999"),
        ('at = "port"', 'at = "pier"', "pier"),
        ("by_hand = true\n", "", "by hand or with a tool"),
        ('turn_with = "15 or 16 mm (5/8 in)"\n', "", "by hand or with a tool"),
        ('\nwhen = "always"', '\nwhen = "never"', "never"),
        ('thread = "1/2-20 UNF"', 'thread = "3/8-24 UNF"', "twice"),
        ("how =", "hwo =", "how: is missing"),
        ("by_hand = true", "by_hand = true\ncolour = 1", "colour"),
        (', origin = "common practice, no source" }', " }", "origin"),
    ],
)
def test_broken_files_are_refused_with_their_place(tmp_path: Path, old: str, new: str, says: str) -> None:
    path = tmp_path / "bench_work.toml"
    assert old in TEXT
    path.write_text(TEXT.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(CatalogueError, match=says):
        load_bench_work(path)
