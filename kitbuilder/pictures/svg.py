"""Elements of SVG: each closed, with its text visible and escaped, so that a page of HTML or XML can hold it."""

from collections.abc import Sequence
from xml.sax.saxutils import escape, quoteattr

from kitbuilder.foreign import visible

SVG = "http://www.w3.org/2000/svg"
PAPER, INK, QUIET, GRID = "#ffffff", "#1f2328", "#56616b", "#d5dbe0"
"""What drawings are drawn on, what their words are drawn with, those that explain, and lines that measure."""


def tag(name: str, content: str = "", **attributes: str) -> str:
    """Write an element with text in it."""
    return f"<{name}{_written(attributes)}>{escape(visible(content))}</{name}>"


def around(name: str, parts: Sequence[str], **attributes: str) -> str:
    """Write an element with other elements in it."""
    return "\n".join([f"<{name}{_written(attributes)}>", *parts, f"</{name}>"])


def drawing(parts: Sequence[str], size: tuple[int, int], title: str, said: str) -> str:
    """Write a whole picture on white paper, with its title, and with what it shows in words for those who listen."""
    width, height = size
    about = [tag("title", title), tag("desc", said)]
    paper = tag("rect", width="100%", height="100%", fill=PAPER)
    measures = {"width": str(width), "height": str(height), "viewBox": f"0 0 {width} {height}"}
    style = "font-family: sans-serif"
    return around("svg", [*about, paper, *parts], xmlns=SVG, role="img", style=style, **measures) + "\n"


def path(data: str, colour: str, wide: float, *, fill: str = "none", dash: str = "", css: str = "") -> str:  # noqa: PLR0913 - attributes of SVG
    """Write a line along the data of a path, with round ends and corners."""
    more = {"stroke-dasharray": dash} if dash else {}
    more |= {"class": css} if css else {}
    round_ends = {"stroke-linecap": "round", "stroke-linejoin": "round", "stroke-width": f"{wide:g}"}
    return tag("path", d=data, fill=fill, stroke=colour, **round_ends, **more)


def circle(x: float, y: float, radius: float, fill: str, stroke: str) -> str:
    """Write a circle with an edge."""
    more = {"stroke-width": "2"}
    return tag("circle", cx=f"{x:.1f}", cy=f"{y:.1f}", r=f"{radius:g}", fill=fill, stroke=stroke, **more)


def words_at(  # noqa: PLR0913 - attributes of SVG
    x: float,
    y: float,
    words: str,
    *,
    size: int,
    weight: str = "normal",
    colour: str = INK,
    anchor: str = "middle",
    css: str = "words",
) -> str:
    """Write words at a place."""
    styles = {"font-size": str(size), "font-weight": weight, "text-anchor": anchor, "class": css}
    return tag("text", words, x=f"{x:.1f}", y=f"{y:.1f}", fill=colour, **styles)


def _written(attributes: dict[str, str]) -> str:
    """Write attributes; a name that Python keeps for itself ends in an underscore, and a hyphen is one inside."""
    return "".join(f" {key.rstrip('_').replace('_', '-')}={quoteattr(value)}" for key, value in attributes.items())
