"""Work for the processes of ``calc.command_line.lines`` that a test can make end, in a module that they can import."""

from __future__ import annotations

import os

from calc.command_line import lines


def work(number: int, line: lines.Line) -> str:
    """The line's answer, but for the lines that end the process which reads them."""
    if line == b"die":
        os._exit(3)
    return lines.answer_line(number, line)
