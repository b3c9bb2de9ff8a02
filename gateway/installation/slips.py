"""One value's fault, found where its file and line are not known yet."""


def continued(remedy: str) -> str:
    """A remedy that stood as a sentence of its own, to go on after a semicolon."""
    return remedy[:1].lower() + remedy[1:]


class Slip(ValueError):
    """problem: what is wrong with the value. remedy: what to write instead. A ValueError, so that the models of the
    files may raise it while they read a value."""

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(f"{problem}; {remedy}")
        self.problem, self.remedy = problem, remedy
