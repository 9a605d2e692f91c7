"""Messages about unsaved edits that are not kept as usual, or that another running app has too."""

from typing import Any

from textual.screen import Screen

from kitbuilder.foreign import visible
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.journal import News


def tell_news(screen: Screen[Any], document: Document) -> None:
    """Say what is new about where the unsaved edits of a document are; each piece of news is said once."""
    for news in document.take_news():
        title, text = _words(news, document)
        screen.notify(text, title=title, severity="warning", markup=False, timeout=15)


def _words(news: News, document: Document) -> tuple[str, str]:
    folder = visible(str(document.path.parent.absolute()))
    match news:
        case News.OTHER_APP:
            return "Also open elsewhere", (
                f"Another running kitbuilder has edits of {visible(document.path.name)} that are not saved. "
                "Save or discard them there before you edit here. Each of the two keeps its own edits until then."
            )
        case News.OTHER_FOLDER:
            kept = document.journal.kept
            where = visible(str(kept.parent)) if kept else ""
            return "This folder cannot be written", (
                f"Nothing can be saved in {folder}. Until you save, your edits are kept in {where}. "
                "S saves in another folder."
            )
        case News.NOWHERE:
            return "Unsaved edits are not kept", (
                f"Neither {folder} nor the folder for the state of programs can be written. A crash would lose your "
                "edits. S saves in another folder."
            )
