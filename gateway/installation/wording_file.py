"""wording.toml: the installer's own wordings of kinds of text. The file may be missing; then every text is ours."""

from typing import Any

from pydantic import Field

from gateway.installation.kinds import Text
from gateway.installation.shape import Strict


class WordingTable(Strict):
    """[text.en."alarm told"]. parts: what is said, in order, each with at most one place in braces. gives_way: those of
    the parts that are shortened, then dropped, before all others; the first of them first."""

    parts: list[Text] = Field(examples=['["{boat}", ": {what}", " {since}", ". Reply HAVE IT {number}"]'])
    gives_way: list[Text] = Field(default=[])


class WordingFile(Strict):
    """The whole file: by language, then by kind of text as `heavingline words` lists them; each a WordingTable, which
    is held against its model by itself, so that the mistakes of one do not hide those of another."""

    text: dict[str, dict[str, dict[str, Any]]] = Field(examples=['a table [text.en."alarm told"]'])
