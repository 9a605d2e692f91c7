"""Styles of new kits: each starts from a kit that reads, says what it is, and is there for every layout."""

from pathlib import Path

import pytest

from kitbuilder.catalogue import CatalogueError
from kitbuilder.catalogue.load import FOLDER
from kitbuilder.catalogue.styles import LAYOUTS as FOLDER_OF_KITS
from kitbuilder.catalogue.styles import Exposure, Style, load_styles, styles
from kitbuilder.kit.items import LAYOUTS, Drysuit, Lead, Suit
from kitbuilder.kitfile.reader import read_kit

STYLES = pytest.mark.parametrize("style", styles().styles.values(), ids=styles().styles)
EXPOSURES = pytest.mark.parametrize("exposure", styles().exposures.values(), ids=styles().exposures)
TEXT = (FOLDER / "styles.toml").read_text("utf-8")


def test_every_way_to_rig_that_is_asked_for_is_there() -> None:
    """A jacket, a wing and a long hose on a single; twinset with and without stages; sidemount in three ways."""
    by_layout = {layout: [style for style in styles().styles.values() if style.layout == layout] for layout in LAYOUTS}
    assert {layout: len(found) for layout, found in by_layout.items()} == {"single": 3, "twinset": 2, "sidemount": 3}
    assert {style.file for style in styles().styles.values()} == {path.stem for path in FOLDER_OF_KITS.glob("*.toml")}


@STYLES
def test_a_style_starts_from_a_kit_of_its_layout(style: Style) -> None:
    """With a drysuit and its hose, a place for the lead, and no foam: the exposure brings that."""
    kit = read_kit(style.path.read_text("utf-8")).kit
    assert kit is not None
    assert kit.header.layout == style.layout
    [suit] = [item for item in kit.items if isinstance(item, Drysuit)]
    assert [hose.role for hose in kit.hoses if hose.to == suit.tag] == ["drysuit"]
    assert style.foam_lead or any(item.droppable for item in kit.items if isinstance(item, Lead))
    assert not [item for item in kit.items if isinstance(item, Suit)]
    worn = {getattr(item, "preset", "") for item in kit.items}
    assert {"fins, open heel rubber", "mask", "wrist computer"} <= worn


@EXPOSURES
def test_what_is_worn_has_a_name_that_says_so(exposure: Exposure) -> None:
    """The undersuit, or the thickness of the suit, stands in the name."""
    if exposure.undersuit:
        assert exposure.name == f"drysuit, {exposure.undersuit} undersuit"
    elif exposure.foam:
        [suit] = [foam for foam in exposure.foam if foam.tag == "suit"]
        assert exposure.name.startswith(suit.thickness)


def test_every_origin_says_that_there_is_no_source() -> None:
    for entry in (*styles().styles.values(), *styles().exposures.values()):
        assert entry.origin == "common practice, no source"


@pytest.mark.parametrize(
    ("old", "new", "complaint"),
    [
        ('file = "single"', 'file = "triple"', 'file: layouts/ has no "triple.toml"'),
        ('exposure = "5 mm wetsuit"', 'exposure = "6 mm wetsuit"', 'there is no "6 mm wetsuit"'),
        ('undersuit = "light"', 'undersuit = "lite"', 'there is no "lite"; did you mean "light"'),
        ('cut = "hood"', 'cut = "hod"', 'there is no "hod"; did you mean "hood"'),
        ('thickness = "3 mm"', 'thickness = "3"', 'thickness: "3" has no unit'),
    ],
)
def test_a_word_that_is_not_known_is_refused(old: str, new: str, complaint: str, tmp_path: Path) -> None:
    assert old in TEXT
    (tmp_path / "styles.toml").write_text(TEXT.replace(old, new, 1), "utf-8")
    with pytest.raises(CatalogueError, match=complaint):
        load_styles(tmp_path / "styles.toml")
