"""The languages that persons may have."""

from collections.abc import Mapping

from grammar.german import GERMAN
from grammar.language import ENGLISH, Language

LANGUAGES: Mapping[str, Language] = {language.key: language for language in (ENGLISH, GERMAN)}
"""By key. English is the language of the grammar and of whoever has said no other."""
