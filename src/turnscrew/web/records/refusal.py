"""What do the records say when they will not do something?"""

from turnscrew.errors import TurnscrewError


class RefusedError(TurnscrewError):
    """The records stay as they are; every reason is told."""

    def __init__(self, *reasons: str) -> None:
        super().__init__("; ".join(reasons))
        self.reasons = reasons
