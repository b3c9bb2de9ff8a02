"""The name that was probably meant."""

import difflib
from collections.abc import Iterable


def did_you_mean(written: str, names: Iterable[str]) -> str:
    """``did you mean "callout"?``, or the list of what there is when nothing is near."""
    known = sorted(set(names))
    near = difflib.get_close_matches(written, known, n=1)
    if near:
        return f'did you mean "{near[0]}"?'
    if not known:
        return "there is none yet"
    shown = ", ".join(known[:12])
    return f"there are: {shown}" + (" and others" if len(known) > 12 else "")
