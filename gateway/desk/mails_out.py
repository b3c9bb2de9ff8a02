"""The installer's trouble goes by mail as well, and what became of each mail."""

from gateway.desk.turn import Recorder
from gateway.telling.facts import MailEnded
from gateway.vocabulary.entries import INSTALLATION
from gateway.vocabulary.happenings import MailAnswered


def mail_answered(rec: Recorder, happening: MailAnswered) -> None:
    """The mail server has a mail, or it was given up: kept."""
    rec.note(INSTALLATION, MailEnded(order=happening.order, taken=happening.taken, detail=happening.detail))
