"""A standard that is built on another one: only what differs stands in it, as in a boat's own files.

So a firm keeps one long standard, and its kinds (24 V, another chemistry) are a page each.
"""

from gateway.installation.documents import Document
from gateway.installation.findings import Findings
from gateway.installation.folder import Folder
from gateway.installation.nearest import did_you_mean
from gateway.installation.standards import Whole

PREFIX, SUFFIX = "standard/", ".toml"


def chain_of(name: str, folder: Folder, findings: Findings) -> tuple[Document, ...] | None:
    """The standard called ``name`` with all that it is built on, the lowest first. None when one of them cannot be
    read, is missing, or is built on itself; each of these is a mistake, noted here or by whoever read the folder."""
    chain: list[Document] = []
    while True:
        document = folder.get(f"{PREFIX}{name}{SUFFIX}")
        if document is None:
            return None
        if document in chain:
            findings.mistake(
                Whole(document=chain[-1]), ("built_on",), "comes back to itself", "name a standard that stands lower"
            )
            return None
        chain.append(document)
        below = document.values.get("built_on")
        if below is None:
            return tuple(reversed(chain))
        if not isinstance(below, str) or not _is_there(below, document, folder, findings):
            return None
        name = below


def names_of(folder: Folder) -> list[str]:
    """The names of all standards that could be read."""
    return [each[len(PREFIX) : -len(SUFFIX)] for each in folder.documents if each.startswith(PREFIX)]


def _is_there(name: str, document: Document, folder: Folder, findings: Findings) -> bool:
    file = f"{PREFIX}{name}{SUFFIX}"
    if folder.get(file) is None:
        if file not in folder.broken:
            findings.mistake(
                Whole(document=document),
                ("built_on",),
                f"there is no file {file}",
                did_you_mean(name, names_of(folder)),
            )
        return False
    return True


def lists_of_standards(folder: Folder) -> frozenset[str]:
    """Keys of the call-out lists that alarms of any standard name, whether a boat is built on it or not."""
    named = set()
    for name, document in folder.documents.items():
        alarms = document.values.get("alarm", {}) if name.startswith("standard/") else {}
        for table in alarms.values() if isinstance(alarms, dict) else ():
            if isinstance(table, dict) and isinstance(table.get("callout"), str):
                named.add(table["callout"])
    return frozenset(named)
