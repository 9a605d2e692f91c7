"""The rows of the shelf and what stands below them, at the widths of small and large terminals."""

import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.figures import Figure
from kitbuilder.assess.findings import Signal
from kitbuilder.kit.items import Cylinder
from kitbuilder.kit.resolved import NOTHING_LINKED, resolve
from kitbuilder.kit.trip import Rent, Trip, TripHeader
from kitbuilder.kitfile.problems import Problem
from kitbuilder.report.lines import plain
from kitbuilder.report.numbers import System
from kitbuilder.report.shelf import (
    ShelfKit,
    ShelfTrip,
    preview_lines,
    preview_title,
    shelf_columns,
    shelf_page,
    shelf_rows,
    trip_preview,
)
from kitbuilder.report.sorting import sorted_places
from tests.assess.kits import PLAIN, WHOLE, WRONG, kit_of, shipped, without
from tests.report.pages import page_text

METRIC = System.METRIC
HALF = ShelfKit("half.toml", None, [Problem(3, "kit, layout", 'found "singel"', "Accepted: single.")])


def shelf() -> list[ShelfKit]:
    """The kits that come with the program, and a file that cannot be read."""
    return [*(ShelfKit(f"{name}.toml", shipped(name)) for name in (*WHOLE, WRONG)), HALF]


@pytest.mark.parametrize("width", [78, 118, 198])
def test_what_matters_stands_in_every_row(width):
    """Mass and lead with their spread, a bar, the signal word; the layout where there is room for it."""
    heads, rows = shelf_rows(shelf(), width, METRIC, plain=False)
    texts = [plain(row) for row in rows]
    assert all(len(text) <= width for text in (plain(heads), *texts))
    assert ("layout" in plain(heads)) is (width > 100)
    for kit, text in zip(shelf(), texts, strict=True):
        if kit.assessment is None:
            assert "not read" in text
            assert "kit, layout" in text
        else:
            worst = kit.assessment.worst
            assert text.count("±") == 2
            assert text.count("●") == 1
            assert worst is not None
            assert worst.word in text


def test_a_document_has_the_rows_without_bars():
    text = page_text(shelf_page(shelf()), width=140)
    assert "●" not in text
    assert text.splitlines()[0].split() == ["kit", "file", "layout", "mass", "kg", "lead", "kg", "worst", "finding"]
    assert all(kit.name in text for kit in shelf())
    assert text.count("half.toml") == 2, "it has no other name"
    assert len(text.splitlines()) == len(shelf()) + 1
    assert "not saved" not in text
    printed = page_text(shelf_page(shelf()), width=80)
    assert printed.splitlines()[0].split()[:2] == ["kit", "file"], "it is a table on paper too"


def test_a_document_says_what_a_sign_before_a_name_means():
    single, twinset, *_ = shelf()
    text = page_text(shelf_page([single._replace(is_unsaved=True), twinset._replace(is_changed=True)]), width=100)
    assert "* has edits that are not saved." in text
    assert "~ was changed by another program while it was shown." in text


def test_bars_stand_on_one_scale():
    """A kit that needs more lead has its point further right, whatever else is on the shelf."""
    kits = shelf()[:-1]
    _, rows = shelf_rows(kits, 118, METRIC, plain=True)
    points = [plain(row).rindex("o", 0, plain(row).rindex("|") + 1) for row in rows]
    leads = [kit.assessment.balance.lead.value for kit in kits]
    order = sorted(range(len(kits)), key=leads.__getitem__)
    assert [points[place] for place in order] == sorted(points)
    assert min(leads) < max(leads)


def test_a_kit_without_a_known_cylinder_says_so():
    kit = kit_of(PLAIN)
    text = PLAIN
    for tag in [item.tag for item in kit.items if isinstance(item, Cylinder)]:
        text = without(text, tag)
    bare = ShelfKit("bare.toml", assess(resolve(kit_of(text), NOTHING_LINKED)))
    _, [row] = shelf_rows([bare], 118, METRIC, plain=False)
    assert "not known" in plain(row)
    assert any("The lead is not known" in plain(line) for line in preview_lines(bare, 80, 8, METRIC))


@pytest.mark.parametrize(("width", "height"), [(80, 8), (120, 13)])
def test_the_preview_keeps_its_room_and_says_the_worst_first(width, height):
    for kit in shelf():
        lines = [plain(line) for line in preview_lines(kit, width, height, METRIC)]
        assert len(lines) <= height
        assert all(len(line) <= width for line in lines)
        if kit.assessment is None:
            assert lines[0].startswith("half.toml:3: kit, layout")
            continue
        assert lines[0].startswith("lead ")
        assert lines[-1].endswith("Cautions: ?")
        worst = kit.assessment.worst
        first = next(line for line in lines if line.split("  ")[0] in [signal.word for signal in Signal])
        assert worst is not None
        assert first.startswith(worst.word)


def test_the_title_names_the_file_and_counts_its_findings():
    assert preview_title(HALF) == "half.toml · cannot be read"
    assert preview_title(shelf()[0]).startswith(f"{WHOLE[0]}.toml · findings: ")


def test_a_kit_that_is_too_heavy_without_lead_needs_none():
    """It is said in words, and the kit is still sorted by how much it is too heavy."""
    found = shipped(WHOLE[0])
    assert found.balance is not None
    heavy = found._replace(balance=found.balance._replace(lead=Figure(-2.7, {"all": 3.1}, "")))
    kits = [ShelfKit("heavy.toml", heavy), ShelfKit("own.toml", found)]
    _, [row, _] = shelf_rows(kits, 118, METRIC, plain=False)
    assert " none " in plain(row)
    below = " ".join(plain(line) for line in preview_lines(kits[0], 80, 8, METRIC))
    assert "none (2.7 ± 3.1 kg too heavy); the kit carries" in below
    assert sorted_places(shelf_columns(kits)["lead"]) == (1, 0)


def test_what_is_rented_by_kind_is_no_name_in_a_trip():
    header = TripHeader(format=1, holds="trip", name="reef", kits=("kit.toml",))
    trip = ShelfTrip("trip.toml", Trip(header, (Rent(every="cylinder"), Rent(item="belt"))))
    said = " ".join(plain(line) for line in trip_preview(trip, 78, 20, METRIC))
    assert 'every cylinder, "belt"' in " ".join(said.split())
