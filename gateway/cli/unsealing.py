"""Sealed contents for those who have a right to them: as they are, but for the words of codes (design rule 13).

Our own texts spell a code as it was made, so only that is hidden in them, and a caution such as "do not go below" stays
whole. In what phones wrote, everything behind GO, DROP and PROVE is hidden: a mistyped try may be one letter from
the code.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from gateway.cli.masking import HIDDEN, Masks
from gateway.rehearsal.texting import codes_hidden
from gateway.vocabulary.entries import SealedPart, Written
from gateway.vocabulary.plain import Plain
from grammar.code_word_list import ALL_CODE_WORDS

FROM_A_PHONE = "text-received"
"""Kind of the entries whose sealed parts hold what somebody wrote to us."""


@dataclass(slots=True)
class Unsealing:
    """Hides code words in what was sealed, and nothing else."""

    masks: Masks = field(default_factory=Masks)

    def learn(self, record: Iterable[Written]) -> None:
        """Get to know every code of the record."""
        for written in record:
            self.masks.learn(part.content for part in written.parts if part is not None)

    def part(self, kind: str, part: SealedPart | None) -> Plain:
        """A sealed part, None when it was erased. One that held a code comes without its salt: with salt and hash the
        two words could be found by trying."""
        if part is None:
            return None
        content = self._hidden(kind, part.content)
        return {"salt": part.salt if content == part.content else None, "content": content}

    def _hidden(self, kind: str, content: Plain) -> Plain:
        if isinstance(content, Mapping):
            return {key: HIDDEN if key == "words" else self._hidden(kind, value) for key, value in content.items()}
        if isinstance(content, list | tuple):
            return [self._hidden(kind, item) for item in content]
        if not isinstance(content, str):
            return content
        if kind == FROM_A_PHONE:
            return self.masks.without_codes(content)
        return codes_hidden(self.masks.without_known_codes(content), ALL_CODE_WORDS)
