"""Answers written to files with -o: by every command, in the form that the ending names, over nothing."""

import csv
import json
import os
import re
import shutil
import subprocess
from datetime import date
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from io import StringIO
from threading import Thread

import pytest

from kitbuilder.commands import all_commands
from kitbuilder.commands.exit_codes import UNREADABLE
from kitbuilder.report.forms import CSV, ENDINGS, OUTPUT_FORMS, other_ending, render
from tests import laws
from tests.commands.run import CAUTIOUS, CONFIGS, GOOD, TWINSET, WRONG, run
from tests.commands.test_foreign_text import ASKED
from tests.commands.test_registry import example_words
from tests.hostile import MARKUP, hostile_folder, raw_in
from tests.html_reader import Document, pictures, tables_without_caption
from tests.markdown_reader import words as words_of_markdown

WRITTEN_OUT = r"\x1b[2J"
"""How the beginning of every hostile text is shown."""
COMMANDS = [command for command in all_commands() if not command.without_document]


@pytest.fixture
def folder(tmp_path):
    shutil.copytree(CONFIGS, tmp_path / "configs")
    return tmp_path


@pytest.fixture(autouse=True)
def _day(monkeypatch):
    """A document has the day on it."""
    monkeypatch.setattr("kitbuilder.clock.today", lambda: date(2026, 11, 29))


@pytest.fixture
def answers(monkeypatch):
    """What commands write, each with its units and its width, to be written in other forms without asking again."""
    kept = []

    def keep(form, *answer):
        kept.append(answer)
        return render(form, *answer)

    monkeypatch.setattr("kitbuilder.commands.response.render", keep)
    return kept


def test_two_commands_say_why_they_write_no_document():
    """What they print is a file as it is."""
    without = {command.name: command.without_document for command in all_commands() if command.without_document}
    assert set(without) == {"format", "completion"}
    assert all(reason.endswith(".") for reason in without.values())
    assert run("format", "-o", "a.md").returncode == 2


# ---- forms ----


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.name)
def test_every_command_writes_html_that_is_sound_and_has_the_words_of_its_text(command, folder, answers):
    """A picture has words of its own, and boxes and units stand apart; so the words of the text are looked for.

    The text breaks a long path at the edge of its line: each part of one stands somewhere in the document.
    """
    done = run(*example_words(command), "-o", "answer.html", cwd=folder)
    assert (done.returncode, done.stderr) == (command.example.exit_code, "")
    assert done.stdout == "Written to answer.html.\n"
    document = (folder / "answer.html").read_text(encoding="utf-8")
    found = Document(document)
    assert found.wrong == []
    assert tables_without_caption(document) == []
    assert found.headings[0].level == 1
    printed = render(OUTPUT_FORMS["text"], *answers.pop()).replace("[ ]", "").split()
    missing = {word.strip("-:") for word in printed} - {word.strip("-:") for word in found.words}
    paths = [word for word in found.words if "/" in word]
    assert [word for word in missing if not any(word in path for path in paths)] == []


def test_the_ending_decides_the_form(folder):
    """Each file holds what would be printed in that form; people and programs find the same findings in all five."""
    printed = {name: run("check", CAUTIOUS, "--form", name).stdout for name in OUTPUT_FORMS}
    assert printed["text"] == run("check", CAUTIOUS).stdout
    for name, form in OUTPUT_FORMS.items():
        file = folder / f"answer{form.ending.upper() if name == 'csv' else form.ending}"
        assert run("check", CAUTIOUS, "-o", str(file), "--form", name).returncode == 1
        text = file.read_bytes().decode("utf-8")
        if name == "text":  # in a file as wide as any printer has it
            assert sorted(text.split()) == sorted(f"{HEAD} {printed[name]}".split())
        else:
            assert text == form.as_file(printed[name])
    rows = [*csv.reader((folder / "answer.CSV").read_text("utf-8-sig").splitlines(), strict=True)]
    count = len(json.loads((folder / "answer.json").read_text("utf-8"))["result"]["files"][0]["findings"])
    assert count > 0
    assert sum(row[0] in ("CAUTION", "NOTICE") for row in rows) == count
    assert (folder / "answer.html").read_text("utf-8").count('<section class="finding') == count
    assert words_of_markdown((folder / "answer.md").read_text("utf-8")).count("CAUTION") == 4
    assert (folder / "answer.txt").read_text("utf-8").count("CAUTION") == 4


HEAD = "Lake single with drysuit\nFigures and findings · 29 November 2026"


def test_every_form_for_people_has_a_title_and_the_day(folder):
    """JSON has neither: it says what was read."""
    title, below = HEAD.splitlines()
    heads = {
        "text": f"{HEAD}\n",
        "markdown": f"# {title}\n\n{below}\n",
        "csv": f"{title},,",
        "html": f"<header>\n<p>{below}</p>\n<h1>{title}</h1>",
    }
    for name, head in heads.items():
        file = folder / f"a{OUTPUT_FORMS[name].ending}"
        run("check", CAUTIOUS, "-o", str(file))
        text = file.read_text("utf-8-sig")
        assert head in text if name == "html" else text.startswith(head)
        assert text.count("29 November 2026") == 1, name
    levels = re.findall("^#+", (folder / "a.md").read_text("utf-8"), re.MULTILINE)
    assert levels.count("#") == 1
    assert set(levels[1:]) >= {"##"}
    assert "29 November" not in run("check", CAUTIOUS, "--json").stdout
    assert "29 November" not in run("check", CAUTIOUS).stdout, "what is printed has no head"


def test_several_files_are_one_document(folder):
    """Though what people read is printed file by file."""
    for ending in ("html", "csv", "md"):
        assert run("check", GOOD, TWINSET, "-o", f"{folder}/both.{ending}").returncode == 1
    both = Document((folder / "both.html").read_text("utf-8"))
    assert both.wrong == []
    assert both.headings[0].text == "Reef single, warm water · Twinset, coast"
    assert (folder / "both.md").read_text("utf-8").count("kitbuilder advises") == 1
    assert (folder / "both.csv").read_bytes().count(b"\xef\xbb\xbf") == 1


def test_units_are_those_of_the_reader(folder):
    run("check", GOOD, "--units", "imperial", "-o", f"{folder}/a.html")
    document = (folder / "a.html").read_text("utf-8")
    assert " lb<" in document
    assert [plot for plot in pictures(document) if "82 ft" in "".join(plot.itertext())], "25 m on the axis of the plot"


def test_every_picture_has_a_title_and_says_what_it_shows(folder):
    """WCAG 2.2, success criterion 1.1.1; SVG 2, 5.7: the first children."""
    run("report", GOOD, "-o", f"{folder}/a.html")
    found = pictures((folder / "a.html").read_text("utf-8"))
    assert len(found) == 3
    for picture in found:
        title, said = picture[0], picture[1]
        assert (title.tag.rpartition("}")[2], said.tag.rpartition("}")[2]) == ("title", "desc")
        assert title.text
        assert len(said.text or "") > 30


# ---- what is refused ----


@pytest.mark.parametrize(
    ("name", "ending"),
    [
        ("b.pdf", ".pdf"),
        ("b.DOCX", ".DOCX"),
        ("reef.v2", ".v2"),
        ("reef 1.5", ""),
        ("b.html", ""),
        ("b", ""),
        ("..", ""),
    ],
)
def test_an_ending_of_no_form_is_found_and_a_name_without_one_has_none(name, ending):
    assert other_ending(name) == ending


def refused(*words, cwd):
    before = {path: path.read_bytes() for path in cwd.rglob("*") if path.is_file()}
    done = run(*words, cwd=cwd)
    assert done.stdout == ""
    assert len(done.stderr.splitlines()) == 1
    assert {path: path.read_bytes() for path in cwd.rglob("*") if path.is_file()} == before
    return done.returncode, done.stderr.rstrip()


def test_what_cannot_be_written_is_said_in_one_line_before_any_work(folder):
    (folder / "there.html").write_text("mine")
    (folder / "shut").mkdir(mode=0o500)
    kit = "configs/warm-single.toml"
    cases = {
        ("-o", "a.doc"): f'kitbuilder: check: -o: found "a.doc". Accepted: a name that ends in {ENDINGS}.',
        ("-o", ".html"): f'kitbuilder: check: -o: found ".html". Accepted: a name that ends in {ENDINGS}.',
        ("-o", "configs/.MD"): f'kitbuilder: check: -o: found "configs/.MD". Accepted: a name that ends in {ENDINGS}.',
        ("-o", kit): f'kitbuilder: check: -o: found "{kit}". Accepted: a name that ends in {ENDINGS}.',
        ("-o", "a.html", "--json"): 'kitbuilder: check: -o: found "a.html" and --form json. Leave out --form: the '
        "ending of the file decides.",
        ("-o", "gone/a.html"): 'kitbuilder: gone/a.html: there is no folder "gone". Create it first, or name another '
        "folder.",
        ("-o", "there.html"): "kitbuilder: there.html: a file with this name exists already. Name another file, or "
        "add --replace.",
    }
    for words, said in cases.items():
        assert refused("check", kit, *words, cwd=folder) == (2, said)
    if os.geteuid():
        code, said = refused("check", kit, "-o", "shut/a.html", cwd=folder)
        assert (code, said) == (
            2,
            'kitbuilder: shut/a.html: you may not write to the folder "shut". Name another folder.',
        )


def test_a_file_is_replaced_when_it_is_asked_for(folder):
    (folder / "a.html").write_text("old")
    assert run("check", GOOD, "-o", "a.html", "--replace", cwd=folder).returncode == 1
    assert (folder / "a.html").read_text("utf-8").startswith("<!DOCTYPE html>")
    (folder / "a.csv").write_bytes(b"\xef\xbb\xbfa;b\n")
    run("check", GOOD, "-o", "a.csv", "--replace", cwd=folder)
    assert (folder / "a.csv").read_bytes().count(b"\xef\xbb\xbf") == 1, "one mark, its own"
    (folder / "link.html").symlink_to(folder / "a.html")
    done = run("check", GOOD, "-o", "link.html", "--replace", cwd=folder)
    assert done.returncode == UNREADABLE
    assert done.stderr == (
        "kitbuilder: link.html: a link has this name and is not replaced. Nothing was written there. Name another "
        "file.\n"
    )


def test_a_full_disk_leaves_the_old_file(folder, monkeypatch):
    (folder / "a.html").write_text("old")

    def refuse(*_given: object, **_more: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("kitbuilder.commands.documents.save_text", refuse)
    done = run("check", GOOD, "-o", "a.html", "--replace", cwd=folder)
    assert (done.returncode, done.stdout) == (UNREADABLE, "")
    assert done.stderr.startswith("kitbuilder: a.html: No space left on device. Nothing was written there.")
    assert (folder / "a.html").read_text() == "old"


def test_without_an_answer_no_file_is_made(folder):
    """Complaints go to standard error, those of JSON as well: there is no file to look for them in."""
    for ending in ("html", "json"):
        code, said = refused("check", "gone.toml", "-o", f"a.{ending}", cwd=folder)
        assert code == 2
        assert said.startswith("gone.toml: there is no such file.")


# ---- texts from elsewhere ----


@pytest.fixture(scope="module")
def hostile(tmp_path_factory):
    made = tmp_path_factory.mktemp("hostile")
    hostile_folder(made)
    return made


@pytest.mark.parametrize("words", ASKED.values(), ids=ASKED)
def test_no_text_of_a_file_is_markup_or_a_formula(words, hostile, answers):
    """Texts with control, direction and markup characters in every key."""
    run(*words, "-o", f"{words[0]}.html", cwd=hostile)
    document = (hostile / f"{words[0]}.html").read_text("utf-8")
    found = Document(document)
    assert found.wrong == []
    assert not raw_in(document)
    assert WRITTEN_OUT in document
    assert MARKUP in " ".join(found.words)
    file = CSV.as_file(render(CSV, *answers.pop())).removeprefix(CSV.mark)
    cells = [cell for row in csv.reader(StringIO(file, newline=""), strict=True) for cell in row]
    assert not raw_in("".join(cells))
    assert any(WRITTEN_OUT in cell for cell in cells)
    texts = [cell for cell in cells if not cell.lstrip("-").replace(".", "", 1).isdigit()]
    assert not [cell for cell in texts if cell.startswith(("=", "+", "-", "@", "\t", "\r"))]


def test_a_file_may_be_called_like_markup_or_a_formula(folder):
    for name in ("=1+1.toml", "<script>alert(1)<br>.toml", "@SUM(1).toml", "a\"b'c&d.toml"):
        shutil.copy(WRONG, folder / name)
        for ending in ("html", "csv"):
            assert run("check", name, "-o", f"a.{ending}", "--replace", cwd=folder).returncode == 1
        assert name in Document((folder / "a.html").read_text("utf-8")).texts
        with (folder / "a.csv").open(encoding="utf-8-sig", newline="") as file:
            firsts = [record[0] for record in csv.reader(file, strict=True)]
        assert (f"'{name}" if name[0] in "=@" else name) in firsts


# ---- a browser, where there is one ----

BROWSER = shutil.which("chromium") or shutil.which("chromium-browser")


@pytest.mark.skipif(BROWSER is None, reason="there is no browser on this machine")
def test_a_browser_has_nothing_to_say_about_it_and_asks_for_nothing_else(folder):
    """The browser's log has what a page says on its console; the server has every request."""
    run("trip", "configs/trip-reef.toml", "-o", "a.html", cwd=folder)
    asked: list[str] = []

    class Handler(SimpleHTTPRequestHandler):
        def log_message(self, _format: str, *args: object) -> None:
            asked.append(str(args[0]))

    with ThreadingHTTPServer(("127.0.0.1", 0), partial(Handler, directory=folder)) as server:
        Thread(target=server.serve_forever, daemon=True).start()
        done = subprocess.run(
            [
                str(BROWSER), "--headless", "--no-sandbox", "--disable-gpu", "--enable-logging=stderr", "--log-level=0",
                f"--user-data-dir={folder / 'profile'}", "--no-first-run", "--disable-background-networking",
                "--no-pdf-header-footer", f"--print-to-pdf={folder / 'a.pdf'}",
                f"http://127.0.0.1:{server.server_port}/a.html",
            ],
            capture_output=True, text=True, timeout=60, check=True,
        )  # fmt: skip
        server.shutdown()
    assert "CONSOLE" not in done.stderr
    assert asked == ["GET /a.html HTTP/1.1"]
    assert re.search(rb"/Count [23]\b", (folder / "a.pdf").read_bytes()), "sheets of Letter or A4"


@pytest.mark.skipif(BROWSER is None or not laws.is_thorough(), reason="a browser takes a second for each sheet")
@pytest.mark.parametrize("size", ["A4", "letter"])
@pytest.mark.parametrize(
    "words",
    [
        ("pair", "configs/pair/guest.toml", "configs/pair/host.toml"),
        ("card", "configs/trip-wreck.toml"),
        ("fit", "configs/wrong-on-purpose.toml", "--to-buy"),
    ],
    ids=lambda words: words[0],
)
def test_what_is_taken_along_is_one_sheet(words, size, folder):
    """The style leaves the size of the paper to the printer; here it is set, as a printer would. Names are long."""
    for name, full in (("guest", "Maximilian Obermayer"), ("host", "Alexandra Hohenlohe")):
        diver = folder / "configs" / "pair" / f"{name}-diver.toml"
        diver.write_text(diver.read_text("utf-8").replace(f'"{name}"', f'"{full}"'), "utf-8")
    run(*words, "-o", "a.html", cwd=folder)
    document = (folder / "a.html").read_text("utf-8")
    (folder / "b.html").write_text(document.replace("@page{", f"@page{{size:{size};"), "utf-8")
    subprocess.run(
        [
            str(BROWSER), "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={folder / 'profile'}",
            "--no-pdf-header-footer", f"--print-to-pdf={folder / 'b.pdf'}", f"file://{folder / 'b.html'}",
        ],
        capture_output=True, timeout=60, check=True,
    )  # fmt: skip
    assert re.findall(rb"/Count (\d+)", (folder / "b.pdf").read_bytes()) == [b"1"]
