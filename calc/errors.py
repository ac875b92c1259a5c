"""The ways a calculation can decline to answer, and the sentence that tells it; never a crash."""

from __future__ import annotations


class UnreadableQuantity(ValueError):
    """Typed text that cannot be read as the quantity asked for; the message is a sentence for the reader."""


class Told(str):
    """A sentence for the reader about an answer; a plain text wherever only words are wanted.

    ``offers`` are ready answers to choose from: (words, text to type) each. ``others`` are the answers that it may as
    well be the fault of, with the sentence to say there ("" for the same one): the reader is told beside what was
    typed, not beside a default that nobody looked at.
    """

    offers: tuple[tuple[str, str], ...]
    others: tuple[tuple[str, str], ...]

    def __new__(cls, sentence: str, offers: tuple[tuple[str, str], ...] = (),
                others: tuple[tuple[str, str], ...] = ()) -> Told:
        """The sentence with what goes with it."""
        told = super().__new__(cls, sentence)
        told.offers, told.others = offers, others
        return told


class OutOfRange(ValueError):
    """A relation was asked outside its range of validity; the message names the quantity and the range."""


class Unanswered(Exception):
    """A step needs an input or an earlier result that is not there; ``keys`` says which."""

    def __init__(self, *keys: str):
        super().__init__(", ".join(keys))
        self.keys = keys


class Pending(Exception):
    """Somebody looked at a topic that a walk through some of them has left out for now; ``topic`` says which."""

    def __init__(self, topic: str):
        super().__init__(topic)
        self.topic = topic


class Incomplete(TypeError):
    """A declaration lacks something; the message tells who writes it what to add, and where."""
