"""The three ways a calculation can decline to answer, each a value for the reader, never a crash."""


class UnreadableQuantity(ValueError):
    """Typed text that cannot be read as the quantity asked for; the message is a sentence for the reader."""


class OutOfRange(ValueError):
    """A relation was asked outside its range of validity; the message names the quantity and the range."""


class Unanswered(Exception):
    """A step needs an input or an earlier result that is not there; ``keys`` says which."""

    def __init__(self, *keys: str):
        super().__init__(", ".join(keys))
        self.keys = keys
