"""What doors raise: where, what is wrong, what to do."""


class DoorTrouble(Exception):
    """Base of all that a door raises on purpose: where, what is wrong, what to do."""

    def __init__(self, *, where: str, problem: str, remedy: str) -> None:
        super().__init__(f"{where}: {problem}. {remedy}.")
        self.where, self.problem, self.remedy = where, problem, remedy


class StoreTrouble(DoorTrouble):
    """The store cannot commit (disk full, read-only, damaged). Nothing of the batch is on disk."""


class StoreUnreadable(DoorTrouble):
    """The store's file is no store of ours, or is damaged."""


class StoreOfOthers(StoreUnreadable):
    """The file is sound, but no store of ours, or of a later release: nothing for us to put aside."""


class StoreTaken(DoorTrouble):
    """Another service holds the store."""


def kind_and_place(error: BaseException) -> str:
    """What an unforeseen error is and where it arose, such as ``KeyError in store/intake.py, line 12``. Its own words
    are left out: they may repeat a password, a number or a code."""
    step = error.__traceback__
    while step is not None and step.tb_next is not None:
        step = step.tb_next
    if step is None:
        return type(error).__name__
    file = "/".join(step.tb_frame.f_code.co_filename.split("/")[-2:])
    return f"{type(error).__name__} in {file}, line {step.tb_lineno}"
