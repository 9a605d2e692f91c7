"""Rows, lists and pages are copied to the clipboard and to a file, and written to files of the user's choice."""

from pathlib import Path

from kitbuilder.app.screens.copying import free_path, named_beside
from kitbuilder.kitfile.copied import copied_path
from tests.app.conftest import press, put_cursor, screen_text, told, type_in


def test_names_of_files_for_pages(tmp_path):
    assert named_beside(tmp_path / "twinset.toml", "weigh-in").name == "twinset-weigh-in"
    assert named_beside(tmp_path / "me.toml", "diver's page").name == "me-diver-page"
    assert named_beside(tmp_path / "diver.toml", "diver's page").name == "diver-page"
    assert named_beside(tmp_path / "my-gear.toml", "gear").name == "my-gear"
    path = tmp_path / "twinset-fit"
    assert free_path(path).name == "twinset-fit.txt"
    free_path(path).touch()
    assert free_path(path).name == "twinset-fit-2.txt"


async def test_copying_a_row_a_finding_a_list_and_a_page(opened, kits, monkeypatch):
    """The message names the file; a text on the clipboard alone could be lost without a word."""
    async with opened("sidemount") as pilot:
        app = pilot.app
        await put_cursor(pilot, "#items", "short hose")
        await press(pilot, "y")
        row = copied_path().read_text()
        assert "short hose" in row
        assert "▸" not in row
        assert app.clipboard == row.strip()
        assert "Copied 1 line; also in " in told(app)
        assert told(app).endswith("copied.txt")

        await press(pilot, "full_stop", "y")
        finding = app.clipboard
        result = app.screen.query_one("#findings").selected
        assert result.signal.word in finding
        assert " ".join(finding.split()).count(result.rule) <= 1
        assert len(finding) > 80, "with its reason and what to do"

        await press(pilot, "Y")
        assert "copy the list" in screen_text(app)
        await press(pilot, "enter")
        assert len(app.clipboard.splitlines()) >= len(app.screen.query_one("#findings").results)

        await press(pilot, "Y", "p", "enter")
        assert "sidemount.toml" in app.clipboard
        assert "Findings: " in app.clipboard

        await press(pilot, "Y", "f", "enter")
        await type_in(pilot, "page", "enter")
        title, below, empty, *page = (kits / "page.txt").read_text().strip("\n").split("\n")
        assert (title, below, empty) == ("Sidemount, sea", "Figures and findings · 15 January 2027", "")
        assert "\n".join(page) == app.clipboard
        assert f"Written to {(kits / 'page.txt').absolute()}." in told(app)

        await press(pilot, "greater_than_sign")
        assert "sidemount-bench.html" in screen_text(app), "a free name beside the kit, offered"
        await press(pilot, "enter")
        document = (kits / "sidemount-bench.html").read_text()
        assert document.startswith("<!DOCTYPE html>")
        assert "<h1>Sidemount, sea</h1>" in document
        assert f"Written to {(kits / 'sidemount-bench.html').absolute()}." in told(app)
        await press(pilot, "greater_than_sign")
        await type_in(pilot, "page.json", "enter")
        assert "JSON is written by the commands, with -o." in " ".join(screen_text(app).split())
        assert not (kits / "page.json").exists()
        await type_in(pilot, "page.pdf", "enter")
        assert 'A page is not written as ".pdf".' in " ".join(screen_text(app).split())
        assert not [*kits.glob("page.pdf*")]
        await type_in(pilot, "page.csv", "enter")
        assert (kits / "page.csv").read_bytes().startswith(b"\xef\xbb\xbf")

        def refuse(*_given: object) -> None:
            raise OSError(28, "No space left on device")

        monkeypatch.setattr("kitbuilder.app.clipboard.keep_copied", refuse)
        await press(pilot, "y")
        assert "No space left on device" in told(app)


async def test_every_page_is_copied_and_written(opened, kits):
    """A pane that scrolls, and a page in a dialog."""
    async with opened("cold-single") as pilot:
        app = pilot.app
        await press(pilot, "d", "y")
        assert len(app.clipboard.splitlines()) > 3
        await press(pilot, "o", "y")
        assert "lead" in app.clipboard.lower()
        assert Path(copied_path()).read_text().strip("\n") == app.clipboard

        await press(pilot, "greater_than_sign")
        unbroken = "".join(screen_text(app).replace("│", "").split())
        assert f"Inthefolder{kits.absolute()}:" in unbroken
        await press(pilot, "enter")
        [document] = kits.glob("cold-single-*.html")
        assert document.name.endswith("-where-the-figures-come-from.html")
        assert "<p>Where the figures come from · 15 January 2027</p>" in document.read_text()
