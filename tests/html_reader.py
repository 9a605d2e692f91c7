"""HTML as two strict readers see it: that of XML, and one that knows here what a document of ours may have.

The rules are those of the HTML Living Standard (WHATWG): void elements (13.1.2), headings (4.3.11), captions (4.9.2),
scope of head cells (4.9.10); and WCAG 2.2, success criteria 1.1.1 and 1.3.1, for what a screen reader needs.
"""

from html.parser import HTMLParser
from typing import NamedTuple
from xml.etree import ElementTree

VOID = {"meta", "link", "input", "br", "hr", "img"}
ALLOWED = {
    *("html", "head", "meta", "link", "title", "style", "body", "main", "header", "section", "p", "span", "b"),
    *("h1", "h2", "h3", "h4", "h5", "h6", "dl", "dt", "dd", "ul", "ol", "li", "label", "input", "pre", "figure", "div"),
    *("table", "caption", "thead", "tbody", "tr", "th", "td"),
    *("svg", "desc", "rect", "path", "circle", "polygon", "text"),
}
"""Nothing that runs, embeds, refers or submits."""
ADDRESSES = {"http://www.w3.org/1999/xhtml", "http://www.w3.org/2000/svg"}
"""Names of languages; no browser asks for them."""


class Heading(NamedTuple):
    level: int
    text: str


class Document(HTMLParser):
    """What a document says; anything that is not as it should be is in `wrong`."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.wrong: list[str] = []
        self.headings: list[Heading] = []
        self.texts: list[str] = []
        self._open: list[tuple[str, dict[str, str | None]]] = []
        self._ids: set[str] = set()
        self.feed(text)
        self.close()
        if self._open:
            self.wrong.append(f"left open: {[name for name, _ in self._open]}")
        ElementTree.fromstring(text)

    @property
    def words(self) -> list[str]:
        """All that is shown, as words."""
        return " ".join(self.texts).split()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Enter an element, or note a void one."""
        found = dict(attrs)
        self._check(tag, attrs, found)
        if tag not in VOID:
            self._open.append((tag, found))
        if tag == "li" and found.get("value"):
            self.texts.append(f" {found['value']} ")
        if tag in ("h1", "h2", "h3", "h4", "h5", "h6"):
            level, before = int(tag[1]), self.headings[-1].level if self.headings else 0
            if level > before + 1 or (level == 1 and self.headings):
                self.wrong.append(f"h{level} after h{before}")
            self.headings.append(Heading(level, ""))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note a void element as XML writes it."""
        if tag not in VOID:
            self.wrong.append(f"<{tag}/> is no void element")
        self._check(tag, attrs, dict(attrs))

    def handle_endtag(self, tag: str) -> None:
        """Leave an element."""
        if not self._open or self._open[-1][0] != tag:
            self.wrong.append(f"</{tag}> inside {[name for name, _ in self._open][-2:]}")
        else:
            self._open.pop()

    def handle_data(self, data: str) -> None:
        """Keep what is shown; the caption that only a screen reader reads repeats the heading."""
        names = [name for name, _ in self._open]
        if not {"style", "head", "svg"} & set(names) and not any(
            found.get("class") == "unseen" for _, found in self._open
        ):
            self.texts.append(data)
        if (
            self.headings
            and names
            and names[-1] != "section"
            and any(name[0] == "h" and name[1:].isdigit() for name in names)
        ):
            self.headings[-1] = self.headings[-1]._replace(text=self.headings[-1].text + data)

    def handle_comment(self, data: str) -> None:
        """Note that there is one: ours have none, so it came from elsewhere."""
        self.wrong.append(f"a comment: {data}")

    def handle_pi(self, data: str) -> None:
        """Note an instruction."""
        self.wrong.append(f"an instruction: {data}")

    def _check(self, tag: str, attrs: list[tuple[str, str | None]], found: dict[str, str | None]) -> None:
        parents = [name for name, _ in self._open]
        if tag not in ALLOWED:
            self.wrong.append(f"<{tag}> is not allowed")
        if len(found) < len(attrs):
            self.wrong.append(f"an attribute twice on <{tag}>")
        for name, value in found.items():
            asks = name in ("src", "href", "action", "srcset", "xlink:href", "background")
            if name.startswith("on") or value is None or (asks and (tag, value) != ("link", "data:,")):
                self.wrong.append(f"<{tag} {name}={value!r}>")
            if "://" in (value or "") and value not in ADDRESSES:
                self.wrong.append(f"an address: {value}")
        if tag == "caption" and parents[-1] != "table":
            self.wrong.append("a caption outside of a table")
        if tag == "th" and found.get("scope") not in ("col", "row"):
            self.wrong.append("a head cell without a scope")
        if tag == "svg" and found.get("role") != "img":
            self.wrong.append("a picture without its role")


def tables_without_caption(text: str) -> list[str]:
    """Tables whose first child is no caption with words."""
    found = ElementTree.fromstring(text).iter("{http://www.w3.org/1999/xhtml}table")
    return [
        ElementTree.tostring(table, "unicode")[:80]
        for table in found
        if not (table[0].tag.endswith("caption") and table[0].text)
    ]


def pictures(text: str) -> list[ElementTree.Element]:
    """Every picture of a document."""
    return [*ElementTree.fromstring(text).iter("{http://www.w3.org/2000/svg}svg")]
