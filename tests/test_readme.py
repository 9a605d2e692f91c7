"""The README says what is true: its examples, its links and the commands that CI takes from it."""

import re

import pytest

from tests.readme_examples import BLOCK, README, ROOT, rewritten

PAGE = README.read_text(encoding="utf-8")
EXAMPLE = """```console
$ kitbuilder threads --major 9.5mm --pitch 24tpi
…
{line}
…
```
"""


def anchor(heading: str) -> str:
    """Give the name by which a page links to a heading: small letters, hyphens for spaces, no other signs."""
    return re.sub(r"[^a-z0-9-]", "", heading.lower().replace(" ", "-"))


def test_every_example_prints_what_the_readme_shows():
    """One for each user, two for the pair: travelling diver, technical diver, buddy pair, adviser.

    `.ci/check generate` rewrites them.
    """
    assert len(BLOCK.findall(PAGE)) == PAGE.count("```console") == 6
    assert rewritten(PAGE) == PAGE


def test_an_old_number_is_noticed():
    true = rewritten(EXAMPLE.format(line="  pitch: 9"))
    assert "\n  pitch: 1.058 mm; limits" in true, "24 threads per inch: 25.4 mm / 24"
    assert rewritten(true) == true
    old = true.replace("1.058", "1.085")
    assert rewritten(old) != old


def test_a_line_that_is_no_longer_printed_is_refused():
    with pytest.raises(LookupError, match="it certifies"):
        rewritten(EXAMPLE.format(line="it certifies"))


def test_every_link_leads_somewhere():
    headings = {anchor(title) for title in re.findall(r"^#+ (.+)$", PAGE, re.MULTILINE)}
    links = re.findall(r"\]\(([^)]+)\)", PAGE)
    assert {link for link in links if link.startswith("#")} <= {f"#{heading}" for heading in headings}
    assert [link for link in links if not link.startswith("#") and not (ROOT / link).exists()] == []


def test_ci_finds_its_two_commands():
    """The first shell command opens the app, the second runs the tests: `.ci/run` takes them from here."""
    opens, tests = re.findall(r"^```sh\n(.+)\n```$", PAGE, re.MULTILINE)
    assert opens.endswith(".venv/bin/kitbuilder configs")
    assert tests.endswith(".venv/bin/pytest")
