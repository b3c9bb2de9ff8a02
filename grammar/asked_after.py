"""One thing that is measured, named with one more word ("battery voltage?"): the question after it, as it is printed.
Nothing is carried out by a question, so it may be offered where a phrase could not."""

from collections.abc import Mapping

from grammar.answers import would_mislead

_ACTIONS = frozenset(["start", "stop", "on", "off", "open", "close", "shut", "run", "an", "aus", "ein", "auf", "zu"])
"""With one of these somebody wants it switched, or says that it is, in any language; what is measured cannot be."""


def asked_after(text: str, questions: Mapping[str, str], misleading: frozenset[str] = frozenset()) -> str | None:
    """questions: folded name -> question. misleading: as in Language. None for anything else."""
    plain = text.rstrip(" ?!.")
    for name in sorted(questions, key=len, reverse=True):
        behind, before = plain.removeprefix(f"{name} "), plain.removesuffix(f" {name}")
        word = behind if behind != plain else before if before != plain else ""
        if word.isalpha() and word not in _ACTIONS and not would_mislead(plain, misleading):
            return questions[name]
    return None
