"""What the edits of a kit changed since it was saved: keys, sums, parts and findings."""

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.kitfile.differences import differences
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.read import resolve_at
from kitbuilder.kitfile.reader import parse_as
from kitbuilder.plans.side_by_side import set_side_by_side
from kitbuilder.report.compare import changes_page
from kitbuilder.report.comparison import Comparison
from kitbuilder.report.page import Page, text


def changes_since(document: Document, edited: Assessment) -> Page:
    """Build the page of what changed in a kit since it was saved.

    Args:
        document: The kit.
        edited: The same as edited, worked out.
    """
    saved = parse_as(document.saved_text, document.file)
    if saved.kit is None:
        return Page([text("The file as it was saved cannot be read as a kit.")])
    before = assess(resolve_at(document.path, saved.kit, saved.lines))
    name = document.path.name
    changes = differences(saved, document.reading)
    return changes_page(Comparison(set_side_by_side([before, edited]), (name, name), changes))
